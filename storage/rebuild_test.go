package storage

import (
	"bytes"
	"os"
	"path/filepath"
	"sort"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestRebuild harms both heads and a page of records, and takes one source of
// the job away after the other.
func TestRebuild(t *testing.T) {
	path := newJob(t, 150)
	want := must(Read(path))(t)
	whole := readBytes(t, path)
	size := pageSizeOf(whole)
	kinds := pageKinds(t, path)
	var leaf int
	for id, k := range kinds {
		if k == "leaf" && id*size < len(whole) && bytes.Contains(whole[id*size:(id+1)*size], []byte("clip held")) {
			leaf = id
		}
	}
	bad := bytes.Clone(whole)
	clear(bad[:2*size])
	clear(bad[leaf*size:][:size])
	writeBytes(t, path, bad)
	before := readBytes(t, path)

	t.Run("from the log", func(t *testing.T) {
		to := filepath.Join(t.TempDir(), "new"+Extension)
		rep := must(Rebuild(path, to))(t)
		if d := cmp.Diff(want, must(Read(to))(t)); d != "" || rep.Entries != len(want) || rep.FromLog != len(want) || rep.Missing != nil {
			t.Fatalf("%+v %s", rep, d)
		}
	})
	t.Run("from the backup", func(t *testing.T) {
		if err := os.Rename(logPath(path), logPath(path)+".away"); err != nil {
			t.Fatal(err)
		}
		to := filepath.Join(t.TempDir(), "new"+Extension)
		rep := must(Rebuild(path, to))(t)
		if d := cmp.Diff(want, must(Read(to))(t)); d != "" || rep.FromBackup != len(want) {
			t.Fatalf("%+v %s", rep, d)
		}
	})
	t.Run("from the pieces", func(t *testing.T) {
		without(t, path)
		to := filepath.Join(t.TempDir(), "new"+Extension)
		rep := must(Rebuild(path, to))(t)
		got := must(Read(to))(t)
		for _, e := range got {
			i := sort.Search(len(want), func(i int) bool { return want[i].Seq >= e.Seq })
			if d := cmp.Diff(want[i], e); d != "" {
				t.Fatal(d)
			}
		}
		// One leaf of a dozen readings at most is gone, if no old copy of it is left.
		if rep.FromFile != len(got) || len(got) < len(want)-40 || len(got)+len(rep.Missing)+len(rep.Orphans) > len(want) {
			t.Fatalf("%d of %d: %+v", len(got), len(want), rep)
		}
		t.Logf("%d of %d entries, missing %v", len(got), len(want), rep.Missing)
	})
	if !bytes.Equal(before, readBytes(t, path)) {
		t.Fatal("the damaged file was changed")
	}
	_, err := Rebuild(filepath.Join(t.TempDir(), "none"), filepath.Join(t.TempDir(), "x"+Extension))
	if kindName(err) != "missing" {
		t.Fatal(err)
	}
}
