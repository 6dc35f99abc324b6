package storage

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	bolt "go.etcd.io/bbolt"
)

const fileMode = 0o600

func backupPath(path string) string { return path + ".bak" }
func logPath(path string) string    { return path + ".log" }

// backUp copies the job, through a read transaction, to the sibling file.
func (s *Store) backUp() error {
	err := s.db.View(func(tx *bolt.Tx) error {
		return replaceFile(backupPath(s.path), func(w io.Writer) error {
			_, err := tx.WriteTo(w)
			return err
		})
	})
	if err != nil {
		return fmt.Errorf("the job is whole, only its backup was not made: %w", classify(backupPath(s.path), err))
	}
	return nil
}

// replaceFile writes a file whole or not at all: a temporary one in the same
// folder, synced, renamed, the folder synced.
func replaceFile(path string, write func(io.Writer) error) error {
	f, err := os.CreateTemp(filepath.Dir(path), tempPattern(path))
	if err != nil {
		return err
	}
	err = write(f)
	if err == nil {
		err = f.Sync()
	}
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return errors.Join(err, ignoreMissing(os.Remove(f.Name())))
	}
	return syncFolder(filepath.Dir(path))
}

// tempPattern hides a file that is being made; ListJobs does not show it.
func tempPattern(path string) string { return "." + filepath.Base(path) + ".*.tmp" }

// sweepTemps takes away what a killed process left half made. It is called
// under the lock, when nobody else can be making a file of this job.
func sweepTemps(path string) {
	files, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		return
	}
	for _, of := range []string{path, backupPath(path), logPath(path)} {
		before, after, _ := strings.Cut(tempPattern(of), "*")
		for _, f := range files {
			n := f.Name()
			if len(n) > len(before)+len(after) && strings.HasPrefix(n, before) && strings.HasSuffix(n, after) &&
				strings.Trim(n[len(before):len(n)-len(after)], "0123456789") == "" {
				_ = os.Remove(filepath.Join(filepath.Dir(path), n))
			}
		}
	}
}

func ignoreMissing(err error) error {
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	return err
}
