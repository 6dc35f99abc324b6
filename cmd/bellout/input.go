package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"bellout/storage"
)

// How much of a file is read at most: a little more than its reader would take,
// which says then in its own words that it is too large.
const (
	maxDescription = 4 << 20
	maxPlan        = 4 << 20
	maxMap         = 16 << 20
)

// openInput opens a file to be read, or standard input for "-".
func openInput(w *world, path string) (io.ReadCloser, error) {
	if path == "-" {
		return io.NopCloser(w.in), nil
	}
	f, err := openPlain(path)
	var p *problem
	if err == nil || errors.As(err, &p) {
		return f, err
	}
	return nil, &problem{code: exitFailed, text: fmt.Sprintf("reading %s: %v", path, storage.Reason(err)),
		hint: "check the name and the folder", err: err}
}

// readInput reads a whole file, or standard input for "-".
func readInput(w *world, path string, most int64) ([]byte, error) {
	f, err := openInput(w, path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return readAll(f, path, most)
}

// readBeside reads a file that another one names.
func readBeside(path string) ([]byte, error) {
	f, err := openPlain(path)
	if err != nil {
		return nil, storage.Reason(err)
	}
	defer f.Close()
	return readAll(f, path, maxMap)
}

// readAll reads to the end, and refuses what has none.
func readAll(r io.Reader, path string, most int64) ([]byte, error) {
	text, err := io.ReadAll(io.LimitReader(r, most+1))
	if err != nil {
		return nil, &problem{code: exitFailed, text: fmt.Sprintf("reading %s: %v", path, storage.Reason(err)),
			hint: "check the file and the disk that it is on", err: err}
	}
	if int64(len(text)) > most {
		return nil, inputProblem(fmt.Sprintf("%s is larger than %d MB, which no file of this kind is", path, most>>20), "check the name")
	}
	return text, nil
}

// openPlain opens a file for reading. What is no plain file is refused before
// it is opened: a pipe would wait for a writer, a device may have no end.
func openPlain(path string) (*os.File, error) {
	st, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if st.IsDir() {
		return nil, &problem{code: exitFailed, text: path + " is a folder", hint: "name a file in it"}
	}
	if !st.Mode().IsRegular() {
		return nil, &problem{code: exitFailed, text: path + " is a " + special(st.Mode()) + " and no plain file",
			hint: "copy what it holds into a plain file and name that"}
	}
	return os.Open(path)
}

// special names what is neither a plain file nor a folder.
func special(mode os.FileMode) string {
	switch {
	case mode&os.ModeSymlink != 0:
		return "link"
	case mode&os.ModeNamedPipe != 0:
		return "pipe"
	case mode&os.ModeSocket != 0:
		return "socket"
	case mode&os.ModeDevice != 0:
		return "device"
	}
	return "special file"
}
