package inference

import (
	"fmt"
	"slices"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// floorPlay is one pod played and its floor searched.
type floorPlay struct {
	score simbench.Score
	floor simbench.Floor
	err   error
}

// playFloor plays a pod with true readings by bunches, then searches the
// cheapest sweeps that prove the same map to the same grade: read truly by a
// fresh engine they leave it no less sure than its stop rule asks, and every
// claim at rest or with one switch moved that the player's engine graded proved
// is graded proved again.
func playFloor(seed int64) floorPlay {
	w := simbench.Generate(seed, simbench.Options{MaxEnds: 8, MaxSwitches: 5})
	var played []mapping.Sweep
	solver := newEngineSolver(w.Pod)
	limits := simbench.Limits{Watch: func(s mapping.Sweep, _ []mapping.Reading) { played = append(played, s) }}
	out := floorPlay{score: simbench.Play(w, &simbench.Person{World: w, Leads: mapping.BunchLeads}, solver, limits)}
	if out.score.Wrong() || !out.score.Stopped || out.score.Err != nil {
		out.err = fmt.Errorf("seed %d: no right map to prove (%v)", seed, out.score.Err)
		return out
	}
	want := provedClaims(w, solver)
	grant := func(sweeps []mapping.Sweep) bool {
		person := &simbench.Person{World: w, Leads: mapping.BunchLeads}
		e := newEngineSolver(w.Pod)
		for _, s := range sweeps {
			rs, err := person.Answer(s)
			if err != nil {
				return false
			}
			e.Add(rs...)
		}
		if 1-e.Confidence() > stopDoubt {
			return false
		}
		for _, k := range want {
			if joined, grade := e.Verdict(k.Setting, k.A, k.B); grade != mapping.Proved || joined != k.Joined {
				return false
			}
		}
		return true
	}
	out.floor, out.err = simbench.FloorOf(w, solver.Map(), want, mapping.BunchLeads, played, grant, simbench.Effort{Seed: seed})
	return out
}

// tellFloor prints bench time over the floor for so many small pods.
func tellFloor(pods int) {
	var ratio, own, low, gap []float64
	failed := 0
	for i := range pods {
		f := playFloor(*campaignSeed + int64(i))
		if f.err != nil {
			failed++
			fmt.Println("    " + f.err.Error())
			continue
		}
		ratio = append(ratio, f.score.Cost.Seconds/f.floor.Found)
		own = append(own, f.score.Cost.Seconds/f.floor.Granted)
		low = append(low, f.score.Cost.Seconds/f.floor.Bound)
		gap = append(gap, f.floor.Found/f.floor.Bound)
		if *campaignList {
			fmt.Printf("  seed %d: %d ends %d switches: played %.0f s, cheapest proof found %.0f s (granted by the engine %.0f s), counted bound %.0f s, %d rivals\n",
				f.score.Seed, f.score.Ends, f.score.Switches, f.score.Cost.Seconds, f.floor.Found, f.floor.Granted, f.floor.Bound, f.floor.Rivals)
		}
	}
	for _, x := range []struct {
		what, reach string
		v           []float64
	}{
		{"bench time / floor (cheapest proof found)", "median at most 1.5", ratio},
		{"bench time / cheapest that the engine grants", "for information", own},
		{"bench time / counted lower bound", "for information", low},
		{"cheapest proof found / counted lower bound", "how far the floor is bounded", gap},
	} {
		slices.Sort(x.v)
		fmt.Printf("%-16s %-44s %10.2f %10.2f %10.2f  %s\n", "perfect bunch", x.what, quantile(x.v, 0.5), quantile(x.v, 0.9), quantile(x.v, 1), x.reach)
	}
	fmt.Printf("    floor: %d pods of up to 8 ends, %d without a right map to prove. The search is not exhaustive: annealing over sweeps, from\n"+
		"    the play itself and from random halvings (an upper bound of the floor); the lower bound is by counting alone.\n", pods, failed)
}
