package inference

import (
	"fmt"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// TestNotAskedForEver: whatever goes wrong at the bench, nothing is asked more than
// mostRepeats times in a row with clips and levers left alone, and no question comes
// back all the time.
func TestNotAskedForEver(t *testing.T) {
	const often = 14 // of one question in a whole play of a small pod
	readings := 0
	for seed := range int64(24) {
		w := simbench.Generate(85100+seed, simbench.Options{MinEnds: 4, MaxEnds: 8, MaxSwitches: 3})
		for _, leads := range []mapping.Leads{mapping.PairLeads, mapping.BunchLeads} {
			var rs []mapping.Reading
			person := &simbench.Person{World: w, Fallible: true, Seed: seed, Leads: leads}
			simbench.Play(w, person, newEngineSolver(w.Pod), simbench.Limits{Keep: &rs})
			asked := map[string]int{}
			row, last := 0, ""
			for _, r := range rs {
				question := fmt.Sprint(r.Red, r.Black, r.Setting)
				if row++; r.Control || question != last {
					row = 1
				}
				last = question
				if r.Control {
					last = ""
					continue
				}
				asked[question]++
				if row > mostRepeats || asked[question] > often {
					t.Errorf("pod %d: asked %d times in a row, %d times in all: %s", 85100+seed, row, asked[question], question)
				}
			}
			readings += len(rs)
		}
	}
	if readings < 1000 {
		t.Errorf("%d readings are no test", readings)
	}
}

// TestControlBeepsSayWhatIsLeft: a control beep is not the end of the work, and does not
// say so.
func TestControlBeepsSayWhatIsLeft(t *testing.T) {
	w := simbench.Generate(85103, simbench.Options{MinEnds: 7, MaxEnds: 8, MinSwitches: 2, MaxSwitches: 3})
	controls := 0
	byHand(t, &simbench.Person{World: w, Fallible: true, Seed: 1, Leads: mapping.PairLeads}, func(p Proposal) bool {
		if p.Sweep.Control {
			controls++
			if p.SecondsLeft < p.Sweep.Why.Seconds {
				t.Errorf("a control beep of %.1f s with %.1f s left", p.Sweep.Why.Seconds, p.SecondsLeft)
			}
		}
		return true
	}, func(mapping.Sweep, []mapping.Reading) {})
	if controls == 0 {
		t.Error("no control beep was asked for")
	}
}
