package storage

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	bolt "go.etcd.io/bbolt"

	"bellout/mapping"
)

// The real files, one for each schema that was released and one from the
// future. They were written by the program of their day and are never written
// again (TestMakeOldJob).
const (
	realFiles  = "../testdata/storage"
	realSchema = "schema1.bellout"
	future     = "schema99.bellout"
)

func copyOf(t *testing.T, name string) string {
	t.Helper()
	return writeBytes(t, filepath.Join(t.TempDir(), "job"+Extension), readBytes(t, filepath.Join(realFiles, name)))
}

// TestRealFiles opens the real file of every released schema, and goes on
// writing in it.
func TestRealFiles(t *testing.T) {
	want := must(ReadArchive(bytes.NewReader(readBytes(t, filepath.Join(realFiles, "schema1.txt")))))(t)
	path := copyOf(t, realSchema)
	s := must(Open(path))(t)
	defer s.Close()
	if d := cmp.Diff(want, must(s.Entries())(t)); d != "" {
		t.Fatal(d)
	}
	job := must(mapping.Fold(want))(t)
	if job.Name != "old twin" || len(job.Pods[leftPod].Readings) != 3 || len(job.Pods[leftPod].Live()) != 2 {
		t.Fatalf("%+v", job)
	}
	if kept := must(s.Append(aReading(9)))(t); kept[0].Seq != want[len(want)-1].Seq+1 {
		t.Fatal(kept[0].Seq)
	}
}

func TestFromTheFuture(t *testing.T) {
	path := copyOf(t, future)
	before := readBytes(t, path)
	_, err := Open(path)
	wantKind(t, err, ErrNewer, path)
	if !strings.Contains(err.Error(), "99") {
		t.Fatal(err)
	}
	_, err = Read(path)
	wantKind(t, err, ErrNewer, path)
	if _, err = Rebuild(path, path+".new"); !errors.Is(err, ErrNewer) {
		t.Fatal(err)
	}
	if jobs := must(ListJobs(filepath.Dir(path)))(t); len(jobs) != 1 || jobs[0].State != JobNewer {
		t.Fatalf("%+v", jobs)
	}
	if !bytes.Equal(before, readBytes(t, path)) || len(must(os.ReadDir(filepath.Dir(path)))(t)) != 1 {
		t.Fatal("something was touched")
	}
}

// A made-up schema 2 for these tests: every record bears its title in capitals
// and the meta bucket says who did it. It runs over the real file.
func toTwo(tx *bolt.Tx) error {
	b := tx.Bucket(bucketLog())
	type change struct{ key, rec []byte }
	var changes []change
	err := b.ForEach(func(key, rec []byte) error {
		payload, err := openRecord(rec)
		if err != nil {
			return err
		}
		var fields map[string]json.RawMessage
		if err := json.Unmarshal(payload, &fields); err != nil {
			return err
		}
		if fields["title"] == nil {
			return nil
		}
		changes = append(changes, change{bytes.Clone(key), encodeRecord(bytes.Replace(payload, []byte("old twin"), []byte("OLD TWIN"), 1))})
		return nil
	})
	for _, c := range changes {
		err = errors.Join(err, b.Put(c.key, c.rec))
	}
	return err
}

func toThree(tx *bolt.Tx) error { return tx.Bucket(bucketMeta()).Put([]byte("by"), []byte("three")) }

func schemaOf(t *testing.T, path string) uint64 {
	t.Helper()
	return must(examine(path, 1000))(t).schema
}

func TestMigration(t *testing.T) {
	path := copyOf(t, realSchema)
	want := must(Read(path))(t)
	want[0].Title.Name = "OLD TWIN"
	s := must(open(path, settings{schema: 3, migrations: []migration{{2, "capitals", toTwo}, {3, "by", toThree}}}))(t)
	if d := cmp.Diff(want, must(s.Entries())(t)); d != "" {
		t.Fatal(d)
	}
	must(s.Append(aReading(0)))(t)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if v := schemaOf(t, path); v != 3 {
		t.Fatalf("schema %d", v)
	}
	_, err := Open(path) // for this program it is newer now
	wantKind(t, err, ErrNewer, path)
}

// TestMigrationBackup: the backup is made before the migration, of what was.
func TestMigrationBackup(t *testing.T) {
	path := copyOf(t, realSchema)
	want := must(Read(path))(t)
	s := must(open(path, settings{schema: 2, migrations: []migration{{2, "capitals", toTwo}}}))(t)
	defer s.Close()
	if d := cmp.Diff(want, must(Read(backupPath(path)))(t)); d != "" {
		t.Fatal(d)
	}
}

