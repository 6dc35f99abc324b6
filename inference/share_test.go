package inference

import (
	"fmt"
	"math"
	"sync"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// The map that is there, beside the doubt that is stated: whatever the builder does
// wrong, it hardly ever weighs more by the engine's own prices than the doubt does. Where
// it weighs three times as much the search has lost it, and nothing is asked that would
// show it.

// share counts the steps of plays at which little doubt was stated, and those at which
// the map that is there weighed more than three times that.
type share struct{ steps, missed int }

// watch plays one pod and tells of each miss.
func (n *share) watch(w *simbench.World, leads mapping.Leads, seed int64, tell func(string)) {
	solver := newEngineSolver(w.Pod)
	person := &simbench.Person{World: w, Fallible: true, Seed: seed, Leads: leads}
	simbench.Play(w, person, solver, simbench.Limits{Watch: func(mapping.Sweep, []mapping.Reading) {
		s := solver.e.now() // before the sweep
		doubt := s.doubtLeft()
		if doubt > looksFrom {
			return
		}
		n.steps++
		truth := tellEngine(s.p, w.TrueLinks())
		s.p.tidy(truth)
		if s.p.signatureFor(truth, s.hands) == s.p.signatureFor(s.best, s.hands) {
			return
		}
		weight := math.Exp2(s.total - s.p.explain(truth, s.raw, nil) - s.p.prior(truth))
		if weight /= 1 + weight; weight > 3*doubt {
			n.missed++
			tell(fmt.Sprintf("pod %d, %s leads, %d readings: the map that is there weighs %.3f, the doubt is %.3f",
				seed, leads, len(s.raw), weight, doubt))
		}
	}})
}

// TestTruthHasItsShare: one step in 100 may be a miss.
func TestTruthHasItsShare(t *testing.T) {
	var n share
	for seed := range int64(6) {
		w := simbench.Generate(86100+seed, simbench.Options{MinEnds: 5, MaxEnds: 7, MinSwitches: 1, MaxSwitches: 3})
		for _, leads := range []mapping.Leads{mapping.PairLeads, mapping.BunchLeads} {
			n.watch(w, leads, 86100+seed, func(s string) { t.Log(s) })
		}
	}
	if 100*n.missed > n.steps || n.steps < 100 {
		t.Errorf("in %d of %d steps the map that is there weighs more than three times the doubt", n.missed, n.steps)
	}
}

// BenchmarkTruthsShare plays the pods of a campaign and prints each miss:
//
//	go test ./inference -run '^$' -bench TruthsShare -benchtime 1x -campaign.ends 12 -campaign.switches 5
func BenchmarkTruthsShare(b *testing.B) {
	for range b.N {
		var mu sync.Mutex
		var all share
		someAtOnce(2**campaignPods, func(i int) {
			seed := *campaignSeed + int64(i/2)
			w := simbench.Generate(seed, simbench.Options{MinEnds: 4, MaxEnds: *campaignMaxEnds, MaxSwitches: *campaignMaxSw})
			var n share
			n.watch(w, mapping.Leads(i%2), seed, func(s string) { fmt.Println(s) })
			mu.Lock()
			defer mu.Unlock()
			all.steps, all.missed = all.steps+n.steps, all.missed+n.missed
		})
		fmt.Printf("\nof %d steps with little doubt stated, in %d the map that is there weighs more than three times that\n", all.steps, all.missed)
	}
}
