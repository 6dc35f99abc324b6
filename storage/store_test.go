package storage

import (
	"bytes"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"bellout/mapping"
)

// TestTwin plays a job against a plain list: whatever is appended, struck out
// or closed and opened again, both tell the same.
func TestTwin(t *testing.T) {
	dir := t.TempDir()
	n := 0
	rapid.Check(t, func(t *rapid.T) {
		if n++; n > 40 {
			return // each case waits for the disk a hundred times; 40 will do
		}
		path := filepath.Join(dir, "twin"+strings.Repeat("x", n%7)+rapid.StringMatching(`[a-z]{12}`).Draw(t, "name")+Extension)
		for _, p := range []string{path, logPath(path), backupPath(path)} {
			_ = os.Remove(p)
		}
		s, err := Create(path, "twin")
		if err != nil {
			t.Fatal(err)
		}
		defer func() { _ = s.Close() }()
		twin := []mapping.Entry{{Seq: 1, Title: &mapping.Title{Name: "twin"}}}
		add := func(entries ...mapping.Entry) {
			kept, err := s.Append(entries...)
			if err != nil {
				t.Fatal(err)
			}
			var want []mapping.Entry
			for _, e := range entries {
				want = append(want, number(e, uint64(len(twin)+len(want)+1)))
			}
			if d := cmp.Diff(want, kept); d != "" {
				t.Fatal(d)
			}
			twin = append(twin, want...)
		}
		add(aPod())
		t.Repeat(map[string]func(*rapid.T){
			"append": func(t *rapid.T) { add(rapid.SliceOfN(genEntry(), 1, 3).Draw(t, "entries")...) },
			"strike": func(t *rapid.T) {
				id := mapping.ReadingID(rapid.IntRange(1, len(twin)).Draw(t, "id"))
				add(mapping.Entry{Pod: leftPod, Strike: &mapping.Strike{Readings: []mapping.ReadingID{id}, Reason: "slipped"}})
			},
			"refused": func(t *rapid.T) {
				bad := mapping.Entry{Pod: "unknown", Remark: &mapping.Remark{Text: "x"}}
				if _, err := s.Append(genEntry().Draw(t, "good"), bad); !errors.Is(err, ErrEntry) {
					t.Fatalf("got %v", err)
				}
			},
			"reopen": func(t *rapid.T) {
				read, err := Read(path) // while it is open
				if d := cmp.Diff(twin, read); err != nil || d != "" {
					t.Fatal(err, d)
				}
				_, logged, whole, err := readTextLog(logPath(path))
				if d := cmp.Diff(twin, logged); err != nil || !whole || d != "" {
					t.Fatalf("the text log differs: %v %v %s", err, whole, d)
				}
				if err := s.Close(); err != nil {
					t.Fatal(err)
				}
				if s, err = Open(path); err != nil {
					t.Fatal(err)
				}
				if s.Healed() != 0 {
					t.Fatalf("%d entries healed that were not lost", s.Healed())
				}
			},
			"": func(t *rapid.T) {
				got, err := s.Entries()
				if err != nil {
					t.Fatal(err)
				}
				if d := cmp.Diff(twin, got); d != "" {
					t.Fatal(d)
				}
			},
		})
	})
}

func TestAppendLeavesTheCallersEntryAlone(t *testing.T) {
	s := must(Create(filepath.Join(t.TempDir(), "a"+Extension), "a"))(t)
	defer s.Close()
	must(s.Append(aPod()))(t)
	e := aReading(0)
	kept := must(s.Append(e))(t)
	if d := cmp.Diff(aReading(0), e); d != "" {
		t.Fatal(d)
	}
	if kept[0].Seq != 3 || kept[0].Reading.ID != 3 {
		t.Fatalf("numbered %d, reading %d", kept[0].Seq, kept[0].Reading.ID)
	}
}

// TestRefusedEntries: a bad entry takes the whole call with it, says why, and
// the job goes on as if it had not been.
func TestRefusedEntries(t *testing.T) {
	path := newJob(t, 2)
	s := must(Open(path))(t)
	defer s.Close()
	nan, inf, lost, odd := aReading(0), aReading(0), aReading(0), aReading(0)
	nan.Reading.Value, inf.Reading.Value = math.NaN(), math.Inf(-1)
	lost.Pod = "right"
	odd.Reading.Outcome = 99
	long := mapping.Entry{Remark: &mapping.Remark{Text: strings.Repeat("x", maxPayload)}}
	two := aReading(0)
	two.Title = &mapping.Title{}
	before := must(s.Entries())(t)
	for name, e := range map[string]mapping.Entry{
		"not a number": nan, "infinite": inf, "unknown pod": lost, "unknown outcome": odd,
		"too long": long, "two things": two, "nothing": {},
	} {
		_, err := s.Append(aReading(1), e)
		if err == nil {
			t.Fatalf("%s: taken", name)
		}
		wantKind(t, err, ErrEntry, path)
		t.Logf("%s: %v", name, err)
	}
	if d := cmp.Diff(before, must(s.Entries())(t)); d != "" {
		t.Fatal(d)
	}
	kept := must(s.Append(aReading(2), mapping.Entry{Remark: &mapping.Remark{Text: "bad \xff byte"}}))(t)
	if kept[0].Seq != 5 || kept[1].Remark.Text != "bad \ufffd byte" {
		t.Fatalf("got %d and %q", kept[0].Seq, kept[1].Remark.Text)
	}
}

