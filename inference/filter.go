package inference

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// filter takes the readings from number seen on into the samples, a few at a
// time: samples are drawn anew by how well they foresaw them, and walk on from
// there. It gives the walker over all readings.
func (s *state) filter(chains []*chain, seen int, rng *rand.Rand) *walker {
	for _, c := range chains {
		c = c.clone()
		s.p.priorOf(c) // readings show which leads are in use
		s.chains = append(s.chains, c)
	}
	size := max(1, (len(s.raw)-seen+mostGroups-1)/mostGroups)
	w := newWalker(s.p, s.raw[:seen], rng)
	for seen < len(s.raw) {
		seen = min(seen+size, len(s.raw))
		w.hear(s.raw[:seen])
		if s.redraw(w) {
			s.walk(w, s.p.tries(splitTries))
		}
	}
	s.walk(w, s.p.tries(sweepTries))
	s.regroup(w)
	return w
}

// redraw takes the samples on to the readings of a walker and draws as many
// from them, each in proportion to the chance it gave these readings. It tells
// whether they disagreed.
func (s *state) redraw(w *walker) bool {
	weight := make([]float64, len(s.chains))
	least := math.Inf(1)
	for i, c := range s.chains {
		weight[i] = w.extend(c)
		least = min(least, weight[i])
	}
	sum := 0.0
	for i := range weight {
		weight[i] = math.Exp2(least - weight[i])
		sum += weight[i]
	}
	if sum > float64(len(weight))-1e-6 {
		return false
	}
	step := sum / float64(len(weight))
	at := step * w.rng.Float64()
	drawn := make([]*chain, 0, len(weight))
	upTo := 0.0
	for i, c := range s.chains {
		upTo += weight[i]
		for first := true; at < upTo && len(drawn) < len(weight); at += step {
			if !first {
				c = c.clone()
			}
			drawn, first = append(drawn, c), false
		}
	}
	for len(drawn) < len(weight) { // lost to rounding
		drawn = append(drawn, drawn[len(drawn)-1].clone())
	}
	s.chains = drawn
	return true
}

// regroup puts copies of good samples in the place of those that have lost
// their way: all walk by the same rule, so in the long run none is much dearer
// than those of the better quarter.
func (s *state) regroup(w *walker) {
	order := slices.Clone(s.chains)
	slices.SortStableFunc(order, func(a, b *chain) int { return cmp.Compare(a.energy(), b.energy()) })
	limit := order[len(order)/4].energy() + resetBits
	good := order[:len(order)/2]
	for i, c := range s.chains {
		if c.energy() > limit {
			s.chains[i] = good[w.rng.IntN(len(good))].clone()
		}
	}
}

func (s *state) walk(w *walker, tries int) {
	w.together(len(s.chains), func(w *walker, i int) { w.walk(s.chains[i], tries) })
}

// tries is how many tries a walk takes: the more, the more ends and switches
// there are to try; fewer in a long session, where each is dearer.
func (p *problem) tries(base int) int {
	n := float64(base) * float64(max(usualSites, min(p.n*len(p.npos), mostSites))) / usualSites
	return int(n * min(1, longSession/float64(len(p.obs)+1)))
}

// Ends times switches of the pods that the numbers of tries were found on, and of
// those beyond which more tries cost more than they bring.
const (
	usualSites = 60
	mostSites  = 360
)
