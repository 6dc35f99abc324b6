package inference

import (
	"math"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// TestOracleConfidence: on pods small enough to count every map, the engine
// never states more certainty than the count gives to what its map says,
// unresolved claims left open either way, by more than 1 in 200.
func TestOracleConfidence(t *testing.T) {
	worst := 0.0
	eachCountable(10, func(w *simbench.World, o *simbench.Model, most int) {
		for _, kind := range []struct {
			fallible bool
			part     int
		}{{false, 1}, {true, 1}, {false, 2}, {false, 4}} {
			var readings []mapping.Reading
			for i, r := range tinyReadings(t, w, kind.fallible, true) {
				if i%kind.part == 0 {
					readings = append(readings, r)
				}
			}
			o.Needle = simbench.WithNeedle(w.Pod, readings)
			table := o.Enumerate(o.Readings(readings), most)
			r := Infer(w.Pod, readings)
			right := table.WeightOf(func(claim int, joined bool) bool {
				s, a, b := table.Pair(claim)
				at := w.Setting(table.Settings[s])
				x, y := w.Pod.Ends[a].ID, w.Pod.Ends[b].ID
				return r.Map.Joined(w.Pod, at, x, y) == joined || leftOpen(w.Pod, r.Map, at, x, y)
			})
			over := r.Confidence - right
			worst = math.Max(worst, over)
			if over > stopDoubt {
				t.Errorf("seed %d, fallible %v, 1 reading in %d: engine states %.4f, the count gives %.4f to what it says",
					w.Seed, kind.fallible, kind.part, r.Confidence, right)
			}
		}
	})
	t.Logf("stated certainty above the count by at most %.4f", worst)
}

// leftOpen tells whether the map names a pair as unresolved in a setting.
func leftOpen(p mapping.Pod, m mapping.Map, at mapping.Setting, a, b mapping.EndID) bool {
	for _, l := range m.Unresolved {
		if (l.A == a && l.B == b || l.A == b && l.B == a) && l.Holds(p, at) {
			return true
		}
	}
	return false
}
