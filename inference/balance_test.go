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

const balanceBins = 8 // of two bits each, from 0 to 16

// balance counts links by depth and by bits: those that are there, and the sum of
// those that the prior states.
type balance struct {
	there, stated [3][balanceBins]float64
}

func (b *balance) put(into *[3][balanceBins]float64, depth int, bits, weight float64) {
	if i := int(math.Floor(bits / 2)); depth < 3 && i >= 0 && i < balanceBins {
		into[depth][i] += weight
	}
}

// weigh puts one generated pod on both scales.
func (b *balance) weigh(w *simbench.World) {
	p := newProblem(w.Pod, nil)
	truth := tellEngine(p, w.TrueLinks())
	p.tidy(truth)
	var ev evidence
	p.weigh(truth, &ev)
	p.eachAddition(truth, &ev, func(_, _, c, _ int, d float64) {
		b.put(&b.stated, int(p.conds.depth[c]), d, math.Exp2(-d))
	})
	for i, x := range truth.atoms {
		for _, less := range without(truth, i) {
			p.weigh(less.h, &ev)
			p.eachAddition(less.h, &ev, func(lo, hi, c, _ int, d float64) {
				if 1<<lo|1<<hi == x.ends && int(p.conds.depth[c]) == int(x.n) && p.conds.terms[c] == less.terms {
					b.put(&b.there, int(x.n), d, 1)
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

// TestPriorInBalance: links of one and of two switches that the look of the rest
// does not give away, 4 to 14 bits, are about as common among generated pods as the
// prior says. Prices are rounded and few, so within a factor of two.
func TestPriorInBalance(t *testing.T) {
	var b balance
	for seed := range int64(1200) {
		b.weigh(simbench.Generate(70000+seed, simbench.Options{MinEnds: 5, MaxEnds: 12}))
	}
	for depth := 1; depth <= 2; depth++ {
		there, stated := sums(&b.there[depth], 2, 7), sums(&b.stated[depth], 2, 7)
		t.Logf("depth %d: %.0f there, %.0f stated", depth, there, stated)
		if there > 2*stated || stated > 2*there {
			t.Errorf("of depth %d there are %.0f links of 4 to 14 bits, the prior states %.0f", depth, there, stated)
		}
	}
}

// BenchmarkPriorBalance prints the balance by bits:
//
//	go test ./inference -run '^$' -bench PriorBalance -benchtime 1x
func BenchmarkPriorBalance(b *testing.B) {
	const pods = 3000
	for range b.N {
		var all balance
		for seed := range int64(pods) {
			all.weigh(simbench.Generate(50000+seed, simbench.Options{MinEnds: 5, MaxEnds: 12}))
		}
		fmt.Printf("\nlinks that are there and that the prior states, by the bits of one more link, %d pods of 5 to 12 ends\n", pods)
		for depth := range all.there {
			for i := range balanceBins {
				fmt.Printf("depth %d, %2d to %2d bits: %6.0f there, %8.1f stated\n", depth, 2*i, 2*i+2, all.there[depth][i], all.stated[depth][i])
			}
		}
	}
}
