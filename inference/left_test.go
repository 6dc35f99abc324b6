package inference

import (
	"slices"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// TestTimeLeftIsFair: the time that is said to be left is, in the median over the
// sweeps of a few plays, neither less than half nor more than twice what it then took,
// early as late, with careful hands and with erring ones.
func TestTimeLeftIsFair(t *testing.T) {
	for _, leads := range []mapping.Leads{mapping.PairLeads, mapping.BunchLeads} {
		for _, fallible := range []bool{false, true} {
			var parts [3][]float64 // of the work: the beginning, the middle, the end
			for seed := range int64(7) {
				w := simbench.Generate(45000+seed, simbench.Options{MinEnds: 7, MaxEnds: 10, MinSwitches: 2, MaxSwitches: 4})
				hand := simbench.NewHand(w.Pod, leads)
				var said, at []float64
				byHand(t, &simbench.Person{World: w, Fallible: fallible, Seed: seed, Leads: leads}, func(p Proposal) bool {
					said, at = append(said, p.SecondsLeft), append(at, hand.Seconds)
					return true
				}, func(s mapping.Sweep, _ []mapping.Reading) { hand.Do(s) })
				for i := range said {
					part := int(3 * at[i] / hand.Seconds)
					parts[part] = append(parts[part], said[i]/(hand.Seconds-at[i]))
				}
			}
			for i, part := range parts {
				slices.Sort(part)
				m := part[len(part)/2]
				t.Logf("%s, fallible %v, part %d of 3: %.2f (%d sweeps)", leads, fallible, i+1, m, len(part))
				if m < 0.5 || m > 2 {
					t.Errorf("%s, fallible %v, part %d of 3: %.2f of what is left is said to be", leads, fallible, i+1, m)
				}
			}
		}
	}
}
