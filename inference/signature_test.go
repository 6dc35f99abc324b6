package inference

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
)

// TestDrawingsDiffer: maps of other links have other fingerprints, maps of the same
// links in another order the same. Courses and signatures are remembered by them, so
// two that meet would be taken for one map.
func TestDrawingsDiffer(t *testing.T) {
	p := newProblem(heldPod(), nil)
	r := rand.New(rand.NewPCG(1, 2))
	links := func(h *hyp) string {
		var out []string
		for _, x := range h.atoms {
			out = append(out, fmt.Sprint(x.ends, x.t))
		}
		slices.Sort(out)
		return fmt.Sprint(out)
	}
	for _, c := range []struct {
		name string
		link func(a, b int) atom
	}{
		{"always", func(a, b int) atom { return newAtom(a, b) }},
		{"contacts", func(a, b int) atom { return throw(a, b, 1, 1<<(p.base[1]+r.IntN(2))) }},
		{"either", func(a, b int) atom {
			if r.IntN(2) == 0 {
				return newAtom(a, b)
			}
			return throw(a, b, 0, 1<<(p.base[0]+r.IntN(2))).narrowed(2, 1<<(p.base[2]+r.IntN(2)))
		}},
	} {
		seen := map[uint64]string{}
		for range 100_000 {
			h := &hyp{}
			for range 2 + r.IntN(5) {
				a := r.IntN(11)
				b := a + 1 + r.IntN(11-a)
				h.add(c.link(a, b))
			}
			key, what := drawing(h), links(h)
			if old, ok := seen[key]; ok && old != what {
				t.Fatalf("%s: one fingerprint of %s and %s", c.name, old, what)
			}
			seen[key] = what
			slices.Reverse(h.atoms)
			if drawing(h) != key {
				t.Fatalf("%s: the order of the links changes the fingerprint of %s", c.name, what)
			}
		}
	}
}
