package inference

import (
	"fmt"
	"math"

	"bellout/mapping"
)

func (s *state) atomText(x atom) string {
	l := s.link(x)
	t := string(l.A) + "-" + string(l.B)
	for _, c := range l.When {
		t += fmt.Sprint(c)
	}
	return t
}

func (s *state) hypText(h *hyp) string {
	t := ""
	for _, x := range h.atoms {
		t += s.atomText(x) + "; "
	}
	return t
}

// Price is what a map costs in all, and its prior and odd readings.
func (e *Engine) Price(m mapping.Map) (total, prior float64) {
	s := e.now()
	h := e.hypOf(m)
	faults := make([]fault, len(s.raw))
	total = s.p.explain(h, s.raw, faults) + s.p.prior(h)
	for i := range s.raw {
		o := &s.raw[i]
		if v := s.p.plainPrice(h, o); v > 0 || faults[i] != noFault {
			fmt.Printf("      reading %d %v|%v %v closed %v control %v price %.2f fault %+v\n", o.id, s.p.unends(o.red), s.p.unends(o.black), s.p.unsetting(o.s), o.closed, o.control, v, faults[i])
		}
	}
	return total, s.p.prior(h)
}

func (e *Engine) hypOf(m mapping.Map) *hyp {
	s := e.now()
	h := &hyp{}
	for _, l := range m.Links {
		whens := l.When
		if len(whens) == 0 {
			whens = []mapping.Condition{nil}
		}
		for _, c := range whens {
			x := newAtom(s.p.endAt[l.A], s.p.endAt[l.B])
			for _, t := range c {
				for k, sw := range s.p.pod.Switches {
					if sw.Name == t.Switch {
						var mask uint64
						for _, q := range t.Positions {
							mask |= 1 << (s.p.base[k] + sw.Index(q))
						}
						x = x.narrowed(k, mask)
					}
				}
			}
			h.atoms = append(h.atoms, x)
		}
	}
	return h
}

// Dump shows the engine's mind, for working on it.
func (e *Engine) Dump() {
	s := e.now()
	fmt.Printf("best %.2f cost %.2f prior %.2f: %s\n", s.total, s.best.cost, s.p.prior(s.best), s.hypText(s.best))
	fmt.Printf("additions %.4f astray %.3f doubt %.4f\n", s.additionMass(), s.astray(), s.doubtLeft())
	lo, hi, lc := 1e9, -1e9, 1e9
	var lh *hyp
	for _, c := range s.chains {
		if c.energy() < lo {
			lo, lh = c.energy(), c.h
		}
		hi, lc = max(hi, c.energy()), min(lc, c.h.cost)
	}
	nf := 0
	for _, f := range s.faults {
		if f != noFault {
			nf++
		}
	}
	fmt.Printf("energy %.2f chains %.2f..%.2f mincost %.2f total-explained %.2f faults %d/%d: %s\n", s.best.energy, lo, hi, lc, s.p.explain(lh, s.raw, nil)+s.p.prior(lh), nf, len(s.faults), s.hypText(lh))
	for i, r := range s.rivals {
		if i < 8 {
			fmt.Printf("   rival %.2f %+v: %s\n", r.delta, r.now, s.hypText(r.h))
		}
	}
	n := 0
	s.p.eachAddition(s.best, s.ev, func(a, b, c, held int, d float64) {
		if d < 9 && n < 12 {
			n++
			fmt.Printf("   add %.2f %s (2^-d %.4f) ev %.1f\n", d, s.atomText(s.p.conds.atom(a, b, c)), math.Exp2(-d), s.ev.ev[pairIndex(a, b)*s.ev.nc+c])
		}
	})
}
