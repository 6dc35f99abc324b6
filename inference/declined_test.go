package inference

import (
	"fmt"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// TestWhatIsNotAnsweredIsLeft: with an end that the probe never reaches, a position in
// which the builder is never sure, or nothing answered at all, the work goes on with
// the rest, ends, and vouches for nothing that hangs on it; no question is put for ever.
func TestWhatIsNotAnsweredIsLeft(t *testing.T) {
	for _, leads := range []mapping.Leads{mapping.PairLeads, mapping.BunchLeads} {
		for seed := range int64(6) {
			w := simbench.Generate(700+seed, simbench.Options{MinEnds: 5, MaxEnds: 7, MinSwitches: 2, MaxSwitches: 3})
			pod := w.Pod
			lost := pod.Ends[2].ID
			sw := pod.Switches[0]
			off := sw.Positions[0]
			if off == sw.Rest {
				off = sw.Positions[1]
			}
			touches := func(s mapping.Sweep) bool {
				return len(s.Red) == 1 && s.Red[0] == lost || len(s.Black) == 1 && s.Black[0] == lost
			}
			for _, c := range []struct {
				what    string
				outcome mapping.Outcome
				said    func(s mapping.Sweep, step mapping.Setting) bool
				most    int // unanswered
			}{
				{"an end out of reach", mapping.CannotReach, func(s mapping.Sweep, _ mapping.Setting) bool { return !touches(s) }, 40},
				{"a position not sure", mapping.NotSure, func(_ mapping.Sweep, at mapping.Setting) bool { return at[sw.Name] != off }, 40},
				{"nothing", mapping.NotSure, func(mapping.Sweep, mapping.Setting) bool { return false }, newProblem(pod, nil).mostReadings() + 24},
			} {
				unanswered, taken, ended := 0, 0, true
				put := map[string]int{}
				e := byHand(t, &simbench.Person{World: w, Leads: leads}, func(Proposal) bool {
					ended = taken < 2000
					return ended
				}, func(s mapping.Sweep, rs []mapping.Reading) {
					for i := range rs {
						if rs[i].Control {
							continue
						}
						if !c.said(s, rs[i].Setting) {
							rs[i].Outcome = c.outcome
							unanswered++
							q := fmt.Sprint(rs[i].Red, rs[i].Black, rs[i].Setting)
							if put[q]++; put[q] > patience+1 {
								t.Fatalf("pod %d %s, %s: put %d times: %s", 700+seed, leads, c.what, put[q], q)
							}
						}
					}
					taken += len(rs)
				})
				if !ended || unanswered > c.most {
					t.Errorf("pod %d %s, %s: ended %v after %d readings, %d of them unanswered", 700+seed, leads, c.what, ended, taken, unanswered)
				}
				if r := e.Result(); c.what == "nothing" && (r.Done || len(r.Map.Unresolved) == 0) {
					t.Errorf("pod %d %s: from nothing, done %v and %d unresolved", 700+seed, leads, r.Done, len(r.Map.Unresolved))
				}
			}
		}
	}
}
