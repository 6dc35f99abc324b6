package storage

import (
	"bytes"
	"fmt"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"bellout/mapping"
)

// TestPowerCut builds every state in which a power cut can leave the file
// while one more entry is being written: bbolt writes pages, syncs, writes the
// head, syncs. So before the first sync any of the new pages may be there,
// whole or torn, under the old head; after it all are, and the head may be
// torn. In each of them everything that was acknowledged before is there. It
// is a model of a disk that keeps its word about a sync, not a disk.
func TestPowerCut(t *testing.T) {
	var states [][]byte
	var names []string
	var kept [][]mapping.Entry
	for _, n := range []int{0, 1, 7, 40} { // inline, one page, several, a branch
		path := newJob(t, n)
		without(t, path)
		s := must(Open(path))(t)
		before := readBytes(t, path)
		acked := must(s.Entries())(t)
		must(s.Append(aReading(n)))(t)
		after := readBytes(t, path)
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		size := pageSizeOf(before)
		old := append(bytes.Clone(before), make([]byte, len(after)-len(before))...)
		var changed []int
		for id := 2; id*size < len(after); id++ {
			if !bytes.Equal(old[id*size:(id+1)*size], after[id*size:(id+1)*size]) {
				changed = append(changed, id)
			}
		}
		if len(changed) == 0 || len(changed) > 8 {
			t.Fatalf("%d pages changed", len(changed))
		}
		add := func(name string, b []byte) {
			states, names, kept = append(states, b), append(names, fmt.Sprintf("%d readings, %s", n, name)), append(kept, acked)
		}
		for set := range 1 << len(changed) {
			for _, torn := range []bool{false, true} {
				b := bytes.Clone(old)
				for i, id := range changed {
					if set>>i&1 == 0 {
						continue
					}
					end := (id + 1) * size
					if torn {
						end -= size / 2
					}
					copy(b[id*size:end], after[id*size:end])
				}
				add(fmt.Sprintf("pages %b of %v, torn %v", set, changed, torn), b)
			}
		}
		head := newerHead(after) * size
		for cut := 0; cut <= pageHeader+metaSize; cut += 3 {
			b := bytes.Clone(after)
			copy(b[head+cut:head+size], before[head+cut:head+size])
			add(fmt.Sprintf("head cut at %d", cut), b)
		}
	}
	dir := t.TempDir()
	var paths []string
	for i, b := range states {
		f, err := examineBytes(b, CurrentSchema)
		if err != nil || len(f.entries) < len(kept[i]) || len(f.entries) > len(kept[i])+1 {
			t.Fatalf("%s: %d entries, %d were acknowledged: %v", names[i], len(f.entries), len(kept[i]), err)
		}
		if !reflect.DeepEqual(f.entries[:len(kept[i])], kept[i]) {
			t.Fatalf("%s: what was acknowledged differs", names[i])
		}
		if i%9 == 0 { // bbolt itself, and one more reading, on a sample
			paths = append(paths, writeBytes(t, filepath.Join(dir, fmt.Sprintf("%d%s", i, Extension)), b))
		}
	}
	out, err := child(t, "open", paths...).CombinedOutput()
	if n := strings.Count(string(out), "\tok\t"); err != nil || n != len(paths) {
		t.Fatalf("%d of %d opened: %v\n%s", n, len(paths), err, out)
	}
	t.Logf("%d states, %d of them opened by bbolt", len(states), len(paths))
}
