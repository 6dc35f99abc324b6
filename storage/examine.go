package storage

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"time"

	"bellout/mapping"
)

const (
	kindText = "bellout job"

	// CurrentSchema is the version of the key tree that this program writes.
	CurrentSchema = 1

	// maxFile is far more than the log of a year; a larger file is none of ours.
	maxFile = 1 << 28

	// The file is read without its lock. Where another process writes at that
	// very moment a page may look torn, so damage counts only when nothing has
	// changed between two looks.
	looks     = 5
	lookAgain = 10 * time.Millisecond
)

func bucketMeta() []byte { return []byte("meta") }
func bucketLog() []byte  { return []byte("log") }
func keyKind() []byte    { return []byte("kind") }
func keySchema() []byte  { return []byte("schema") }
func keyCount() []byte   { return []byte("count") }

// findings is what a look at a file shows.
type findings struct {
	schema  uint64
	entries []mapping.Entry // of the current schema only
}

// examine reads a file without opening it in bbolt, without locking it and
// without changing it. It returns an error for anything that should not be
// opened; findings hold what was read up to there. An older schema is no error.
func examine(path string, schema uint64) (findings, error) {
	var before []byte
	for i := 0; ; i++ {
		b, err := readFile(path)
		if err != nil {
			return findings{}, err
		}
		f, err := examineBytes(b, schema)
		if err == nil {
			return f, nil
		}
		if errors.Is(err, ErrNewer) || bytes.Equal(b, before) || i == looks {
			return f, fail(kindOf(err, ErrDamaged), path, err)
		}
		before = b
		time.Sleep(lookAgain)
	}
}

// readFile reads a whole file that may be a job.
func readFile(path string) ([]byte, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if spare := spares(path); spare != "" {
			err = fmt.Errorf("%s is still there: rebuild the job from it", spare)
		}
		return nil, fail(ErrMissing, path, err)
	case err != nil && isNotFolder(err):
		return nil, fail(ErrMissing, path, err)
	case err != nil:
		return nil, classify(path, err)
	case !info.Mode().IsRegular():
		return nil, fail(ErrNotOurs, path, errors.New("it is no plain file"))
	case info.Size() == 0:
		return nil, fail(ErrDamaged, path, errors.New("it is empty"))
	case info.Size() > maxFile:
		return nil, fail(ErrNotOurs, path, fmt.Errorf("it has %d bytes", info.Size()))
	}
	b, err := os.ReadFile(path)
	return b, classify(path, err)
}

// spares names what stands beside a job file that is not there.
func spares(path string) string {
	for _, p := range []string{logPath(path), backupPath(path)} {
		if _, err := os.Stat(p); err == nil {
			return fmt.Sprintf("%q", p)
		}
	}
	return ""
}

func kindOf(err error, otherwise Kind) Kind {
	var k Kind
	if errors.As(err, &k) {
		return k
	}
	return otherwise
}

// because is a cause that carries its kind.
type because struct {
	kind Kind
	text string
}

func (b because) Error() string { return b.text }
func (b because) Unwrap() error { return b.kind }

func examineBytes(b []byte, schema uint64) (findings, error) {
	var f findings
	im, err := openImage(b)
	if errors.Is(err, errNoBolt) {
		return f, because{ErrNotOurs, err.Error()}
	}
	if err != nil {
		return f, err
	}
	// The tree is walked to its end before anything is made of it, so that a
	// newer file and a foreign one are named only if they are whole.
	var kind, version, count []byte
	var keys, records [][]byte
	err = im.walk(func(path []string, key, value []byte) error {
		switch {
		case len(path) == 1 && path[0] == string(bucketMeta()) && bytes.Equal(key, keyKind()):
			kind = value
		case len(path) == 1 && path[0] == string(bucketMeta()) && bytes.Equal(key, keySchema()):
			version = value
		case len(path) == 1 && path[0] == string(bucketMeta()) && bytes.Equal(key, keyCount()):
			count = value
		case len(path) == 1 && path[0] == string(bucketLog()):
			keys, records = append(keys, key), append(records, value)
		}
		return nil
	})
	foreign := because{ErrNotOurs, "it is a bbolt file of something else"}
	switch {
	case errors.Is(err, errNested) && kind == nil && records == nil:
		return f, foreign // other programs do nest buckets
	case err != nil:
		return f, err
	case string(kind) != kindText:
		return f, foreign
	}
	if f.schema, err = unseal(version); err != nil {
		return f, fmt.Errorf("its version: %w", err)
	}
	if f.schema > schema {
		return f, because{ErrNewer, fmt.Sprintf("its schema is %d, this bellout knows %d", f.schema, schema)}
	}
	if f.schema < schema {
		return f, nil
	}
	for i, key := range keys {
		e, err := decodeRecord(key, records[i])
		if err != nil {
			return f, err
		}
		f.entries = append(f.entries, e)
	}
	return f, checkCount(count, len(f.entries))
}

func checkCount(sealed []byte, entries int) error {
	n, err := unseal(sealed)
	if err != nil {
		return fmt.Errorf("its count of entries: %w", err)
	}
	if n != uint64(entries) {
		return fmt.Errorf("%d of its %d entries are there", entries, n)
	}
	return nil
}

// Read gives the entries of a job without opening it for writing: of a job
// that another bellout has open, or on a disk that cannot be written.
func Read(path string) ([]mapping.Entry, error) {
	f, err := examine(path, CurrentSchema)
	if err != nil {
		return nil, err
	}
	if f.schema != CurrentSchema {
		return nil, fail(ErrUpgrade, path, fmt.Errorf("its schema is %d: open it for writing once", f.schema))
	}
	return f.entries, nil
}
