package inference

import (
	"fmt"
	"math"
	"testing"

	"bellout/inference/simbench"
)

// The prior against the generator, by the balance of one link: if prices are true,
// links that cost b bits on top of the rest of their pod are met, over many pods, as
// often as the prior states links of b bits on top of whole pods, 2^-b each. Where
// fewer are stated than are there, a missed link is taken for too rare.

const balanceBins = 11 // of two bits each, from 0 to 22

// The kinds of links that are weighed.
const (
	bridges    = iota
	contacts   // of one switch
	fewContact // of one switch, on pods of one switch or two
	firstOfTwo // the first link of two switches that both have contacts of their own
	moreOfTwo  // a further link of two switches
	balanced
)

var kindNames = [balanced]string{"bridges", "contacts", "contacts, one switch or two", "first of two busy switches", "further of two switches"}

// balance counts links by kind and by bits: those that are there, and the sum of
// those that the prior states.
type balance struct {
	there, stated [balanced][balanceBins]float64
}

func put(into *[balanced][balanceBins]float64, kinds []int, bits, weight float64) {
	i := int(math.Floor(bits / 2))
	if i < 0 || i >= balanceBins {
		return
	}
	for _, k := range kinds {
		into[k][i] += weight
	}
}

// kindsOf is what a further link under a condition is on top of a map.
func kindsOf(p *problem, s *shape, c int) []int {
	switch p.conds.depth[c] {
	case 0:
		return []int{bridges}
	case 1:
		if len(p.npos) <= 2 {
			return []int{contacts, fewContact}
		}
		return []int{contacts}
	case 2:
		on := uint64(1)<<p.conds.sw[c][0] | 1<<p.conds.sw[c][1]
		switch {
		case s.clusterOf(on) >= 0:
			return []int{moreOfTwo}
		case on&^s.acting() == 0:
			return []int{firstOfTwo}
		}
	}
	return nil
}

// weigh puts one generated pod on both scales.
func (b *balance) weigh(w *simbench.World) {
	p := newProblem(w.Pod, nil)
	truth := tellEngine(p, w.TrueLinks())
	p.tidy(truth)
	var ev evidence
	p.weigh(truth, &ev)
	whole := p.shapeOf(truth)
	p.eachAddition(truth, &ev, math.Inf(1), func(_, _, c, _ int, d float64) {
		put(&b.stated, kindsOf(p, whole, c), d, math.Exp2(-d))
	})
	for i, x := range truth.atoms {
		for _, less := range without(truth, i) {
			p.weigh(less.h, &ev)
			bare := p.shapeOf(less.h)
			p.eachAddition(less.h, &ev, math.Inf(1), func(lo, hi, c, _ int, d float64) {
				if 1<<lo|1<<hi == x.ends && int(p.conds.depth[c]) == int(x.n) && p.conds.terms[c] == less.terms {
					put(&b.there, kindsOf(p, bare, c), d, 1)
				}
			})
		}
	}
}

// lessOne is a map with one link less, and in which positions that one held.
type lessOne struct {
	h     *hyp
	terms [3]uint64
}

// without takes a link away: a contact of one switch position by position, any
// other whole.
func without(h *hyp, i int) []lessOne {
	x := h.atoms[i]
	if x.n != 1 {
		return []lessOne{{claim{link: x}.cutFrom(h), x.t}}
	}
	var out []lessOne
	for m := x.t[0]; m != 0; m &= m - 1 {
		slot := m & -m
		out = append(out, lessOne{claim{x, slot}.cutFrom(h), [3]uint64{slot}})
	}
	return out
}

// sums adds up the bins from one to another.
func sums(v *[balanceBins]float64, from, to int) float64 {
	t := 0.0
	for _, x := range v[from:to] {
		t += x
	}
	return t
}

// TestPriorInBalance: links that the look of the rest does not give away, 4 to 14
// bits, are about as common among generated pods as the prior says, kind by kind. Prices
// are rounded and few, so within a factor of two.
func TestPriorInBalance(t *testing.T) {
	var b balance
	for seed := range int64(1500) {
		b.weigh(simbench.Generate(70000+seed, simbench.Options{MaxEnds: 12, MaxSwitches: 5}))
	}
	for kind, name := range kindNames {
		there, stated := sums(&b.there[kind], 2, 7), sums(&b.stated[kind], 2, 7)
		t.Logf("%s: %.0f there, %.0f stated", name, there, stated)
		if there > 2*stated || stated > 2*there {
			t.Errorf("%s: there are %.0f of 4 to 14 bits, the prior states %.0f", name, there, stated)
		}
	}
}

// BenchmarkPriorBalance prints the balance by bits:
//
//	go test ./inference -run '^$' -bench PriorBalance -benchtime 1x
func BenchmarkPriorBalance(b *testing.B) {
	const pods = 8000
	for range b.N {
		var all balance
		for seed := range int64(pods) {
			all.weigh(simbench.Generate(50000+seed, simbench.Options{MaxEnds: 12, MaxSwitches: 5}))
		}
		fmt.Printf("\nlinks that are there and that the prior states, by the bits of one more link, %d pods of up to 12 ends\n", pods)
		for kind, name := range kindNames {
			fmt.Printf("%s, 4 to 14 bits: %.0f there, %.0f stated\n", name, sums(&all.there[kind], 2, 7), sums(&all.stated[kind], 2, 7))
			for i := range balanceBins {
				fmt.Printf("    %2d to %2d bits: %6.0f there, %8.1f stated\n", 2*i, 2*i+2, all.there[kind][i], all.stated[kind][i])
			}
		}
	}
}
