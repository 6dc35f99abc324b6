package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"bellout/storage"
)

// output is where a command writes: standard output, or a file that is there
// whole or not at all.
type output struct {
	path  string   // empty or "-": standard output
	force bool     // a file that is there already is replaced
	makes fileKind // what is written; older paper is replaced even without force
	reads []string // the files that it is made from
}

func (o output) standard() bool { return o.path == "" || o.path == "-" }

// check says whether the file may be written: paper over paper, with force also
// over what is of its kind or none of ours, and never over anything else.
func (o output) check() error {
	if o.standard() {
		return nil
	}
	refuse := func(text, hint string) error {
		return &problem{code: exitFailed, text: o.path + " " + text, hint: hint}
	}
	if strings.Contains(filepath.Base(o.path), storage.Extension) {
		return usageProblem(o.path+" is the name of a job", "choose a name without "+storage.Extension+": nothing is ever written over a job")
	}
	folder := filepath.Dir(o.path)
	if st, err := os.Stat(folder); err == nil && !st.IsDir() {
		return &problem{code: exitFailed, text: folder + " is no folder", hint: "name a folder that is one, or make one of another name"}
	}
	st, err := os.Lstat(o.path)
	if err != nil {
		return nil // it is not there, or writing will say what is wrong
	}
	switch {
	case st.IsDir():
		return refuse("is a folder", "name a file in it")
	case !st.Mode().IsRegular():
		return refuse("is a "+special(st.Mode())+" and no plain file", "name a plain file, or - for standard output")
	}
	for _, path := range o.reads {
		if in, err := os.Stat(path); err == nil && os.SameFile(st, in) {
			return refuse("is there already, and is read for this", "choose another name: it is not replaced, not even with --force")
		}
	}
	kind := kindOf(o.path)
	switch {
	case kind == paperFile && o.makes == paperFile:
		return nil
	case kind == jobFile:
		return refuse("is there already, and is a job", "choose another name: nothing is ever written over a job")
	case kind != someFile && kind != paperFile && kind != o.makes:
		return refuse("is there already, and is "+kind.words(), "choose another name: it is not replaced, not even with --force")
	case o.force:
		return nil
	case o.makes == paperFile:
		return refuse("is there already, and is not known for older paper", "choose another name, or add --force to replace it")
	}
	return refuse("is there already", "choose another name, or add --force to replace it")
}

// write runs make on the output.
func (o output) write(w *world, make func(io.Writer) error) error {
	if o.standard() {
		return make(w.out)
	}
	_, err := writeAll(w, []draft{{o, make}})
	return err
}

// trouble puts in words why the file could not be written.
func (o output) trouble(err error) error {
	hint := "free some space or choose another folder; what was there before is untouched"
	switch {
	case errors.Is(err, fs.ErrNotExist):
		hint = "make the folder first, or choose another one"
	case errors.Is(err, fs.ErrPermission):
		hint = "choose a folder that you may write to"
	}
	return &problem{code: exitFailed, text: fmt.Sprintf("writing %s: %v", o.path, storage.Reason(err)), hint: hint, err: err}
}

// draft is one file of several that are written together.
type draft struct {
	to   output
	make func(io.Writer) error
}

// writeAll writes all or none, and says which it wrote: a name that is taken, a
// page that cannot be made and a full disk are found while every place is as it
// was. Only where the system fails to rename the one or other file, after that,
// have those before it changed.
func writeAll(w *world, files []draft) (wrote []string, err error) {
	for _, f := range files {
		if err := f.to.check(); err != nil {
			return nil, err
		}
	}
	// Nothing stands in the folder while a page is made, which may take long and
	// be stopped.
	content := make([]bytes.Buffer, len(files))
	for i, f := range files {
		if err := f.make(&content[i]); err != nil {
			return nil, err
		}
	}
	beside := make([]staged, len(files))
	defer func() {
		for _, s := range beside[len(wrote):] {
			s.drop()
		}
	}()
	for i, f := range files {
		if f.to.standard() {
			continue
		}
		if beside[i], err = stage(f.to.path, content[i].Bytes()); err != nil {
			return nil, f.to.trouble(err)
		}
	}
	for i, f := range files {
		switch {
		case f.to.standard():
			_, err = w.out.Write(content[i].Bytes())
		default:
			err = beside[i].settle()
		}
		if err != nil {
			return wrote, f.to.trouble(err)
		}
		wrote = append(wrote, f.to.path)
	}
	return wrote, nil
}
