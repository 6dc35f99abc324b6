package simbench

import (
	"math"
	"math/rand/v2"
	"slices"

	"bellout/mapping"
)

// Floor is what the search for the cheapest proof of one known map came to.
type Floor struct {
	Found   float64         // seconds of the cheapest proof found: an upper bound of the floor
	Sweeps  []mapping.Sweep // that proof
	Granted float64         // seconds of the cheapest proof found that the engine grants
	Bound   float64         // seconds that no proof can do without: a lower bound
	Rivals  int             // maps that a proof has to tell from the truth
}

// Effort bounds the search for a floor.
type Effort struct {
	Seed   int64
	Starts int // annealing runs; zero: 2
	Moves  int // moves in each; zero: 40000
}

// FloorOf searches for the cheapest sweeps that prove a known map to the stop
// rule and the claims named to the grade proved. played is a proof that is there
// already (the sweeps of a play), taken as a first start; grant asks the engine
// whether some sweeps, read truly, prove as much to it.
func FloorOf(w *World, truth mapping.Map, claims []Claim, leads mapping.Leads, played []mapping.Sweep, grant func([]mapping.Sweep) bool, e Effort) (Floor, error) {
	m, err := NewModel(w.Pod).Links(truth)
	if err != nil {
		return Floor{}, err
	}
	if e.Starts == 0 {
		e.Starts = 2
	}
	if e.Moves == 0 {
		e.Moves = 40000
	}
	p := newProver(w, m, leads)
	p.demand(claims)
	out := Floor{Rivals: len(p.rivals), Bound: p.bound(), Found: math.Inf(1), Granted: math.Inf(1)}
	var proofs [][]plan
	note := func(ps []plan) {
		proofs = append(proofs, ps)
		if s := p.seconds(ps); s < out.Granted && grant(p.sweeps(ps)) {
			out.Granted = s
		}
	}
	first := p.plansOf(played)
	note(first)
	for i := range e.Starts {
		r := rand.New(rand.NewPCG(uint64(e.Seed), uint64(i)))
		best := first
		if i%2 == 1 || len(first) == 0 {
			best = p.halves(r)
		}
		moves := e.Moves
		for range 8 { // until no map further off speaks against the proof
			best = p.anneal(best, stopDoubt, moves, r)
			if p.learn(p.counterexamples(best, r), claims) == 0 {
				break
			}
			moves = e.Moves / 3
		}
		note(best)
	}
	for _, ps := range proofs {
		s := p.seconds(ps)
		if mass, short := p.mass(ps); s < out.Found && mass/(1+mass) <= stopDoubt*(1+1e-6) && short == 0 {
			out.Found, out.Sweeps = s, p.sweeps(ps)
		}
	}
	out.Rivals = len(p.rivals)
	return out, nil
}

// halves is a start of its own: the ends parted by the digits of a random
// numbering, three times over, each parting read in a dozen random settings.
func (p *prover) halves(r *rand.Rand) []plan {
	n := len(p.w.Pod.Ends)
	var out []plan
	for range 3 {
		order := r.Perm(n)
		for digit := 1; digit < n; digit *= 2 {
			s := plan{control: true}
			for i, e := range order {
				if p.leads == mapping.PairLeads && i > 1 {
					break
				}
				if i/digit%2 == 0 {
					s.red |= 1 << e
				} else {
					s.black |= 1 << e
				}
			}
			for range 12 {
				s.steps = append(s.steps, r.IntN(len(p.all)))
			}
			s.steps = slices.DeleteFunc(s.steps, func(at int) bool { return !p.doable(plan{red: 1, black: 2, steps: []int{at}}) })
			if p.doable(s) {
				out = append(out, s)
			}
		}
	}
	return out
}

// plansOf reads a play's sweeps as plans.
func (p *prover) plansOf(sweeps []mapping.Sweep) []plan {
	side := func(ids []mapping.EndID) bunch {
		var b bunch
		for _, id := range ids {
			b |= 1 << p.w.endAt[id]
		}
		return b
	}
	var out []plan
	for _, s := range sweeps {
		if s.Control {
			if len(out) > 0 {
				out[len(out)-1].control = true
			}
			continue
		}
		x := plan{red: side(s.Red), black: side(s.Black)}
		for _, at := range s.Steps {
			x.steps = append(x.steps, p.number(p.w.Lever(at)))
		}
		out = append(out, x)
	}
	return out
}

// anneal walks among sets of sweeps, cheap and proving enough, and gives the
// cheapest met that proves enough (or the start).
func (p *prover) anneal(start []plan, goal float64, moves int, r *rand.Rand) []plan {
	cost := func(ps []plan) (float64, bool) {
		mass, short := p.mass(ps)
		over := math.Max(0, math.Log2(mass*(1-goal)/goal))
		return p.seconds(ps) + 100*over + 10*short, over == 0 && short == 0
	}
	now := clonePlans(start)
	v, ok := cost(now)
	best, bestV := clonePlans(start), math.Inf(1)
	if ok {
		bestV = v
	}
	for i := range moves {
		heat := 12 * math.Pow(0.02, float64(i)/float64(moves))
		next := p.mutate(now, r)
		if next == nil {
			continue
		}
		nv, ok := cost(next)
		if nv <= v || r.Float64() < math.Exp((v-nv)/heat) {
			now, v = next, nv
			if ok && nv < bestV-1e-9 {
				best, bestV = clonePlans(next), nv
			}
		}
	}
	return best
}

func clonePlans(ps []plan) []plan {
	out := make([]plan, len(ps))
	for i, s := range ps {
		out[i] = s.clone()
	}
	return out
}

// mutate makes one change; nil when it cannot be done.
func (p *prover) mutate(ps []plan, r *rand.Rand) []plan {
	out := clonePlans(ps)
	if len(out) == 0 {
		return nil
	}
	i := r.IntN(len(out))
	s := &out[i]
	switch r.IntN(11) {
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
	}
	for _, s := range out {
		if !p.doable(s) {
			return nil
		}
	}
	return out
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