func TestClosedStore(t *testing.T) {
	path := newJob(t, 0)
	s := must(Open(path))(t)
	if err := errors.Join(s.Close(), s.Close()); err != nil {
		t.Fatal(err)
	}
	_, err := s.Append(aReading(0))
	wantKind(t, err, ErrClosed, path)
	_, err = s.Entries()
	wantKind(t, err, ErrClosed, path)
}

func TestCreate(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "not", "yet")
	path := filepath.Join(dir, "job"+Extension)
	s := must(Create(path, "one"))(t)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	before := readBytes(t, path)
	_, err := Create(path, "two")
	wantKind(t, err, ErrExists, path)
	if !bytes.Equal(before, readBytes(t, path)) {
		t.Fatal("the refused file was changed")
	}
	// The job is lost, its backup and log are there: a new one must not take
	// their place, and opening says what to do.
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	_, err = Create(path, "two")
	wantKind(t, err, ErrExists, path)
	_, err = Open(path)
	wantKind(t, err, ErrMissing, path)
	if !strings.Contains(err.Error(), "rebuild") {
		t.Fatalf("no advice in %v", err)
	}
	without(t, path)
	_, err = Open(path)
	wantKind(t, err, ErrMissing, path)
	if left := must(os.ReadDir(dir))(t); len(left) != 0 {
		t.Fatalf("left behind: %v", left)
	}
	if _, err := Open(dir); !errors.Is(err, ErrNotOurs) {
		t.Fatalf("a folder: %v", err)
	}
}

// TestLeftOvers: what a kill left half made goes, what looks like it stays.
func TestLeftOvers(t *testing.T) {
	path := newJob(t, 1)
	dir := filepath.Dir(path)
	gone := []string{".job.bellout.123.tmp", ".job.bellout.bak.4.tmp", ".job.bellout.log.56.tmp"}
	stays := []string{".job.bellout.x.bellout.9.tmp", ".other.bellout.1.tmp", ".job.bellout.tmp", "job.bellout.1.tmp"}
	for _, n := range append(gone, stays...) {
		writeBytes(t, filepath.Join(dir, n), []byte("x"))
	}
	if err := must(Open(path))(t).Close(); err != nil {
		t.Fatal(err)
	}
	for i, n := range append(gone, stays...) {
		if _, err := os.Lstat(filepath.Join(dir, n)); (err == nil) != (i >= len(gone)) {
			t.Errorf("%s: %v", n, err)
		}
	}
}

// TestManyHands: appends from several goroutines get numbers of their own, in
// the order in which they stand.
func TestManyHands(t *testing.T) {
	path := newJob(t, 0)
	s := must(Open(path))(t)
	errs := make(chan error)
	for hand := range 4 {
		go func() {
			for i := range 8 {
				if _, err := s.Append(aReading(hand*100 + i)); err != nil {
					errs <- err
					return
				}
				if _, err := s.Entries(); err != nil {
					errs <- err
					return
				}
			}
			errs <- nil
		}()
	}
	for range 4 {
		if err := <-errs; err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	next := map[int]int{}
	for i, e := range must(Read(path))(t) {
		if e.Seq != uint64(i+1) {
			t.Fatalf("entry %d has the number %d", i+1, e.Seq)
		}
		if e.Reading != nil {
			hand := e.Reading.Step / 100
			if e.Reading.Step%100 != next[hand] {
				t.Fatalf("hand %d: %d after %d", hand, e.Reading.Step, next[hand])
			}
			next[hand]++
		}
	}
	if len(next) != 4 || next[0]+next[1]+next[2]+next[3] != 32 {
		t.Fatalf("%v", next)
	}
}

func TestBackupIsTheJob(t *testing.T) {
	path := newJob(t, 20)
	if d := cmp.Diff(must(Read(path))(t), must(Read(backupPath(path)))(t)); d != "" {
		t.Fatal(d)
	}
	before := must(os.Stat(backupPath(path)))(t)
	s := must(Open(path))(t)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if after := must(os.Stat(backupPath(path)))(t); !os.SameFile(before, after) {
		t.Fatal("a new backup although nothing was written")
	}
}
