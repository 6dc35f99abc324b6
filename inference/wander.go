package inference

import (
	"cmp"
	"slices"
)

const (
	wanderTries = 600 // for each chain
	wanderStep  = 10  // tries between two looks
	mostMet     = 32  // maps met on the way that are looked at
)

// wander watches the samples walk before the work may be called done. The share
// of their time that they spend with other maps than the best is the doubt that
// no list of rivals holds: maps many changes away, each of little weight. The
// maps with most time are kept in mind.
func (s *state) wander(w *walker) {
	p := s.p
	sig := p.signature(s.best, p.telling)
	type met struct {
		h     *hyp
		looks int
	}
	away, looks := 0, 0
	at := map[uint64]int{}
	var others []met
	for i, c := range s.chains {
		now, taken := p.signature(c.h, p.telling), w.taken
		for range wanderTries / wanderStep {
			w.walk(c, wanderStep)
			if w.taken != taken {
				now, taken = p.signature(c.h, p.telling), w.taken
			}
			looks++
			if now == sig {
				continue
			}
			away++
			j, ok := at[now]
			if !ok {
				j = len(others)
				at[now] = j
				others = append(others, met{h: c.h.clone()})
			}
			others[j].looks++
		}
		s.stuck[i] = w.now(c)
	}
	s.away = float64(away) / float64(looks)
	slices.SortStableFunc(others, func(a, b met) int { return cmp.Compare(b.looks, a.looks) })
	var maps []*hyp
	for _, m := range others[:min(len(others), mostMet)] {
		maps = append(maps, m.h)
	}
	s.keepFurther(maps...)
	if len(s.rivals) > 0 && s.rivals[0].delta < -1e-6 {
		s.compare()
	}
}
