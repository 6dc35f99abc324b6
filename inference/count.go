package inference

import (
	"math"
	"slices"
	"sync"
)

const (
	tinyEnds, tinySwitches = 4, 2 // pods so small are looked at further
	tinyWindow             = 16.0 // bits within which a rival is gone on from
	mostExpanded           = 400  // rivals that are gone on from
	expandedAtOnce         = 32   // so that not too many maps are at hand
)

// tiny tells whether the pod is so small that every near rival can be listed and
// priced with runs, further links included.
func (s *state) tiny() bool { return s.p.n <= tinyEnds && len(s.p.npos) <= tinySwitches }

// counted is the state with every near rival listed, if the pod is small enough for
// that. It takes too long to plan every sweep by: grades go by it, and what says that
// the work is done.
func (s *state) counted() *state {
	if !s.tiny() || s.counts {
		return s
	}
	s.count.once.Do(func() {
		c, p := *s, *s.p
		c.p, c.ev, c.rivals, c.counts, c.hands = &p, &evidence{}, nil, true, s.p.handsShown()
		c.courses = courses{taken: map[uint64]*course{}}
		c.compare()
		c.courses.forget()
		s.count.state = &c
	})
	if c := s.count.state; c.hands != s.hands { // whoever asked first, with whichever leads
		other := *c
		other.hands = s.hands
		return &other
	}
	return s.count.state
}

// count is what counted has found, once it was asked for.
type count struct {
	once  sync.Once
	state *state
}

// addFurther goes on from every near rival, change by change, until none is
// new: on the smallest pods the list is then as good as a count of all maps.
func (s *state) addFurther() {
	p := s.p
	const isBest = -1
	at := map[uint64]int{p.signature(s.best): isBest}
	queue := []*hyp{s.best}
	for i, r := range s.rivals {
		at[p.signature(r.h)] = i
		queue = append(queue, r.h)
	}
	drawn := map[uint64]bool{drawing(s.best): true}
	for _, h := range queue {
		drawn[drawing(h)] = true
	}
	s.same = 0
	take := func(r rival) {
		sig := p.signature(r.h)
		i, known := at[sig]
		switch {
		case known && i == isBest:
			s.same += math.Exp2(-r.delta)
			return
		case known && r.delta > s.rivals[i].delta-1e-9: // no cheaper drawing of the same nets
			s.rivals[i].more += math.Exp2(-r.delta)
			return
		}
		p.score(r.h)
		r.held = p.handsToTell(s.best, r.h)
		if known {
			r.more = s.rivals[i].weight()
			s.rivals[i] = r
		} else {
			at[sig] = len(s.rivals)
			s.rivals = append(s.rivals, r)
		}
		if r.delta < tinyWindow {
			queue = append(queue, r.h)
		}
	}
	for i := 0; i < min(len(queue), mostExpanded); {
		from := i
		i = min(i+expandedAtOnce, len(queue), mostExpanded)
		for _, r := range s.oneChangeFrom(queue[from:i], drawn) {
			take(r)
		}
	}
	slices.SortStableFunc(s.rivals, byDelta)
}

// oneChangeFrom gives the maps one change away from some others that were not drawn
// before, further links included, priced with runs, where they are possible at all.
func (s *state) oneChangeFrom(hs []*hyp, drawn map[uint64]bool) []rival {
	p := s.p
	limit := s.best.energy + rivalSearch
	changed := make([][]*hyp, len(hs))
	parallel(len(hs), func(i int) {
		take := func(c *hyp) float64 {
			p.tidy(c)
			changed[i] = append(changed[i], c)
			return limit
		}
		h := hs[i].clone()
		p.tidy(h)
		p.score(h)
		p.eachChange(h, limit, take)
		ev := p.tables.take()
		defer p.tables.giveBack(ev)
		p.weigh(h, ev)
		p.eachAddition(h, ev, limit-h.energy, func(a, b, c, _ int, d float64) {
			if h.energy+d < limit {
				take(h.withAtom(p.conds.atom(a, b, c)))
			}
		})
	})
	var out []rival
	for _, h := range slices.Concat(changed...) {
		if key := drawing(h); !drawn[key] {
			drawn[key] = true
			out = append(out, rival{h: h})
		}
	}
	s.number()
	s.priceWithin(out, rivalWindow)
	out = slices.DeleteFunc(out, func(r rival) bool { return r.delta >= rivalWindow })
	parallel(len(out), func(i int) { p.signature(out[i].h) }) // remembered
	return out
}
