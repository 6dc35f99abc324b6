package inference

import "slices"

const (
	exchangeSearch = 40.0 // bits, with each odd reading by itself; runs may explain many at once
	mostExchanged  = 32   // maps that are priced with runs
)

// exchange looks for maps in which two links have exchanged an end, or both: what two
// wires do is told apart by few readings, and a change of one of the links alone clashes
// with all that the other explains.
func (s *state) exchange() {
	l := s.looksAtBest()
	if l.exchanged > 0 && len(s.raw)-l.exchanged < lookAgain {
		return
	}
	l.exchanged = len(s.raw)
	p := s.p
	found := make([][]*hyp, len(s.best.atoms))
	parallel(len(found), func(j int) {
		for i := range j {
			eachExchange(s.best.atoms[i], s.best.atoms[j], func(x, y atom) {
				h := s.best.clone()
				h.atoms[i], h.atoms[j] = x, y
				p.tidy(h)
				if p.scoreUnder(h, s.best.energy+exchangeSearch) {
					found[j] = append(found[j], h)
				}
			})
		}
	})
	maps := slices.Concat(found...)
	slices.SortStableFunc(maps, byEnergy)
	s.takeIn(maps[:min(len(maps), mostExchanged)])
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
