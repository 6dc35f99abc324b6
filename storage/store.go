package storage

import (
	"encoding/binary"
	"errors"
	"fmt"
	"os"
	"sync"
	"time"

	bolt "go.etcd.io/bbolt"

	"bellout/mapping"
)

// lockWait is how long Open waits for another process to let go of the file.
const lockWait = time.Second

// Store is an open job file. Its methods may be called from any goroutine.
type Store struct {
	path    string
	mu      sync.Mutex
	db      *bolt.DB     // nil once closed
	job     *mapping.Job // what the log amounts to; nil if it does not fold
	log     *textLog
	broken  error // a panic that was caught: the file is not used any more
	healed  int
	changed bool
}

// settings are what tests change.
type settings struct {
	schema     uint64
	migrations []migration
	maxSize    int
}

func defaults() settings {
	return settings{schema: CurrentSchema, migrations: migrations()}
}

// Open opens a job file for writing, and waits up to a second where another
// process has it. A file that is newer, damaged or none of ours is refused
// with advice, and no byte of it is changed.
func Open(path string) (*Store, error) { return open(path, defaults()) }

func open(path string, set settings) (*Store, error) {
	// bbolt is let near the file only once every page has been checked.
	f, err := examine(path, set.schema)
	if err != nil {
		return nil, err
	}
	s := &Store{path: path}
	if err := guarded(path, func() error { return s.open(f.schema, set) }); err != nil {
		// After a caught panic bbolt may still hold the lock: leave it be.
		if _, caught := errors.AsType[panicError](err); !caught && s.db != nil {
			err = errors.Join(err, s.db.Close())
		}
		return nil, classify(path, err)
	}
	sweepTemps(path)
	entries, err := s.Entries()
	if err != nil {
		return nil, errors.Join(err, s.db.Close())
	}
	if err := s.openLog(entries); err != nil {
		return nil, errors.Join(err, s.db.Close())
	}
	return s, nil
}

// bboltOptions never turn off a sync, and never make a file.
func bboltOptions(maxSize int) *bolt.Options {
	return &bolt.Options{
		Timeout: lockWait, FreelistType: bolt.FreelistArrayType, NoStatistics: true, MaxSize: maxSize,
		OpenFile: func(name string, flag int, mode os.FileMode) (*os.File, error) {
			return os.OpenFile(name, flag&^os.O_CREATE, mode)
		},
	}
}

func (s *Store) open(schema uint64, set settings) error {
	var err error
	if s.db, err = bolt.Open(s.path, fileMode, bboltOptions(set.maxSize)); err != nil {
		return err
	}
	if err := s.check(); err != nil {
		return fail(ErrDamaged, s.path, err)
	}
	if schema == set.schema {
		return nil
	}
	if err := s.backUp(); err != nil {
		return err
	}
	err = guarded(s.path, func() error { return upgrade(s.db, schema, set.schema, set.migrations) })
	if err != nil && !isFull(err) {
		// bbolt rolled the transaction back on the way, so that what was caught
		// is the migration's panic and no harm to the file.
		if p, caught := errors.AsType[panicError](err); caught {
			err = errors.New(p.Error())
		}
		return fail(ErrUpgrade, s.path, err)
	}
	s.changed = s.changed || err == nil
	return err
}

// usable says why the store cannot be used, if so.
func (s *Store) usable() error {
	if s.db == nil {
		return fail(ErrClosed, s.path, nil)
	}
	return s.broken
}

// check is bbolt's own, before the first write. The first finding will do.
func (s *Store) check() error {
	return s.db.View(func(tx *bolt.Tx) error {
		var first error
		for err := range tx.Check() { // to the end, or its goroutine is left behind
			if first == nil {
				first = err
			}
		}
		return first
	})
}

// Healed is the number of entries that had been acknowledged and were found in
// the text log only, and that Open put back.
func (s *Store) Healed() int { return s.healed }

// Entries gives the whole log, in order.
func (s *Store) Entries() ([]mapping.Entry, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.usable(); err != nil {
		return nil, err
	}
	var out []mapping.Entry
	err := guarded(s.path, func() error {
		return s.db.View(func(tx *bolt.Tx) error {
			var err error
			out, err = readLog(tx)
			if err != nil {
				return fail(ErrDamaged, s.path, err)
			}
			return nil
		})
	})
	return out, classify(s.path, err)
}

