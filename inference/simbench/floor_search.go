package simbench

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"bellout/mapping"
)

// Floor is what the search for the cheapest proof of one known map came to.
type Floor struct {
	Found  float64         // seconds of the cheapest proof found: an upper bound of the floor
	Sweeps []mapping.Sweep // that proof
	Bound  float64         // seconds that no proof can do without: a lower bound; 0 where none is known
	Rivals int             // maps that a proof had to tell from the truth
}

// Effort bounds the search for a floor.
type Effort struct {
	Seed   int64
	Starts int // annealing runs; zero: 2
	Moves  int // moves in each; zero: 60000
}

// Grant asks whether some sweeps, read truly, prove as much as is wanted, and
// where they do not, which maps besides the truth speak against that.
type Grant func([]mapping.Sweep) (bool, []mapping.Map)

// mostRounds is how often a proof that is not granted is mended.
const mostRounds = 60

// FloorOf searches for the cheapest sweeps that prove a known map to the stop
// rule and the claims named to the grade proved. played is a proof that is there
// already (the sweeps of a play), taken as a first start.
func FloorOf(w *World, truth mapping.Map, claims []Claim, leads mapping.Leads, played []mapping.Sweep, grant Grant, e Effort) (Floor, error) {
	m, err := NewModel(w.Pod).Links(truth)
	if err != nil {
		return Floor{}, err
	}
	if e.Starts == 0 {
		e.Starts = 2
	}
	if e.Moves == 0 {
		e.Moves = 60000
	}
	p := newProver(w, m, leads)
	p.demand(claims)
	out := Floor{Bound: p.bound(), Found: math.Inf(1)}
	note := func(ps []plan) {
		if s := p.seconds(ps); s < out.Found {
			out.Found, out.Sweeps = s, p.sweeps(ps)
		}
	}
	first := p.plansOf(played)
	if ok, _ := grant(played); ok {
		note(first)
	}
	for i := range e.Starts {
		r := rand.New(rand.NewPCG(uint64(e.Seed), uint64(i)))
		best := first
		if i%2 == 1 || len(first) == 0 {
			best = p.halves(r)
		}
		goal, moves := stopDoubt, e.Moves
		for range mostRounds {
			best = p.anneal(best, goal, moves, r)
			ok, others := grant(p.sweeps(best))
			if ok {
				best = p.trimmed(best, grant)
				note(best)
				break
			}
			near, err := p.o.linksOf(others)
			if err != nil {
				return Floor{}, err
			}
			if p.learn(append(near, p.counterexamples(best, r)...), claims) == 0 {
				goal *= 0.7
			}
			moves = e.Moves / 4
		}
	}
	out.Rivals = len(p.rivals)
	if out.Sweeps == nil {
		return out, fmt.Errorf("seed %d: no proof found is granted", w.Seed)
	}
	return out, nil
}

// linksOf writes maps in the oracle's terms.
func (o *Model) linksOf(ms []mapping.Map) ([]ModelMap, error) {
	var out []ModelMap
	for _, m := range ms {
		x, err := o.Links(m)
		if err != nil {
			return nil, err
		}
		out = append(out, x)
	}
	return out, nil
}

// trimmed takes readings out of a proof, one by one, as long as it is granted
// without them.
func (p *prover) trimmed(ps []plan, grant Grant) []plan {
	for i := len(ps) - 1; i >= 0; i-- {
		for j := len(ps[i].steps) - 1; j >= 0; j-- {
			next := clonePlans(ps)
			next[i].steps = slices.Delete(next[i].steps, j, j+1)
			if len(next[i].steps) == 0 {
				next = slices.Delete(next, i, i+1)
			}
			if p.doubt(next) > 2*stopDoubt {
				continue
			}
			if ok, _ := grant(p.sweeps(next)); ok {
				gone := len(next) < len(ps)
				if ps = next; gone {
					break
				}
			}
		}
	}
	return ps
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
// cheapest met that proves enough (or the start). A missing bit of proof costs
// more and more seconds: at a fixed price the walk settles where a little is
// missing and the last readings cost more than that.
func (p *prover) anneal(start []plan, goal float64, moves int, r *rand.Rand) []plan {
	type price struct{ seconds, over, short float64 }
	of := func(ps []plan) price {
		mass, short := p.mass(ps)
		return price{p.seconds(ps), math.Max(0, math.Log2(mass*(1-goal)/goal)), short}
	}
	now := clonePlans(start)
	v := of(now)
	left := slices.Clone(p.left)
	best, bestV := now, math.Inf(1)
	for i := range moves {
		done := float64(i) / float64(moves)
		heat := 12 * math.Pow(0.02, done)
		total := func(x price) float64 { return x.seconds + (1+20*done)*(100*x.over+10*x.short) }
		if v.over == 0 && v.short == 0 && v.seconds < bestV-1e-9 {
			best, bestV = now, v.seconds
		}
		next := p.mutate(now, left, r)
		if next == nil {
			continue
		}
		nv := of(next)
		if d := total(v) - total(nv); d >= 0 || r.Float64() < math.Exp(d/heat) {
			now, v = next, nv
			copy(left, p.left)
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
