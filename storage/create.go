package storage

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	bolt "go.etcd.io/bbolt"

	"bellout/mapping"
)

// Create makes a new job file with its title as the first entry, and the
// folder if need be, and opens it. A file that is there already is refused;
// so is a name beside which the log or the backup of a lost job still stands.
func Create(path, title string) (*Store, error) {
	return create(path, []mapping.Entry{{Seq: 1, Title: &mapping.Title{Name: title}}}, defaults())
}

// Restore makes a new job file of the entries of an archive and opens it.
func Restore(path string, entries []mapping.Entry) (*Store, error) {
	return create(path, entries, defaults())
}

func create(path string, entries []mapping.Entry, set settings) (*Store, error) {
	if err := makeFile(path, entries, set); err != nil {
		return nil, classify(path, err)
	}
	return open(path, set)
}

// makeFile makes the file under a temporary name and gives it its own name
// when it is whole, so that an empty file is always damage.
func makeFile(path string, entries []mapping.Entry, set settings) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return notFolder(err)
	}
	if _, err := os.Lstat(path); err == nil {
		return fail(ErrExists, path, nil)
	} else if !errors.Is(err, fs.ErrNotExist) {
		return notFolder(err)
	}
	if spare := spares(path); spare != "" {
		return fail(ErrExists, path, fmt.Errorf("%s of a lost job of this name is there: rebuild that job, or move its file away", spare))
	}
	f, err := os.CreateTemp(filepath.Dir(path), tempPattern(path))
	if err != nil {
		return err
	}
	temp := f.Name()
	err = f.Close()
	if err == nil {
		err = guarded(path, func() error { return fill(temp, path, entries, set) })
	}
	if err == nil {
		err = settle(temp, path)
	}
	return errors.Join(err, ignoreMissing(os.Remove(temp)))
}

// fill writes a whole job into an empty file: marks, schema and entries in one
// transaction. The path is the one that the file will have.
func fill(temp, path string, entries []mapping.Entry, set settings) (err error) {
	db, err := bolt.Open(temp, fileMode, bboltOptions(set.maxSize))
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	return db.Update(func(tx *bolt.Tx) error {
		meta, err := tx.CreateBucket(bucketMeta())
		if err != nil {
			return err
		}
		if _, err := tx.CreateBucket(bucketLog()); err != nil {
			return err
		}
		if err := meta.Put(keyKind(), []byte(kindText)); err != nil {
			return err
		}
		if err := meta.Put(keySchema(), seal(set.schema)); err != nil {
			return err
		}
		if err := meta.Put(keyCount(), seal(0)); err != nil {
			return err
		}
		s := &Store{path: path, job: emptyJob()}
		_, _, err = s.put(tx, entries, true)
		return err
	})
}

// settle gives a file its name without ever replacing another. A link cannot
// replace; where the file system has none the name is looked at once more.
func settle(temp, path string) error {
	err := os.Link(temp, path)
	switch {
	case errors.Is(err, fs.ErrExist):
		return fail(ErrExists, path, err)
	case err != nil:
		if _, serr := os.Lstat(path); serr == nil {
			return fail(ErrExists, path, nil)
		}
		if err := os.Rename(temp, path); err != nil {
			return err
		}
	}
	return syncFolder(filepath.Dir(path))
}

// notFolder names the case of a path that leads through a file.
func notFolder(err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) && isNotFolder(err) {
		return fail(ErrReadOnly, pe.Path, err)
	}
	return err
}
