package inference

import "slices"

const (
	exchangeSearch = 40.0 // bits, with each odd reading by itself; runs may explain many at once
	mostExchanged  = 32   // maps of each sort that are priced with runs
)

// exchange looks for maps in which two links have exchanged an end, or both, or one
// holds in a position of a switch in which the other was thought to, at either end of that
// one, or leaves one to a contact that is not there yet: what two wires do
// is told apart by few readings, and a change of one of the links alone clashes with all
// that the other explains.
func (s *state) exchange() {
	l := s.looksAtBest()
	if l.exchanged > 0 && len(s.raw)-l.exchanged < lookAgain {
		return
	}
	l.exchanged = len(s.raw)
	p := s.p
	exchanged := make([][]*hyp, len(s.best.atoms))
	parted := make([][]*hyp, len(s.best.atoms))
	parallel(len(exchanged), func(j int) {
		try := func(into *[]*hyp, change func(h *hyp)) {
			h := s.best.clone()
			change(h)
			p.tidy(h)
			if p.scoreUnder(h, s.best.energy+exchangeSearch) {
				*into = append(*into, h)
			}
		}
		y := s.best.atoms[j]
		for i, x := range s.best.atoms[:j] {
			both := func(x, y atom) {
				try(&exchanged[j], func(h *hyp) { h.atoms[i], h.atoms[j] = x, y })
			}
			eachExchange(x, y, both)
			p.eachTrade(x, y, both)
			p.eachTrade(y, x, func(y, x atom) { both(x, y) })
		}
		p.eachParting(y, func(y, more atom) {
			try(&parted[j], func(h *hyp) {
				h.atoms[j] = y
				h.add(more)
			})
		})
	})
	var maps []*hyp
	for _, found := range [][][]*hyp{exchanged, parted} {
		list := slices.Concat(found...)
		slices.SortStableFunc(list, byEnergy)
		maps = append(maps, list[:min(len(list), mostExchanged)]...)
	}
	s.takeIn(maps)
}

// eachExchange makes the ways in which two links exchange ends.
func eachExchange(x, y atom, f func(x, y atom)) {
	give := func(a, b int) { // end a of x for end b of y
		v, w := x, y
		if x.ends>>b&1 == 1 || y.ends>>a&1 == 1 {
			return
		}
		v.rewire(int(x.a)+int(x.b)-a, b)
		w.rewire(int(y.a)+int(y.b)-b, a)
		f(v, w)
	}
	for _, a := range [2]int{int(x.a), int(x.b)} {
		for _, b := range [2]int{int(y.a), int(y.b)} {
			give(a, b)
		}
	}
	if x.ends&y.ends == 0 {
		v, w := x, y
		v.rewire(int(y.a), int(y.b))
		w.rewire(int(x.a), int(x.b))
		f(v, w)
	}
}

// eachTrade makes the ways in which a link leaves a position of a switch to another, which
// may hang on its far end as well: while both hold nobody can tell.
func (p *problem) eachTrade(from, to atom, f func(from, to atom)) {
	hung := to
	shared := from.ends & to.ends
	if shared != 0 && shared != to.ends {
		hung.rewire(lowBit(to.ends&^shared), lowBit(from.ends&^shared))
	}
	for d := range int(to.n) {
		k := int(to.sw[d])
		for m := p.swMask[k] &^ to.t[d]; m != 0; m &= m - 1 {
			if less, ok := p.without(from, k, m&-m); ok {
				more := to
				more.t[d] |= m & -m
				f(less, more)
				if hung.ends != to.ends {
					more.a, more.b, more.ends = hung.a, hung.b, hung.ends
					f(less, more)
				}
			}
		}
	}
}

// eachParting makes the ways in which a bridge leaves a position of a switch, or a contact
// one of its own, to a contact that is not there yet, from one of its ends to a third: what
// was taken for a bridge, with silences for mishaps, may be a changeover.
func (p *problem) eachParting(x atom, f func(x, more atom)) {
	for k := range p.npos {
		if x.n > 1 || x.n == 1 && int(x.sw[0]) != k {
			continue
		}
		for m := p.swMask[k]; m != 0; m &= m - 1 {
			less, ok := p.without(x, k, m&-m)
			if !ok {
				continue
			}
			for e := range p.n {
				if x.ends>>e&1 == 0 {
					f(less, throw(int(x.a), e, k, m&-m))
					f(less, throw(int(x.b), e, k, m&-m))
				}
			}
		}
	}
}

// without is a link open in a position of a switch; not ok where it is so already,
// holds nowhere else, or would take more than three switches.
func (p *problem) without(x atom, k int, slot uint64) (atom, bool) {
	switch d := slices.Index(x.sw[:x.n], int8(k)); {
	case d >= 0 && x.t[d]&slot != 0 && x.t[d] != slot:
		x.t[d] &^= slot
		return x, true
	case d < 0 && x.n < 3:
		return x.narrowed(k, p.swMask[k]&^slot), true
	}
	return x, false
}