func readLog(tx *bolt.Tx) ([]mapping.Entry, error) {
	b, meta := tx.Bucket(bucketLog()), tx.Bucket(bucketMeta())
	if b == nil || meta == nil {
		return nil, errors.New("it has no log")
	}
	var out []mapping.Entry
	err := b.ForEach(func(key, rec []byte) error {
		e, err := decodeRecord(key, rec)
		out = append(out, e)
		return err
	})
	if err == nil {
		err = checkCount(meta.Get(keyCount()), len(out))
	}
	return out, err
}

// Append puts entries at the end of the log, all in one transaction, and
// returns them as they will be read back: numbered, a reading and a sweep
// bearing the number of their entry. When it returns they are on disk; when it
// returns an error none of them is. An entry with which the job could not be
// computed any more (about a pod that was never described) is refused. The
// caller's entries are left as they are.
func (s *Store) Append(entries ...mapping.Entry) ([]mapping.Entry, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.usable(); err != nil {
		return nil, err
	}
	var kept []mapping.Entry
	var lines [][]byte
	err := guarded(s.path, func() error {
		return s.db.Update(func(tx *bolt.Tx) error {
			var err error
			kept, lines, err = s.put(tx, entries, false)
			return err
		})
	})
	if err != nil {
		if _, caught := errors.AsType[panicError](err); caught {
			s.broken = err
		} else {
			s.refold()
		}
		return nil, classify(s.path, err)
	}
	s.changed = s.changed || len(kept) > 0
	s.log.write(lines)
	return kept, nil
}

// put writes entries into a transaction, numbered from the last on, or under
// the numbers they have.
func (s *Store) put(tx *bolt.Tx, entries []mapping.Entry, numbered bool) ([]mapping.Entry, [][]byte, error) {
	b, meta := tx.Bucket(bucketLog()), tx.Bucket(bucketMeta())
	if b == nil || meta == nil {
		return nil, nil, fail(ErrDamaged, s.path, errors.New("it has no log"))
	}
	count, err := unseal(meta.Get(keyCount()))
	if err != nil {
		return nil, nil, fail(ErrDamaged, s.path, err)
	}
	var last uint64
	if key, _ := b.Cursor().Last(); key != nil {
		last = binary.BigEndian.Uint64(key)
	}
	kept, lines := make([]mapping.Entry, 0, len(entries)), make([][]byte, 0, len(entries))
	for _, e := range entries {
		if !numbered {
			e.Seq = last + 1
		}
		if e.Seq <= last {
			return nil, nil, fail(ErrEntry, s.path, fmt.Errorf("entry %d comes after entry %d", e.Seq, last))
		}
		last = e.Seq
		payload, err := encodePayload(e)
		if err != nil {
			return nil, nil, fail(ErrEntry, s.path, err)
		}
		// The caller gets what was written, not what was meant.
		back, err := decodePayload(payload)
		if err != nil {
			return nil, nil, fail(ErrEntry, s.path, err)
		}
		if s.job != nil {
			if err := s.job.Apply(back); err != nil {
				return nil, nil, fail(ErrEntry, s.path, err)
			}
		}
		if err := b.Put(keyOf(e.Seq), encodeRecord(payload)); err != nil {
			return nil, nil, err
		}
		kept, lines = append(kept, back), append(lines, payload)
	}
	return kept, lines, meta.Put(keyCount(), seal(count+uint64(len(kept))))
}

func emptyJob() *mapping.Job {
	return &mapping.Job{Pods: map[mapping.PodKey]*mapping.PodWork{}}
}

// refold computes the job anew after a transaction that failed half-way.
func (s *Store) refold() {
	s.job = nil
	_ = guarded(s.path, func() error {
		return s.db.View(func(tx *bolt.Tx) error {
			entries, err := readLog(tx)
			if err == nil {
				s.job, _ = mapping.Fold(entries)
			}
			return err
		})
	})
}

// Close closes the file. If anything was written it makes the backup first; an
// error means that the backup could not be made, not that the job is harmed.
func (s *Store) Close() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.db == nil {
		return nil
	}
	var berr error
	if _, err := os.Stat(backupPath(s.path)); (err != nil || s.changed) && s.broken == nil {
		berr = guarded(s.path, s.backUp)
	}
	s.log.close()
	err := guarded(s.path, s.db.Close)
	s.db = nil
	return classify(s.path, errors.Join(berr, err))
}
