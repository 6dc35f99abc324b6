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

// playFloor plays a pod with true readings, then searches the cheapest sweeps
// that prove the same map to the same grade: read truly by a fresh engine they leave it no less sure than its stop rule asks, and every
// claim at rest or with one switch moved that the player's engine graded proved
// is graded proved again.
func playFloor(seed int64, leads mapping.Leads, o simbench.Options) floorPlay {
	w := simbench.Generate(seed, o)
	var played []mapping.Sweep
	solver := newEngineSolver(w.Pod)
	limits := simbench.Limits{Watch: func(s mapping.Sweep, _ []mapping.Reading) { played = append(played, s) }}
	out := floorPlay{score: simbench.Play(w, &simbench.Person{World: w, Leads: leads}, solver, limits)}
	if out.score.Wrong() || !out.score.Stopped || out.score.Err != nil {
		out.err = fmt.Errorf("seed %d: no right map to prove (%v)", seed, out.score.Err)
		return out
	}
	want := provedClaims(w, solver)
	grant := func(sweeps []mapping.Sweep) (bool, []mapping.Map) {
		person := &simbench.Person{World: w, Leads: leads}
		e := newEngineSolver(w.Pod)
		for _, s := range sweeps {
			rs, err := person.Answer(s)
			if err != nil {
				return false, nil
			}
			e.Add(rs...)
		}
		st := e.now().state.withHands(leads)
		if st.doubtLeft() < stopDoubt && !slices.ContainsFunc(want, func(k simbench.Claim) bool {
			joined, grade := e.Verdict(k.Setting, k.A, k.B)
			return grade != mapping.Proved || joined != k.Joined
		}) {
			return true, nil
		}
		others := []mapping.Map{st.tell(st.best)}
		for _, r := range st.rivals {
			others = append(others, st.tell(r.h))
		}
		return false, others
	}
	out.floor, out.err = simbench.FloorOf(w, solver.Map(), want, leads, played, grant, simbench.Effort{Seed: seed})
	return out
}

// tellFloor prints bench time over the floor for so many small pods by bunches,
// and the floor over the textbook grid for as many pods of 8 and 9 ends with a
// clip and a needle.
func tellFloor(pods int) {
	ratio, low, gap := "bench time / floor (cheapest proof found)",
		"bench time / counted lower bound", "cheapest proof found / counted lower bound"
	tellFloors("perfect bunch", pods, mapping.BunchLeads, simbench.Options{MaxEnds: 8, MaxSwitches: 5}, []floorRow{
		{ratio, "median at most 1.5", func(f floorPlay) float64 { return f.score.Cost.Seconds / f.floor.Found }},
		{low, "for information", func(f floorPlay) float64 { return f.score.Cost.Seconds / f.floor.Bound }},
		{gap, "how far the floor is bounded", func(f floorPlay) float64 { return f.floor.Found / f.floor.Bound }},
	})
	tellFloors("perfect pair", pods, mapping.PairLeads, simbench.Options{MinEnds: 8, MaxEnds: 9, MaxSwitches: 5}, []floorRow{
		{"floor (cheapest proof found) / textbook grid", "the play is to take 0.5", func(f floorPlay) float64 { return f.floor.Found / f.score.Grid }},
		{"bench time / textbook grid, the same pods", "median at most 0.5", func(f floorPlay) float64 { return f.score.Cost.Seconds / f.score.Grid }},
		{ratio, "for information", func(f floorPlay) float64 { return f.score.Cost.Seconds / f.floor.Found }},
	})
	fmt.Print("    floor: the search is not exhaustive: annealing over sweeps, from the play itself and from random halvings,\n" +
		"    against the maps that the engine still holds possible (an upper bound of the floor); the lower bound, for bunches, is by counting alone.\n")
}

// tell writes a map down as it is told, without grades.
func (s *state) tell(h *hyp) mapping.Map {
	var m mapping.Map
	for _, x := range h.atoms {
		m.Links = append(m.Links, s.link(x))
	}
	return m
}

// floorRow is a figure of a play and its floor.
type floorRow struct {
	what, reach string
	of          func(floorPlay) float64
}

func tellFloors(name string, pods int, leads mapping.Leads, o simbench.Options, rows []floorRow) {
	plays := make([]floorPlay, pods)
	someAtOnce(pods, func(i int) {
		f := playFloor(*campaignSeed+int64(i), leads, o)
		plays[i] = f
		if f.err != nil {
			fmt.Println("    " + f.err.Error())
		} else if *campaignList {
			fmt.Printf("  seed %d: %d ends %d switches: played %.0f s, cheapest proof found %.0f s, counted bound %.0f s, grid %.0f s, %d rivals\n",
				f.score.Seed, f.score.Ends, f.score.Switches, f.score.Cost.Seconds, f.floor.Found, f.floor.Bound, f.score.Grid, f.floor.Rivals)
		}
	})
	plays = slices.DeleteFunc(plays, func(f floorPlay) bool { return f.err != nil })
	for _, row := range rows {
		var v []float64
		for _, f := range plays {
			v = append(v, row.of(f))
		}
		slices.Sort(v)
		fmt.Printf("%-16s %-44s %10.2f %10.2f %10.2f  %s\n", name, row.what, quantile(v, 0.5), quantile(v, 0.9), quantile(v, 1), row.reach)
	}
	fmt.Printf("    %d pods, %d without a right map or a proof of it\n", pods, pods-len(plays))
}
