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
	sig := p.signatureFor(s.best, s.hands) // what no hand can show is no doubt that work could lift
	type stay struct {
		sig   uint64
		h     *hyp
		looks int
	}
	stays := make([][]stay, len(s.chains))
	looks := max(1, min(wanderTries, p.tries(wanderTries))/wanderStep) // of each chain
	w.together(len(s.chains), func(w *walker, i int) {
		c := s.chains[i]
		at := stay{sig: p.signatureFor(c.h, s.hands), h: c.h.clone()}
		for range looks {
			taken := w.taken
			w.walk(c, wanderStep)
			if w.taken != taken {
				if now := p.signatureFor(c.h, s.hands); now != at.sig {
					stays[i] = append(stays[i], at)
					at = stay{sig: now, h: c.h.clone()}
				}
			}
			at.looks++
		}
		stays[i] = append(stays[i], at)
		s.stuck[i] = w.now(c)
	})
	away := 0
	at := map[uint64]int{}
	var others []stay
	for _, v := range slices.Concat(stays...) {
		if v.sig == sig {
			continue
		}
		away += v.looks
		if i, ok := at[v.sig]; ok {
			others[i].looks += v.looks
		} else {
			at[v.sig] = len(others)
			others = append(others, v)
		}
	}
	s.away = float64(away) / float64(looks*len(s.chains))
	slices.SortStableFunc(others, func(a, b stay) int { return cmp.Compare(b.looks, a.looks) })
	var maps []*hyp
	for _, m := range others[:min(len(others), mostMet)] {
		maps = append(maps, m.h)
	}
	s.takeIn(maps)
}
