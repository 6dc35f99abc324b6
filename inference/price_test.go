package inference

import (
	"math"
	"math/rand/v2"
	"testing"

	"bellout/mapping"
)

// TestAddPriceIsPrior: the price of one more link, worked out in pieces, is
// what the whole prior says.
func TestAddPriceIsPrior(t *testing.T) {
	pod := mapping.Pod{Name: "p", Switches: []mapping.Switch{
		{Name: "a", Positions: []mapping.PositionID{"x", "y"}, Rest: "x"},
		{Name: "b", Positions: []mapping.PositionID{"l", "o", "r"}, Rest: "o"},
		{Name: "c", Positions: []mapping.PositionID{"out", "in"}, Rest: "out", Momentary: true},
		{Name: "d", Positions: []mapping.PositionID{"0", "1"}, Rest: "0"},
	}}
	for _, id := range []mapping.EndID{"1", "2", "3", "4", "5", "6", "BODY"} {
		e := mapping.End{ID: id}
		if id == "BODY" {
			e.Kind = mapping.Body
		}
		pod.Ends = append(pod.Ends, e)
	}
	p := newProblem(pod, nil)
	w := newWalker(p, nil, rand.New(rand.NewPCG(7, 7)))
	for range 40 {
		c := w.begin()
		w.walk(c, 400)
		p.tidy(c.h)
		var ev evidence
		p.weigh(c.h, &ev)
		base := p.prior(c.h)
		p.eachAddition(c.h, &ev, math.Inf(1), func(a, b, cond, _ int, d float64) {
			n := c.h.withAtom(p.conds.atom(a, b, cond))
			p.tidy(n)
			got := p.prior(n) - base
			switch p.conds.depth[cond] {
			case 0:
				got = math.Min(got, p.oddFixed)
			case 1:
				got = math.Min(got, p.odd)
			}
			if math.Abs(got-d) > 1e-6 {
				t.Fatalf("%d-%d under %v: pieces %.3f, whole %.3f on %+v", a, b, p.conds.terms[cond], d, got, c.h.atoms)
			}
		})
	}
}
