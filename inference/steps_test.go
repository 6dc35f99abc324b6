package inference

import (
	"math/rand/v2"
	"slices"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// TestPlannerPlainPrice: what bounds and tables leave out changes no price, to
// the last bit, with levers known and unknown, and whatever maps believe of the
// bench.
func TestPlannerPlainPrice(t *testing.T) {
	priced, straight, slips, levers, later := 0, 0, 0, 0, 0
	for seed := range int64(4) {
		w := simbench.Generate(seed, simbench.Options{MinEnds: 4, MaxEnds: 8, MaxSwitches: 4})
		for _, leads := range []mapping.Leads{mapping.PairLeads, mapping.BunchLeads} {
			person := &simbench.Person{World: w, Fallible: true, Seed: seed, Leads: leads}
			r := rand.New(rand.NewPCG(uint64(seed), 11))
			e := NewEngine(w.Pod, nil)
			bench := mapping.Bench{Leads: leads}
			for range 8 {
				next, ok := e.Next(bench)
				if !ok {
					break
				}
				rs, err := person.Answer(next.Sweep)
				if err != nil {
					t.Fatal(err)
				}
				e.Add(rs...)
				if next.Sweep.Control {
					continue
				}
				bench.Red, bench.Black, bench.Levers = next.Sweep.Red, next.Sweep.Black, nil
				if n := len(next.Sweep.Steps); n > 0 && r.IntN(4) > 0 {
					bench.Levers = next.Sweep.Steps[n-1]
				}
				pl := e.now().withHands(leads).newPlanner(bench)
				work := pl.newStepper()
				plain := newPlainPlanner(pl)
				for _, s := range pl.spells {
					if s.lever == 0 {
						slips++
					} else {
						levers++
					}
				}
				for i := range 4 {
					red, black := pl.red, pl.black
					if i > 0 || red == 0 || black == 0 {
						red, black = randomBunches(r, w.Pod, leads)
					}
					got, want := work.greedy(red, black), plain.price(red, black)
					if r, ok := work.straightened(got); ok && i%2 > 0 {
						straight++
						got, want = r, plain.price(red, black, r.steps[:len(got.steps)]...)
					}
					if !slices.Equal(got.steps, want.steps) || got.bits != want.bits || got.seconds != want.seconds ||
						got.split != want.split || got.share != want.share {
						t.Fatalf("seed %d, %b against %b:\n got %+v\nwant %+v", seed, red, black, got, want)
					}
					priced += len(got.steps)
					for k := range work.doubts {
						if work.doubts[k].later > 0 {
							later++
							break
						}
					}
				}
			}
		}
	}
	if priced < 200 || straight == 0 || slips == 0 || levers == 0 || later == 0 {
		t.Errorf("%d steps, %d sweeps in another order, %d times a clip off, %d levers elsewhere and %d times doubt to be roused are no test", priced, straight, slips, levers, later)
	}
}

// randomBunches draws one end against another, or two bunches.
func randomBunches(r *rand.Rand, pod mapping.Pod, leads mapping.Leads) (red, black uint64) {
	ends := r.Perm(len(pod.Ends))
	red, black = 1<<ends[0], 1<<ends[1]
	for _, e := range ends[2:] {
		switch side := r.IntN(3); {
		case leads == mapping.PairLeads:
		case side == 0:
			red |= 1 << e
		case side == 1:
			black |= 1 << e
		}
	}
	return red, black
}
