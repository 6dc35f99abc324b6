package inference

import (
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// TestNewEndLeavesWhatIsKnown: an end that comes in after the work can be thought into any
// net; what was found between the others is as sure as it was, and what is open is named
// as what it is, something about the new end.
func TestNewEndLeavesWhatIsKnown(t *testing.T) {
	links, known, points, about := 0, 0, 0, 0
	for seed := range int64(6) {
		w := simbench.Generate(seed+1, simbench.Options{MinEnds: 7, MaxEnds: 9, MinSwitches: 3, MaxSwitches: 4})
		var rs []mapping.Reading
		simbench.Play(w, &simbench.Person{World: w, Leads: mapping.BunchLeads}, newEngineSolver(w.Pod), simbench.Limits{Keep: &rs})
		pod := w.Pod
		pod.Ends = append(append([]mapping.End{}, pod.Ends...), mapping.End{ID: "99"})
		r := Infer(pod, rs)
		for _, l := range r.Map.Links {
			if links++; l.Grade.Known() {
				known++
			}
		}
		for _, o := range r.OpenInWords {
			if points++; o.A == "99" || o.B == "99" {
				about++
			}
		}
		for i, a := range w.Pod.Ends {
			for _, b := range w.Pod.Ends[:i] {
				if v := r.Joined(pod.Rest(), a.ID, b.ID); !v.Grade.Known() {
					t.Errorf("seed %d: %s-%s at rest is %s", seed+1, a.ID, b.ID, v.Grade)
				}
			}
			if v := r.Joined(pod.Rest(), a.ID, "99"); v.Grade.Known() {
				t.Errorf("seed %d: %s-99 is %s, and nobody has read it", seed+1, a.ID, v.Grade)
			}
		}
	}
	if known*20 < links*19 || about*10 < points*8 || points == 0 {
		t.Errorf("%d of %d links known, %d of %d open points about the new end", known, links, about, points)
	}
}
