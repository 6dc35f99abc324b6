package inference

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// linksOf is a map's links as a set.
func linksOf(h *hyp) []string {
	var out []string
	for i := range h.atoms {
		x := &h.atoms[i]
		out = append(out, fmt.Sprint(x.ends, x.n, x.sw, x.t))
	}
	slices.Sort(out)
	return out
}

// TestOneMore: a map with any further link drawn in is known for just that, a
// contact's further position too, and no other map is taken for one.
func TestOneMore(t *testing.T) {
	found, wider, others := 0, 0, 0
	for seed := range int64(6) {
		w := simbench.Generate(seed, simbench.Options{MinEnds: 4, MaxEnds: 6, MaxSwitches: 3})
		p := newProblem(w.Pod, nil)
		wk := newWalker(p, nil, rand.New(rand.NewPCG(uint64(seed), 3)))
		for range 10 {
			c := wk.begin()
			wk.walk(c, 300)
			p.tidy(c.h)
			var ev evidence
			p.weigh(c.h, &ev)
			p.eachAddition(c.h, &ev, math.Inf(1), func(a, b, cond, _ int, _ float64) {
				more := c.h.withAtom(p.conds.atom(a, b, cond))
				p.tidy(more)
				if slices.Equal(linksOf(more), linksOf(c.h)) {
					return
				}
				x, ok := p.oneMore(c.h, more)
				if !ok || x.ends != 1<<a|1<<b || p.conds.number(&x) != cond {
					t.Fatalf("seed %d: %d-%d under %v on %v: %v, %+v", seed, a, b, p.conds.terms[cond], linksOf(c.h), ok, x)
				}
				found++
				if len(more.atoms) == len(c.h.atoms) {
					wider++
				}
			})
			p.eachChange(c.h, math.Inf(1), func(h *hyp) float64 {
				x, ok := p.oneMore(c.h, h)
				if !ok {
					others++
					return math.Inf(1)
				}
				more := c.h.withAtom(x)
				p.tidy(more)
				if !slices.Equal(linksOf(more), linksOf(h)) {
					t.Fatalf("seed %d: %+v on %v is not %v", seed, x, linksOf(c.h), linksOf(h))
				}
				return math.Inf(1)
			})
		}
	}
	if found < 1000 || wider < 50 || others < 1000 {
		t.Errorf("%d links, %d of them further positions, and %d other maps are no test", found, wider, others)
	}
}

// TestRivalCountedOnce: what is said to be counted of a rival is the very weight with
// which the further links count it.
func TestRivalCountedOnce(t *testing.T) {
	counted, others := 0, 0
	for seed := range int64(8) {
		w := simbench.Generate(40+seed, simbench.Options{MinEnds: 5, MaxEnds: 8, MinSwitches: 2, MaxSwitches: 4})
		person := &simbench.Person{World: w, Fallible: true, Seed: seed, Leads: mapping.PairLeads}
		e := NewEngine(w.Pod, nil)
		for range 25 {
			next, ok := e.Next(mapping.Bench{Leads: mapping.PairLeads})
			if !ok {
				break
			}
			rs, err := person.Answer(next.Sweep)
			if err != nil {
				t.Fatal(err)
			}
			e.Add(rs...)
		}
		s := e.now()
		weight := map[string]float64{}
		s.p.eachAddition(s.best, s.ev, math.Inf(1), func(a, b, cond, _ int, d float64) {
			more := s.best.withAtom(s.p.conds.atom(a, b, cond))
			s.p.tidy(more)
			weight[fmt.Sprint(linksOf(more))] += math.Exp2(-d)
		})
		for i := range s.rivals {
			r := &s.rivals[i]
			want := weight[fmt.Sprint(linksOf(r.h))]
			if math.Abs(r.added-want) > 1e-9*want {
				t.Errorf("seed %d: %g said to be counted, %g are: %v on %v", seed, r.added, want, linksOf(r.h), linksOf(s.best))
			}
			if want > 0 {
				counted++
			} else {
				others++
			}
		}
	}
	if counted < 50 || others < 50 {
		t.Errorf("%d rivals that further links count and %d that they don't are no test", counted, others)
	}
}
