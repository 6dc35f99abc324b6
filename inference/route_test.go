package inference

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// TestStraighten: steps put into another order are the same steps, take as much less
// as is said, and in nine cases of ten no order of all there are takes less.
func TestStraighten(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 17))
	cases, shorter, shortest := 0, 0, 0
	for seed := range int64(12) {
		w := simbench.Generate(seed, simbench.Options{MinEnds: 4, MaxEnds: 8, MaxSwitches: 5})
		e := NewEngine(w.Pod, nil)
		for _, leads := range []mapping.Leads{mapping.PairLeads, mapping.BunchLeads} {
			bench := mapping.Bench{Leads: leads}
			if seed%3 > 0 {
				bench.Levers = w.Pod.Rest()
			}
			pl := e.now().withHands(leads).newPlanner(bench)
			for range 10 {
				order := make([]int, min(6, len(pl.pool)))
				for k := range order {
					order[k] = rng.IntN(len(pl.pool))
				}
				before := slices.Clone(order)
				saved := pl.straighten(order)
				if got := pl.orderSeconds(before) - pl.orderSeconds(order); math.Abs(got-saved) > 1e-9 || saved < 0 {
					t.Fatalf("seed %d %s: %v to %v saves %.2f s, said to save %.2f", seed, leads, before, order, got, saved)
				}
				if !slices.Equal(slices.Sorted(slices.Values(before)), slices.Sorted(slices.Values(order))) {
					t.Fatalf("seed %d %s: %v became %v", seed, leads, before, order)
				}
				cases++
				if saved > 0 {
					shorter++
				}
				if pl.orderSeconds(order) < pl.leastSeconds(order)+1e-9 {
					shortest++
				}
			}
		}
	}
	t.Logf("%d orders, %d made shorter, %d as short as can be", cases, shorter, shortest)
	if shorter == 0 || shortest*10 < cases*9 {
		t.Errorf("of %d orders %d were made shorter, %d are as short as can be", cases, shorter, shortest)
	}
}

// orderSeconds is what steps take in an order.
func (pl *planner) orderSeconds(order []int) float64 {
	t, from := 0.0, len(pl.pool)
	for _, i := range order {
		t += pl.movesFrom(from)[i].seconds
		from = i
	}
	return t
}

// leastSeconds tries every order.
func (pl *planner) leastSeconds(steps []int) float64 {
	best := math.Inf(1)
	order := slices.Clone(steps)
	var try func(k int)
	try = func(k int) {
		if k == len(order) {
			best = min(best, pl.orderSeconds(order))
			return
		}
		for i := k; i < len(order); i++ {
			order[k], order[i] = order[i], order[k]
			try(k + 1)
			order[k], order[i] = order[i], order[k]
		}
	}
	try(0)
	return best
}
