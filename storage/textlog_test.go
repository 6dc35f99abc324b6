package storage

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestTextLogIsMended: whatever state the log is in, the job opens with all of
// its own entries, and afterwards the log tells the same.
func TestTextLogIsMended(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(t *testing.T, log []byte) []byte
		aside bool
	}{
		"gone":       {func(*testing.T, []byte) []byte { return nil }, false},
		"empty":      {func(*testing.T, []byte) []byte { return []byte{} }, false},
		"torn":       {func(_ *testing.T, b []byte) []byte { return b[:len(b)-7] }, false},
		"zero tail":  {func(_ *testing.T, b []byte) []byte { return append(b, make([]byte, 40)...) }, false},
		"behind":     {func(_ *testing.T, b []byte) []byte { return b[:bytes.LastIndexByte(b[:len(b)-1], '\n')+1] }, false},
		"changed":    {func(_ *testing.T, b []byte) []byte { return bytes.Replace(b, []byte("held"), []byte("hold"), 1) }, false},
		"none of it": {func(*testing.T, []byte) []byte { return []byte("shopping list\n") }, false},
		"another job's": {func(t *testing.T, _ []byte) []byte {
			path := filepath.Join(t.TempDir(), "other"+Extension)
			s := must(Create(path, "other"))(t)
			must(s.Append(aPod()))(t)
			if err := s.Close(); err != nil {
				t.Fatal(err)
			}
			return readBytes(t, logPath(path))
		}, true},
	} {
		t.Run(name, func(t *testing.T) {
			path := newJob(t, 5)
			want := must(Read(path))(t)
			was := readBytes(t, logPath(path))
			spoilt := c.spoil(t, bytes.Clone(was))
			if spoilt == nil {
				_ = os.Remove(logPath(path))
			} else {
				writeBytes(t, logPath(path), spoilt)
			}
			s := must(Open(path))(t)
			if s.Healed() != 0 {
				t.Fatalf("healed %d", s.Healed())
			}
			must(s.Append(aReading(5)))(t)
			if d := cmp.Diff(want, must(s.Entries())(t)[:len(want)]); d != "" {
				t.Fatal(d)
			}
			if err := s.Close(); err != nil {
				t.Fatal(err)
			}
			_, logged, whole, err := readTextLog(logPath(path))
			if d := cmp.Diff(must(Read(path))(t), logged); err != nil || !whole || d != "" {
				t.Fatal(err, whole, d)
			}
			kept, err := os.ReadFile(logPath(path) + ".1")
			if c.aside != (err == nil) || c.aside && !bytes.Equal(kept, spoilt) {
				t.Fatalf("set aside: %v", err)
			}
		})
	}
}

// TestOlderCopyPutBack: somebody copies last week's file over the job; what
// was acknowledged since comes back from the log.
func TestOlderCopyPutBack(t *testing.T) {
	path := newJob(t, 5)
	old := readBytes(t, path)
	s := must(Open(path))(t)
	for i := range 4 {
		must(s.Append(aReading(5 + i)))(t)
	}
	want := must(s.Entries())(t)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	writeBytes(t, path, old)
	s = must(Open(path))(t)
	defer s.Close()
	if d := cmp.Diff(want, must(s.Entries())(t)); d != "" || s.Healed() != 4 {
		t.Fatalf("healed %d %s", s.Healed(), d)
	}
	if kept := must(s.Append(aReading(0)))(t); kept[0].Seq != uint64(len(want)+1) {
		t.Fatal(kept[0].Seq)
	}
}
