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
	path  string // empty or "-": standard output
	force bool   // a file that is there already is replaced
	paper bool   // so it is if it is paper, which can be made again
}

// isPaper says whether a file may be replaced without asking: it has a form
// that only goes on paper, and is neither an archive nor something typed.
func isPaper(path string) bool {
	switch strings.ToLower(filepath.Ext(path)) {
	case ".pdf", ".html", ".md", ".csv", ".txt":
		return !isArchive(path)
	case ".json":
		// A description of a pod or a map has the same ending as a pinout.
		text, err := os.ReadFile(path)
		return err == nil && bytes.Contains(text, []byte(`"drawn_from":`))
	}
	return false
}

// write runs make on the output. A file is written beside its place, brought
// to the disk and renamed, so that a full disk or a kill leaves what was there.
func (o output) write(w *world, make func(io.Writer) error) error {
	if o.path == "" || o.path == "-" {
		return make(w.out)
	}
	if strings.Contains(filepath.Base(o.path), storage.Extension) {
		return usageProblem(o.path+" is the name of a job", "choose a name without "+storage.Extension+": nothing is ever written over a job")
	}
	if !o.force {
		if _, err := os.Lstat(o.path); err == nil && !(o.paper && isPaper(o.path)) {
			return &problem{code: exitFailed, text: fmt.Sprintf("%s is there already", o.path),
				hint: "choose another name, or add --force to replace it"}
		}
	}
	err := writeFile(o.path, make)
	var p *problem
	if err == nil || errors.As(err, &p) {
		return err
	}
	hint := "free some space or choose another folder; what was there before is untouched"
	switch {
	case errors.Is(err, fs.ErrNotExist):
		hint = "make the folder first, or choose another one"
	case errors.Is(err, fs.ErrPermission):
		hint = "choose a folder that you may write to"
	}
	return &problem{code: exitFailed, text: fmt.Sprintf("writing %s: %v", o.path, cause(err)), hint: hint, err: err}
}

// cause is an error without the temporary name that it speaks of.
func cause(err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}

func writeFile(path string, make func(io.Writer) error) (err error) {
	dir := filepath.Dir(path)
	f, err := os.CreateTemp(dir, ".bellout-*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	if err = make(f); err != nil {
		return err
	}
	if err = f.Chmod(0o644); err != nil {
		return err
	}
	if err = f.Sync(); err != nil {
		return err
	}
	if err = f.Close(); err != nil {
		return err
	}
	if err = os.Rename(f.Name(), path); err != nil {
		return err
	}
	syncFolder(dir)
	return nil
}

// syncFolder makes the rename itself last. Where a folder cannot be synced
// (Windows), the system does without.
func syncFolder(dir string) {
	if d, err := os.Open(dir); err == nil {
		_ = d.Sync()
		d.Close()
	}
}
