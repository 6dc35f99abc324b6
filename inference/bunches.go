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
	var best candidate
	consider := func(c candidate) {
		if len(c.steps) > 0 && (len(best.steps) == 0 || c.rate() > best.rate()+1e-12) {
			best = c
		}
	}
	if pl.leads == mapping.PairLeads {
		for a := range pl.p.n {
			for b := range a {
				consider(pl.price(1<<a, 1<<b))
				if pl.clipSeconds(1<<b, 1<<a) < pl.clipSeconds(1<<a, 1<<b) {
					consider(pl.price(1<<b, 1<<a))
				}
			}
		}
		return best, len(best.steps) > 0
	}
	rng := rand.New(rand.NewPCG(3, seed))
	for _, start := range pl.starts(rng) {
		consider(pl.climb(start[0], start[1], rng))
	}
	// One sweep that can end the work beats a cheaper one that cannot.
	if cut, ok := pl.cut(); ok && pl.seen == 1 {
		if c := pl.priceOnce(cut[0], cut[1]); c.share > finishing*(1-pl.left) && best.share < c.share-0.02 &&
			c.seconds < 2*best.seconds+mapping.SecondsChangeSingle {
			best = c
		}
	}
	return best, len(best.steps) > 0
}

// finishing is the share of all doubt that a sweep must bear on to end the work.
const finishing = 0.97

// starts gives the bunches from which the search sets out: where the clips
// are, across the doubt, one end against the rest, and halves.
func (pl *planner) starts(rng *rand.Rand) [][2]uint64 {
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
func (pl *planner) priceOnce(red, black uint64) candidate {
	key := [2]uint64{red, black}
	c, ok := pl.priced[key]
	if !ok {
		c = pl.price(red, black)
		pl.priced[key] = c
	}
	return c
}

// climb moves one end at a time between red, black and neither while that
// pays, for a few rounds.
func (pl *planner) climb(red, black uint64, rng *rand.Rand) candidate {
	best := pl.priceOnce(red, black)
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
				if r == 0 || b == 0 || r == best.red && b == best.black {
					continue
				}
				if c := pl.priceOnce(r, b); c.rate() > best.rate()+1e-9 {
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
