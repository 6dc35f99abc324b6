package inference

import (
	"cmp"
	"slices"
)

// mostFurther bounds the maps that are kept in mind from step to step.
const mostFurther = 48

// keepFurther lists the maps further than one change from the best that are
// still possible: those kept in mind before, those that samples hold now, and
// those that a search has just found. Samples come and go; a map that was met
// once must be refuted by readings, not forgotten.
func (s *state) keepFurther(found ...*hyp) {
	p := s.p
	const isBest = -1
	at := map[uint64]int{p.signature(s.best): isBest}
	for i, r := range s.rivals {
		at[p.signature(r.h)] = i
	}
	maps := slices.Concat(s.further, found)
	for _, c := range s.chains {
		if c.energy()-s.total < rivalWindow {
			maps = append(maps, c.h)
		}
	}
	parallel(len(maps), func(i int) { p.signature(maps[i]) }) // remembered
	var fresh []rival
	for _, h := range maps {
		sig := p.signature(h)
		if i, ok := at[sig]; ok {
			if i != isBest {
				s.rivals[i].far = true
			}
			continue
		}
		at[sig] = isBest // not to be looked at twice
		fresh = append(fresh, rival{h: h.clone(), held: p.handsToTell(s.best, h), far: true})
	}
	s.priceAll(fresh, 0)
	for _, r := range fresh {
		if r.delta < rivalWindow {
			r.added = s.countedAsAddition(r.h)
			s.rivals = append(s.rivals, r)
		}
	}
	slices.SortStableFunc(s.rivals, byDelta)
	s.further = nil
	for _, r := range s.rivals {
		if r.far && len(s.further) < mostFurther {
			s.further = append(s.further, r.h)
		}
	}
}

// takeIn keeps maps in mind, and moves to one that is cheaper than the best; it
// tells whether there was one.
func (s *state) takeIn(found []*hyp) bool {
	s.keepFurther(found...)
	if !s.beaten() {
		return false
	}
	s.compare()
	return true
}

// beaten tells whether a rival is cheaper than the best map.
func (s *state) beaten() bool { return len(s.rivals) > 0 && s.rivals[0].delta < -1e-6 }

func byDelta(a, b rival) int { return cmp.Compare(a.delta, b.delta) }

const (
	insistence   = 30.0 // bits that a search asks for a reading that it insists on
	insistChains = 2
	insistTries  = 300
	mostStrays   = 12 // readings, the latest ones first
)

// insistHeat is how a search that insists on a reading cools down.
var insistHeat = [...]float64{2.5, 1.6, 1, 1}

// takeSerious looks, for readings that the best map calls odd and that were not taken
// serious yet, up to so many, for the cheapest map under which each is right. Such a map is often several changes
// away, each of which by itself makes things worse.
func (s *state) takeSerious(w *walker, most int) []*hyp {
	asked := s.looksAtBest().serious
	var strays []int
	for i := len(s.raw) - 1; i >= 0 && len(strays) < most; i-- {
		o := &s.raw[i]
		q := ask(o.red, o.black, o.s)
		if o.control || asked[q] || s.p.plainPrice(s.best, o) == 0 {
			continue
		}
		asked[q] = true
		strays = append(strays, i)
	}
	if len(strays) == 0 {
		return nil
	}
	home := w.chainOf(s.best, s.faults)
	found := make([]*hyp, insistChains*len(strays))
	w.together(len(found), func(w *walker, i int) {
		c := home.clone()
		w.insist(c, strays[i/insistChains])
		for _, w.heat = range insistHeat {
			w.walk(c, s.p.tries(insistTries))
		}
		found[i] = c.h
	})
	return found
}

// insist makes a chain believe a reading as it stands.
func (w *walker) insist(c *chain, i int) {
	c.insisted = i + 1
	v := w.readingPrice(c.h, c, i)
	c.h.cost += v - c.price[i]
	c.h.energy += v - c.price[i]
	c.setPrice(i, v)
}
