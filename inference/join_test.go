package inference

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"bellout/inference/simbench"
)

// crowdedCase is a pod with maps of many links, several switches busy with each other
// among them.
func crowdedCase(seed int64) (*problem, []*hyp) {
	w := simbench.Generate(seed, simbench.Options{MinEnds: 7, MaxEnds: 10, MinSwitches: 3, MaxSwitches: 5})
	p := newProblem(w.Pod, nil)
	p.bothAct = bothActs(seed%2 == 1)
	r := rand.New(rand.NewPCG(uint64(seed), 24))
	return p, mapsOf(p, w, 4, func() *hyp { return tellEngine(p, randomMap(r, w.Pod, 6+r.IntN(8))) })
}

// TestLeastPrices: what is left out without being priced is no cheaper than it is taken
// for.
func TestLeastPrices(t *testing.T) {
	near, contacts := 0, 0
	for seed := range int64(40) {
		p, maps := crowdedCase(seed)
		for _, h := range maps {
			j := p.newJoiner(h)
			prices := p.condPrices(j.adding.shape)
			for c := range prices {
				for b := 1; b < p.n; b++ {
					for a := range b {
						dead := 2*bitsDeadEnd + p.usePrice(j.adding.shape, a) + p.usePrice(j.adding.shape, b)
						price := j.adding.price(&prices[c], a, b, c, false)
						least := j.leastPrice(&prices[c], a, b, c, dead)
						if price < least-1e-9 {
							t.Fatalf("seed %d: %d-%d under condition %d costs %.3f bits, the bound is %.3f", seed, a, b, c, price, least)
						}
						if price < least+2 {
							near++
							if p.conds.depth[c] == 1 {
								contacts++
							}
						}
						if c >= p.conds.pairFrom && price < prices[c].least()-1e-9 {
							t.Fatalf("seed %d: %d-%d under condition %d costs %.3f bits, at least %.3f were said", seed, a, b, c, price, prices[c].least())
						}
					}
				}
			}
		}
	}
	if near < 1000 || contacts < 1000 {
		t.Errorf("%d links only are near the bound, %d contacts", near, contacts)
	}
}

// TestAdditionsUnder: further links up to a limit are those of the whole list.
func TestAdditionsUnder(t *testing.T) {
	found := 0
	for seed := range int64(20) {
		p, maps := shortcutCase(t, seed)
		for _, h := range maps {
			var ev evidence
			p.weigh(h, &ev)
			for _, most := range []float64{-2, 6, 14, 25} {
				count := map[[3]int]float64{}
				p.eachAddition(h, &ev, math.Inf(1), func(a, b, cond, _ int, d float64) {
					if d <= most {
						count[[3]int{a, b, cond}] = d
					}
				})
				found += len(count)
				p.eachAddition(h, &ev, most, func(a, b, cond, _ int, d float64) {
					if want, ok := count[[3]int{a, b, cond}]; ok && want == d {
						delete(count, [3]int{a, b, cond})
					}
				})
				if len(count) > 0 {
					t.Fatalf("seed %d: %d further links up to %.0f bits were left out", seed, len(count), most)
				}
			}
		}
	}
	if found == 0 {
		t.Error("no further link was under any limit")
	}
}

// TestHeaviest: the heaviest doubts are those of a full sort, and nothing of the others'
// weight is lost.
func TestHeaviest(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 25))
	for range 300 {
		var parts [3][]linkDoubt
		var all []float64
		sum := 0.0
		for range r.IntN(60) {
			w := [...]float64{0, 0.25, r.Float64(), math.Exp2(-40 * r.Float64())}[r.IntN(4)]
			i := r.IntN(len(parts))
			parts[i] = append(parts[i], linkDoubt{weight: w})
			all = append(all, w)
			sum += w
		}
		most := r.IntN(20)
		got, others := heaviest(parts[:], most)
		slices.SortFunc(all, func(a, b float64) int { return cmp.Compare(b, a) })
		slices.SortFunc(got, func(a, b linkDoubt) int { return cmp.Compare(b.weight, a.weight) })
		for i := range min(most, len(all)) {
			if got[i].weight != all[i] {
				t.Fatalf("of %d doubts number %d weighs %v, not %v", len(all), i, all[i], got[i].weight)
			}
		}
		for _, d := range got {
			others += d.weight
		}
		if math.Abs(others-sum) > 1e-9 {
			t.Fatalf("%d doubts weigh %v together, %v were kept", len(all), sum, others)
		}
	}
}
