package inference

import (
	"cmp"
	"slices"
)

// restartHeat is how a search from scratch cools down.
var restartHeat = [...]float64{4, 2.5, 1.6, 1.2, 1}

// believe takes the readings as the cheapest explanation under a map does.
func (s *state) believe(h *hyp) {
	s.faults = make([]fault, len(s.raw))
	s.p.explain(h, s.raw, s.faults)
	s.p.obs = s.p.correct(s.raw, s.faults)
}

// finish finds the cheapest map, from the best so far and from the two cheapest
// samples that say something else, each with the readings as it explains them,
// and its rivals.
func (s *state) finish(w *walker) {
	p := s.p
	order := slices.Clone(s.chains)
	slices.SortStableFunc(order, func(a, b *chain) int { return cmp.Compare(a.energy(), b.energy()) })
	starts := []*hyp{s.best}
	total := p.explain(s.best, s.raw, nil) + p.prior(s.best)
	seen := map[uint64]bool{p.signature(s.best): order[0].energy() > total-1e-9}
	for _, c := range order {
		if len(starts) == 3 {
			break
		}
		if sig := p.signature(c.h); !seen[sig] {
			seen[sig] = true
			starts = append(starts, c.h)
		}
	}
	found := make([]*hyp, len(starts))
	totals := make([]float64, len(starts))
	parallel(len(starts), func(i int) { found[i], totals[i] = s.settle(starts[i]) })
	best, bestTotal := found[0], totals[0]
	for i, total := range totals {
		if total < bestTotal-1e-9 {
			best, bestTotal = found[i], total
		}
	}
	s.best, s.total = best, bestTotal
	s.compare()
}

// settle goes down from a map to the cheapest near it, the readings taken as the
// map at hand explains them, and gives the cheapest met on the way with its
// price, runs included.
func (s *state) settle(h *hyp) (*hyp, float64) {
	p := *s.p
	faults := make([]fault, len(s.raw))
	h = h.clone()
	best, total := h, p.explain(h, s.raw, faults)+p.prior(h)
	for range 3 {
		p.obs = p.correct(s.raw, faults)
		g := p.descend(h.clone())
		if p.sameMap(g, h) {
			break
		}
		h = g
		if v := p.explain(h, s.raw, faults) + p.prior(h); v < total-1e-9 {
			best, total = h, v
		}
	}
	return best, total
}

// compare works out the evidence and the rivals, and moves to a rival that is
// cheaper once runs are priced.
func (s *state) compare() {
	p := s.p
	for moves := 1; ; moves++ {
		s.believe(s.best)
		p.score(s.best)
		s.rivals = s.near()
		slices.SortStableFunc(s.rivals, byDelta)
		first := s.rivals[:min(len(s.rivals), firstPriced)]
		s.priceAll(first, 0)
		slices.SortStableFunc(first, byDelta)
		last := moves == mostCompared
		if !s.beaten() || last { // what is kept is about the map that is kept
			p.hand = newHand(s.anythingOdd(), s.heard())
			p.weigh(s.best, s.ev)
			s.weighAdditions()
			s.findRivals()
		}
		if !s.beaten() || last {
			return
		}
		s.total += s.rivals[0].delta
		s.best = s.rivals[0].h.clone()
	}
}

// recall sends chains that are far dearer than the cheapest map to it.
func (s *state) recall(w *walker) {
	var home *chain
	for i, c := range s.chains {
		if c.energy() <= s.total+lostBits {
			continue
		}
		if home == nil {
			home = w.chainOf(s.best, s.faults)
			if home.energy() > s.total+lostBits {
				return
			}
		}
		d := home.clone()
		w.walk(d, s.p.tries(sweepTries))
		s.chains[i], s.stuck[i] = d, w.now(d)
	}
}

// restart searches from scratch so many times: a map that fits as well must not be
// missed because all samples came from the same few.
func (s *state) restart(w *walker, times int) []*hyp {
	maps := make([]*hyp, times)
	w.together(times, func(w *walker, i int) {
		c := w.begin()
		for _, w.heat = range restartHeat {
			w.walk(c, s.p.tries(restartTries))
		}
		maps[i] = c.h
	})
	return maps
}

// sameMap tells whether two maps have the same links, in any order.
func (p *problem) sameMap(a, b *hyp) bool {
	if len(a.atoms) != len(b.atoms) {
		return false
	}
	for _, x := range a.atoms {
		if !slices.Contains(b.atoms, x) {
			return false
		}
	}
	return true
}
