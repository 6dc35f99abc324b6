package inference

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"bellout/mapping"
)

// best finds the sweep of the highest rate: with a needle over all pairs, with
// bunches by climbing from a few starts.
func (pl *planner) best(seed uint64) (candidate, bool) {
	found := pl.bestPairs
	if pl.leads == mapping.BunchLeads {
		found = func() []candidate { return pl.climbs(seed) }
	}
	var best candidate
	for _, c := range found() {
		if len(c.steps) > 0 && (len(best.steps) == 0 || c.rate() > best.rate()+1e-12) {
			best = c
		}
	}
	// One sweep that can end the work beats a cheaper one that cannot.
	if pl.leads == mapping.BunchLeads && pl.seen == 1 {
		if cut, ok := pl.cut(); ok {
			w := pl.newStepper()
			if c := pl.priceOnce(&w, cut[0], cut[1]); c.share > finishing*(1-pl.left) && best.share < c.share-0.02 &&
				c.seconds < 2*best.seconds+mapping.SecondsChangeSingle {
				best = c
			}
		}
	}
	return best, len(best.steps) > 0
}

// bestPairs prices every pair of ends, on all cores.
func (pl *planner) bestPairs() []candidate {
	var pairs [][2]uint64
	for a := range pl.p.n {
		for b := range a {
			red, black := uint64(1)<<a, uint64(1)<<b
			pairs = append(pairs, [2]uint64{red, black})
			if pl.clipSeconds(black, red) < pl.clipSeconds(red, black) {
				pairs = append(pairs, [2]uint64{black, red})
			}
		}
	}
	out := make([]candidate, len(pairs))
	pl.onCores(len(pairs), func(w *stepper, i int) { out[i] = w.sweep(pairs[i][0], pairs[i][1]) })
	return out
}

// climbs goes up from every start, on all cores.
func (pl *planner) climbs(seed uint64) []candidate {
	starts := pl.starts(rand.New(rand.NewPCG(3, seed)))
	out := make([]candidate, len(starts))
	pl.onCores(len(starts), func(w *stepper, i int) {
		out[i] = pl.climb(w, starts[i][0], starts[i][1], rand.New(rand.NewPCG(uint64(4+i), seed)))
	})
	return out
}

// onCores runs f for each number under n, on each core with a stepper of its own.
func (pl *planner) onCores(n int, f func(w *stepper, i int)) {
	onCores(n, func(next func() (int, bool)) {
		w := pl.newStepper()
		for i, ok := next(); ok; i, ok = next() {
			f(&w, i)
		}
	})
}

// finishing is the share of all doubt that a sweep must bear on to end the work.
const finishing = 0.97

// starts gives the bunches from which the search sets out: where the clips
// are, across the doubt, one end against the rest, and halves.
func (pl *planner) starts(rng *rand.Rand) [][2]uint64 {
	if pl.lost {
		return pl.fewStarts(rng)
	}
	var out [][2]uint64
	if pl.red != 0 && pl.black != 0 {
		out = append(out, [2]uint64{pl.red, pl.black})
	}
	if cut, ok := pl.cut(); ok {
		out = append(out, cut)
	}
	all := uint64(1)<<pl.p.n - 1
	e := uint64(1) << rng.IntN(pl.p.n)
	out = append(out, [2]uint64{e, all &^ e})
	for range 2 {
		var red uint64
		for i, v := range rng.Perm(pl.p.n) {
			if i%2 == 0 {
				red |= 1 << v
			}
		}
		out = append(out, [2]uint64{red, all &^ red})
	}
	return out
}

// cut parts the ends so that much of the doubt lies across: each end in turn,
// heaviest first, on the side that has more against it.
func (pl *planner) cut() ([2]uint64, bool) {
	n := pl.p.n
	weight := make([]float64, n*n)
	sum := make([]float64, n)
	for b := 1; b < n; b++ {
		for a := range b {
			for _, cm := range pl.masses[pairIndex(a, b)] {
				weight[a*n+b] += cm.m
			}
			weight[b*n+a] = weight[a*n+b]
			sum[a] += weight[a*n+b]
			sum[b] += weight[a*n+b]
		}
	}
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(x, y int) int { return cmp.Compare(sum[y], sum[x]) })
	var side [2]uint64
	for _, e := range order {
		var to [2]float64
		for i := range side {
			for m := side[i]; m != 0; m &= m - 1 {
				to[i] += weight[e*n+lowBit(m)]
			}
		}
		switch {
		case to[0] == 0 && to[1] == 0 && sum[e] < 1e-12:
			continue // nothing left to show at this end
		case to[1] > to[0]:
			side[0] |= 1 << e
		default:
			side[1] |= 1 << e
		}
	}
	return side, side[0] != 0 && side[1] != 0
}

// priceOnce prices a pair of bunches, or remembers what it was: climbs cross and
// come back to the same bunches.
func (pl *planner) priceOnce(w *stepper, red, black uint64) candidate {
	key := [2]uint64{red, black}
	if c, ok := pl.priced.Load(key); ok {
		return c.(candidate)
	}
	c := w.sweep(red, black)
	pl.priced.Store(key, c)
	return c
}

// climb moves one end at a time between red, black and neither while that
// pays, for a few rounds.
func (pl *planner) climb(w *stepper, red, black uint64, rng *rand.Rand) candidate {
	best := pl.priceOnce(w, red, black)
	for range 6 {
		better := false
		for _, e := range rng.Perm(pl.p.n) {
			bit := uint64(1) << e
			for side := range 3 {
				r, b := best.red&^bit, best.black&^bit
				switch side {
				case 0:
					r |= bit
				case 1:
					b |= bit
				}
				if r == 0 || b == 0 || r == best.red && b == best.black || !pl.allowed(r, b) {
					continue
				}
				if c := pl.priceOnce(w, r, b); c.rate() > best.rate()+1e-9 {
					best, better = c, true
				}
			}
		}
		if !better {
			break
		}
	}
	return best
}
