package storage

import (
	"errors"
	"fmt"

	bolt "go.etcd.io/bbolt"
)

// migration brings a job file from one schema to the next. It works on frozen
// codecs of its own, never on those of the day, and only within the
// transaction that it is handed.
type migration struct {
	to   uint64
	name string
	run  func(*bolt.Tx) error
}

// migrations is the ordered table. Schema 1 is the first, so it is empty; the
// first one to come takes {to: 2, ...}, and schema1.bellout in
// testdata/storage is the real file that it has to open.
func migrations() []migration { return nil }

// upgrade runs the migrations that a file needs, with the new schema written,
// in one transaction: either all of it is on disk afterwards, or nothing.
func upgrade(db *bolt.DB, from, to uint64, table []migration) error {
	return db.Update(func(tx *bolt.Tx) error {
		at := from
		for _, m := range table {
			if m.to <= at || m.to > to {
				continue
			}
			if m.to != at+1 {
				break
			}
			if err := m.run(tx); err != nil {
				return fmt.Errorf("%s: %w", m.name, err)
			}
			at = m.to
		}
		if at != to {
			return fmt.Errorf("there is no way from schema %d to %d", at, at+1)
		}
		b := tx.Bucket(bucketMeta())
		if b == nil {
			return errors.New("the migrations left no meta bucket")
		}
		if err := b.Put(keySchema(), seal(to)); err != nil {
			return err
		}
		// What was written must be readable before it is kept.
		_, err := readLog(tx)
		return err
	})
}