// TestFailedMigration: an error, a panic, a gap in the table, a migration that
// leaves something unreadable behind: the file stays as it is, to the byte.
func TestFailedMigration(t *testing.T) {
	spoil := func(rec []byte) func(*bolt.Tx) error {
		return func(tx *bolt.Tx) error { return tx.Bucket(bucketLog()).Put(keyOf(1), rec) }
	}
	for name, table := range map[string][]migration{
		"error":      {{2, "capitals", toTwo}, {3, "stops", func(*bolt.Tx) error { return errors.New("no") }}},
		"panic":      {{2, "capitals", toTwo}, {3, "breaks", func(*bolt.Tx) error { panic("out of cheese") }}},
		"gap":        {{3, "by", toThree}},
		"no table":   nil,
		"half way":   {{2, "capitals", toTwo}},
		"unreadable": {{2, "capitals", toTwo}, {3, "spoils", spoil([]byte("junk"))}},
		"loses one": {{2, "capitals", toTwo}, {3, "loses", func(tx *bolt.Tx) error {
			return tx.Bucket(bucketLog()).Delete(keyOf(1))
		}}},
		"no log": {{2, "capitals", toTwo}, {3, "drops", func(tx *bolt.Tx) error { return tx.DeleteBucket(bucketLog()) }}},
	} {
		t.Run(name, func(t *testing.T) {
			path := copyOf(t, realSchema)
			before := readBytes(t, path)
			_, err := open(path, settings{schema: 3, migrations: table})
			wantKind(t, err, ErrUpgrade, path)
			if !bytes.Equal(before, readBytes(t, path)) {
				t.Fatal("the file was changed")
			}
			s := must(Open(path))(t) // the old program still can, and no lock is left
			if err := s.Close(); err != nil {
				t.Fatal(err)
			}
		})
	}
}

// TestMigrationTable: the table leads from the first schema to this one,
// without a gap, and every schema on the way has its real file.
func TestMigrationTable(t *testing.T) {
	at := uint64(1)
	for _, m := range migrations() {
		if m.to != at+1 || m.name == "" || m.run == nil {
			t.Fatalf("after schema %d comes %+v", at, m)
		}
		at = m.to
	}
	if at != CurrentSchema {
		t.Fatalf("the table ends at %d, the schema is %d", at, CurrentSchema)
	}
}

// oldJob is what schema1.bellout holds.
func oldJob(path string) error {
	s, err := Create(path, "old twin")
	if err != nil {
		return err
	}
	one := aReading(0)
	one.Reading.Mode, one.Reading.Outcome, one.Reading.Value = mapping.Beep, mapping.Sounded, 0
	control := mapping.Entry{Pod: leftPod, Reading: &mapping.Reading{
		Session: 1, Red: []mapping.EndID{"2"}, Black: []mapping.EndID{"2"}, Outcome: mapping.Sounded, Control: true,
	}}
	ask := mapping.Entry{Pod: leftPod, Ask: &mapping.Ask{Sweep: mapping.Sweep{
		Red: []mapping.EndID{"1"}, Black: []mapping.EndID{"2", "BODY"},
		Steps: []mapping.Setting{{"dip": "low", "horn": "out"}, {"dip": "high", "horn": "in"}},
		Why:   mapping.Why{Reason: mapping.Separate, Maps: 3, Bits: 1.5, Seconds: 12.4, Switches: []mapping.SwitchID{"dip"}},
	}}}
	_, err = s.Append(
		aPod(), mapping.Entry{Pod: leftPod, Sitting: &mapping.Sitting{Number: 1, Leads: mapping.BunchLeads}},
		ask, one, aReading(1), control,
		mapping.Entry{Pod: leftPod, Strike: &mapping.Strike{Readings: []mapping.ReadingID{6}, Reason: "the clip had slipped"}},
		mapping.Entry{Pod: leftPod, Decision: &mapping.Decision{Kind: mapping.NameFunction, End: "1", Value: "horn"}},
		mapping.Entry{Pod: leftPod, Remark: &mapping.Remark{Text: "lever has a half-way click", Reading: 5}},
		mapping.Entry{Remark: &mapping.Remark{Text: "battery is out"}},
		mapping.Entry{Check: &mapping.CheckResult{Check: "earth", Value: "0.1 ohm", Pass: true}},
	)
	return errors.Join(err, s.Close())
}

// TestMakeOldJob writes the real file of this schema if it is not there yet.
func TestMakeOldJob(t *testing.T) {
	to := filepath.Join(realFiles, realSchema)
	if _, err := os.Stat(to); err == nil {
		t.Skip("it is there, and is never written again")
	}
	path := filepath.Join(t.TempDir(), "job"+Extension)
	if err := oldJob(path); err != nil {
		t.Fatal(err)
	}
	// The copy by bbolt's WriteTo is the smallest whole form.
	writeBytes(t, to, readBytes(t, backupPath(path)))
	writeBytes(t, filepath.Join(realFiles, "schema1.txt"), archiveOf(t, must(Read(path))(t)))
	db := must(bolt.Open(path, fileMode, nil))(t)
	err := db.Update(func(tx *bolt.Tx) error {
		return errors.Join(
			tx.Bucket(bucketMeta()).Put(keySchema(), seal(99)),
			tx.Bucket(bucketMeta()).Put([]byte("hue"), []byte("what this will mean nobody knows yet")),
			tx.Bucket(bucketLog()).Put(keyOf(1), []byte("\x07a record of another form")),
		)
	})
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	writeBytes(t, filepath.Join(realFiles, future), readBytes(t, path))
}
