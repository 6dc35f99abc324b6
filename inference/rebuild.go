package inference

import "slices"

const (
	tornAtOnce  = 2 // ways in which the best map is torn in one round
	tornRounds  = 1 // as long as each finds a cheaper map
	tornLinks   = 3
	tornEnds    = 2
	unexplained = 5.6 // bits of odd readings and runs: more than one of them
)

// strained tells whether the best map calls more than one thing odd: there may be
// a better one that the search has not come to.
func (s *state) strained() bool { return s.total-s.p.prior(s.best) > unexplained }

// rebuild tears parts out of the best map and puts back link by link what makes
// it cheapest, over and over while that helps. It leads out of valleys from which
// there is no way up by single changes: the links torn out keep each other in
// place.
func (s *state) rebuild(w *walker) {
	s.tear(w)
	s.fillIn(w)
}

// tear is rebuild with the samples left alone.
func (s *state) tear(w *walker) {
	for range tornRounds {
		torn := make([]*hyp, tornAtOnce)
		for i := range torn {
			torn[i] = w.torn(s.best, len(s.raw)*2+i)
		}
		parallel(len(torn), func(i int) { torn[i], _ = s.settle(s.p.regrown(torn[i])) })
		if !s.takeIn(torn) {
			break
		}
	}
}

// regrown is a torn map with links put back for as long as that makes it cheaper,
// the readings taken as the best map explains them.
func (p *problem) regrown(h *hyp) *hyp {
	p.tidy(h)
	p.score(h)
	for range maxAtoms / 2 {
		g := p.joined(h)
		if g == h {
			break
		}
		h = g
	}
	return h
}

// torn is a map with some of its links gone: all at one end, all at two ends, a
// few, each with an even chance.
func (w *walker) torn(h *hyp, kind int) *hyp {
	c := h.clone()
	var ends uint64
	switch kind % 4 {
	case 0:
		ends = 1 << w.rng.IntN(w.p.n)
	case 1:
		for range tornEnds {
			ends |= 1 << w.rng.IntN(w.p.n)
		}
	case 2:
		for range min(tornLinks, len(c.atoms)) {
			i := w.rng.IntN(len(c.atoms))
			c.atoms = slices.Delete(c.atoms, i, i+1)
		}
	default:
		c.atoms = slices.DeleteFunc(c.atoms, func(atom) bool { return w.rng.IntN(2) == 0 })
	}
	c.atoms = slices.DeleteFunc(c.atoms, func(x atom) bool { return x.ends&ends != 0 })
	return c
}
