package inference

import "math"

// collapsed is how many samples of one kind show that they have lost the others.
const collapsed = chainCount / 4

// fillIn gives maps that no sample holds their share of the samples, once many
// samples are of one kind: by how cheap such a map is beside that kind, it is
// known how many there should be. Few walks lead from one good map to another
// that is several changes away.
func (s *state) fillIn(w *walker) {
	p := s.p
	sigs := make([]uint64, len(s.chains))
	count := map[uint64]int{}
	for i, c := range s.chains {
		sigs[i] = p.signature(c.h)
		count[sigs[i]]++
	}
	most := sigs[0]
	for _, sig := range sigs {
		if count[sig] > count[most] {
			most = sig
		}
	}
	n := count[most]
	if n < collapsed {
		return
	}
	cheapest := math.Inf(1) // of that kind
	for i, c := range s.chains {
		if sigs[i] == most {
			cheapest = min(cheapest, c.energy())
		}
	}
	next := 0
	fill := func(h *hyp, total float64) {
		if count[p.signature(h)] > 0 {
			return
		}
		v := math.Exp2(cheapest - total)
		copies := int(math.Round(float64(n) * v / (1 + v)))
		if copies == 0 {
			return
		}
		faults := make([]fault, len(s.raw))
		p.explain(h, s.raw, faults)
		home := w.chainOf(h, faults)
		for ; next < len(sigs) && copies > 0; next++ {
			if sigs[next] == most && count[most] > 1 {
				s.chains[next] = home.clone()
				s.stuck[next] = w.now(home)
				count[most]--
				copies--
			}
		}
	}
	fill(s.best, s.total)
	for i := range s.rivals {
		fill(s.rivals[i].h, s.total+s.rivals[i].delta)
	}
}
