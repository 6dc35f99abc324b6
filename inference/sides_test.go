package inference

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// TestWalkTouchesEnough: a walk prices only the readings that a change can touch; what it
// carries along is what the map gives from scratch, the nets at each end included.
func TestWalkTouchesEnough(t *testing.T) {
	changes, odd, void := 0, 0, 0
	for seed := range int64(30) {
		p, maps := shortcutCase(t, seed)
		w := newWalker(p, p.obs, rand.New(rand.NewPCG(uint64(seed), 23)))
		for _, h := range maps {
			c := w.chainOf(h, slices.Repeat([]fault{noFault}, len(p.obs)))
			for range 150 {
				taken := w.taken
				w.walk(c, 8)
				changes += w.taken - taken
				cost, price := c.h.cost, slices.Clone(c.price)
				fresh := c.clone()
				w.rescore(fresh)
				if math.Abs(fresh.h.cost-cost) > 1e-6 || !slices.Equal(fresh.price, price) {
					t.Fatalf("seed %d: the walk carries %.6f bits of readings, the map has %.6f", seed, cost, fresh.h.cost)
				}
				var s sides
				s.hear(w, c.h, 0)
				if !slices.Equal(s.red, c.sides.red) || !slices.Equal(s.black, c.sides.black) {
					t.Fatalf("seed %d: the nets at the ends are not those of the map", seed)
				}
				for i := range c.odd {
					if c.odd[i] != 0 {
						odd++
					}
					if c.void[i] != 0 {
						void++
					}
				}
			}
		}
	}
	if changes < 3000 || odd < 100 || void < 100 {
		t.Errorf("%d changes only, a lever elsewhere %d times, a clip off %d times", changes, odd, void)
	}
}
