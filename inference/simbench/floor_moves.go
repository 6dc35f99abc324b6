package simbench

import (
	"math/rand/v2"
	"slices"

	"bellout/mapping"
)

// mutate makes one change; nil when it cannot be done. left is what each rival
// weighs after ps.
func (p *prover) mutate(ps []plan, left []float32, r *rand.Rand) []plan {
	out := clonePlans(ps)
	if len(out) == 0 {
		return nil
	}
	i := r.IntN(len(out))
	s := &out[i]
	switch r.IntN(14) {
	case 0, 1: // a reading less
		j := r.IntN(len(s.steps))
		s.steps = slices.Delete(s.steps, j, j+1)
		if len(s.steps) == 0 {
			out = slices.Delete(out, i, i+1)
		}
	case 2: // a sweep less
		out = slices.Delete(out, i, i+1)
	case 3, 4: // a reading more, near one that is there
		j := r.IntN(len(s.steps))
		s.steps = slices.Insert(s.steps, j+r.IntN(2), p.moved(s.steps[j], r))
	case 5: // a lever elsewhere in one reading
		j := r.IntN(len(s.steps))
		s.steps[j] = p.moved(s.steps[j], r)
	case 6: // an end elsewhere in one sweep
		p.shift(s, r)
	case 7: // an end elsewhere from here on
		n := bunch(1) << r.IntN(len(p.w.Pod.Ends))
		side := r.IntN(3)
		for k := i; k < len(out); k++ {
			put(&out[k], n, side)
		}
	case 8: // a sweep more: one that is there, its ends changed
		c := s.clone()
		for range 1 + r.IntN(3) {
			p.shift(&c, r)
		}
		out = slices.Insert(out, i+r.IntN(2), c)
	case 9: // another order
		if r.IntN(2) == 0 && len(out) > 1 {
			j := r.IntN(len(out))
			out[i], out[j] = out[j], out[i]
		} else {
			a, b := r.IntN(len(s.steps)), r.IntN(len(s.steps))
			s.steps[a], s.steps[b] = s.steps[b], s.steps[a]
		}
	case 10:
		s.control = !s.control
	case 11:
		out = p.answered(out, left, r)
	case 12: // one sweep's readings taken with another's clips
		j := r.IntN(len(out))
		if i == j {
			return nil
		}
		out[j].steps = slices.Concat(out[j].steps, s.steps)
		out = slices.Delete(out, i, i+1)
	case 13: // a sweep taken earlier or later
		c := *s
		out = slices.Delete(out, i, i+1)
		out = slices.Insert(out, r.IntN(len(out)+1), c)
	}
	if !p.allDoable(out) {
		return nil
	}
	return out
}

func (p *prover) allDoable(ps []plan) bool {
	return !slices.ContainsFunc(ps, func(s plan) bool { return !p.doable(s) })
}

// answered adds a reading that speaks against one of the rivals, the heavy ones
// sooner: with clips that are set up already, or with some of its own.
func (p *prover) answered(ps []plan, left []float32, r *rand.Rand) []plan {
	rival := &p.rivals[weighted(left, r)]
	var at []int // settings in which it says something else
	for s := range p.all {
		if !slices.Equal(rival.nets[s], p.truth[s]) {
			at = append(at, s)
		}
	}
	if len(at) == 0 {
		return nil
	}
	to := at[r.IntN(len(at))]
	speaks := func(s plan) bool {
		return beeps(rival.nets[to], s.red, s.black) != beeps(p.truth[to], s.red, s.black)
	}
	for range 12 {
		if s := &ps[r.IntN(len(ps))]; speaks(*s) {
			s.steps = slices.Insert(s.steps, r.IntN(len(s.steps)+1), to)
			return ps
		}
	}
	i := r.IntN(len(ps) + 1)
	s := plan{steps: []int{to}}
	if i > 0 {
		s.red, s.black = ps[i-1].red, ps[i-1].black
	}
	for range 30 {
		if p.shift(&s, r); s.red&s.black == 0 && speaks(s) {
			return slices.Insert(ps, i, s)
		}
	}
	return nil
}

// weighted draws an index by weight.
func weighted(ws []float32, r *rand.Rand) int {
	total := float32(0)
	for _, w := range ws {
		total += w
	}
	x := r.Float32() * total
	for i, w := range ws {
		if x -= w; x < 0 {
			return i
		}
	}
	return len(ws) - 1
}

// moved is a setting with one lever elsewhere, or several.
func (p *prover) moved(setting int, r *rand.Rand) int {
	if len(p.o.rest) == 0 {
		return setting
	}
	at := slices.Clone(p.all[setting])
	for range 1 + r.IntN(2) {
		k := r.IntN(len(at))
		at[k] = r.IntN(len(p.w.Pod.Switches[k].Positions))
	}
	return p.number(at)
}

// shift puts one end on the red clip, the black clip, or neither; with pair
// leads it changes one of the two ends.
func (p *prover) shift(s *plan, r *rand.Rand) {
	e := bunch(1) << r.IntN(len(p.w.Pod.Ends))
	if p.leads == mapping.PairLeads {
		if r.IntN(2) == 0 {
			s.red = e
		} else {
			s.black = e
		}
		return
	}
	put(s, e, r.IntN(3))
}

func put(s *plan, e bunch, side int) {
	s.red, s.black = s.red&^e, s.black&^e
	switch side {
	case 0:
		s.red |= e
	case 1:
		s.black |= e
	}
}
