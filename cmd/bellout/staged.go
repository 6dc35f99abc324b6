package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// staged is a file that stands beside its place, whole and on the disk, so that
// a full disk or a kill leaves what was there.
type staged struct {
	temp, path string
}

// stage writes a file beside its place. It may be read by whom the builder's
// umask lets read it, or by those who may read what it replaces.
func stage(path string, content []byte) (s staged, err error) {
	f, err := createBeside(path)
	if err != nil {
		return staged{}, err
	}
	s = staged{f.Name(), path}
	if st, serr := os.Stat(path); serr == nil {
		err = f.Chmod(st.Mode().Perm())
	}
	if err == nil {
		_, err = f.Write(content)
	}
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		s.drop()
		return staged{}, err
	}
	return s, nil
}

// createBeside makes a new file in the folder of a path. os.CreateTemp would
// keep it from everybody else whatever the umask says.
func createBeside(path string) (*os.File, error) {
	for i := 0; ; i++ {
		name := filepath.Join(filepath.Dir(path), fmt.Sprintf(".bellout-%d-%d", os.Getpid(), i))
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
		if !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
}

// settle gives the file its name.
func (s staged) settle() error {
	if err := os.Rename(s.temp, s.path); err != nil {
		return err
	}
	// The rename itself is to last. Where a folder cannot be synced (Windows),
	// the system does without.
	if d, err := os.Open(filepath.Dir(s.path)); err == nil {
		_ = d.Sync()
		d.Close()
	}
	return nil
}

// drop takes the file away; it is of no use without its name.
func (s staged) drop() {
	if s.temp != "" {
		_ = os.Remove(s.temp)
	}
}
