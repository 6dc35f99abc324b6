package inference

import (
	"math"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// tinyWorld is a pod small enough to count every map: three ends with two
// switches, or four with one.
func tinyWorld(seed int64) *simbench.World {
	if seed%2 == 0 {
		return simbench.Generate(seed, simbench.Options{MinEnds: 3, MaxEnds: 3, MinSwitches: 2, MaxSwitches: 2})
	}
	return simbench.Generate(seed, simbench.Options{MinEnds: 4, MaxEnds: 4, MinSwitches: 1, MaxSwitches: 1})
}

// countable gives the oracle of a pod and how many links a map may have for
// every such map to be counted in good time, if that covers the true map with
// one link more, so that the nearest rivals are counted as well.
func countable(w *simbench.World) (o *simbench.Model, most int, ok bool) {
	o = simbench.NewModel(w.Pod)
	n := len(w.Pod.Ends)
	switch c := len(o.Candidates()); {
	case w.SettingCount()*n*(n-1)/2 > 64, c > 70:
		return o, 0, false
	case c > 30:
		most = 3
	default:
		most = 5
	}
	return o, most, len(w.Contacts) < most
}

// tinyReadings takes every pair in every setting, by a person who errs or not.
func tinyReadings(t *testing.T, w *simbench.World, fallible bool, controls bool) []mapping.Reading {
	t.Helper()
	person := &simbench.Person{World: w, Fallible: fallible, Seed: w.Seed, Leads: mapping.BunchLeads}
	var out []mapping.Reading
	add := func(s mapping.Sweep) {
		rs, err := person.Answer(s)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, rs...)
	}
	var steps []mapping.Setting
	for _, lever := range w.Settings() {
		steps = append(steps, w.Setting(lever))
	}
	for i, a := range w.Pod.Ends {
		for _, b := range w.Pod.Ends[:i] {
			add(mapping.Sweep{Red: []mapping.EndID{a.ID}, Black: []mapping.EndID{b.ID}, Steps: steps})
			if controls {
				add(mapping.Sweep{Control: true, Red: []mapping.EndID{a.ID}, Black: []mapping.EndID{a.ID}})
			}
		}
	}
	return out
}

// eachCountable runs over the first few pods that the oracle can count.
func eachCountable(pods int, f func(w *simbench.World, o *simbench.Model, most int)) {
	for seed := int64(0); pods > 0; seed++ {
		w := tinyWorld(seed)
		if o, most, ok := countable(w); ok {
			pods--
			f(w, o, most)
		}
	}
}

// TestOracleFindsTheTruth: the oracle itself must be sound before anything is
// compared with it. With every pair read truly in every setting and controls
// between, its cheapest map says the truth everywhere, and no map with more
// links than it counted could be near.
func TestOracleFindsTheTruth(t *testing.T) {
	eachCountable(8, func(w *simbench.World, o *simbench.Model, most int) {
		// Twice: an odd pod needs more than one silence in each place.
		readings := tinyReadings(t, w, false, true)
		twice := append([]mapping.Reading(nil), readings...)
		for _, r := range readings {
			r.ID += mapping.ReadingID(len(readings))
			r.Sweep += mapping.SweepID(len(readings))
			twice = append(twice, r)
		}
		o.Needle = simbench.WithNeedle(w.Pod, twice)
		table := o.Enumerate(o.Readings(twice), most)
		t.Logf("seed %d: %d maps, best %.2f bits, weight of its opinion %.4f, by size %.1f", w.Seed, table.Maps,
			table.Best, table.Agree/table.Weight, table.BySize)
		for s, lever := range table.Settings {
			nets := w.NetsAt(lever)
			for b := range nets {
				for a := range b {
					if (nets[a] == nets[b]) != table.Joined(table.Claim(s, a, b)) {
						t.Errorf("seed %d: the oracle is wrong about ends %d and %d in %v: %+v\n%v", w.Seed, a, b, lever, table.BestMap, w)
					}
				}
			}
		}
	})
}

// TestOracleGrades: on pods small enough to count every map, the engine's
// verdict, its bits and its grade of every claim are those of the count, with
// true readings, with readings that err, and with few readings.
func TestOracleGrades(t *testing.T) {
	for _, kind := range []struct {
		name     string
		fallible bool
		controls bool
		part     int // every so manieth reading is kept
	}{
		{"true", false, true, 1}, {"true, no controls", false, false, 1}, {"erring", true, true, 1}, {"few", false, false, 3},
	} {
		t.Run(kind.name, func(t *testing.T) {
			claims, off, worst := 0, 0, 0.0
			eachCountable(8, func(w *simbench.World, o *simbench.Model, most int) {
				var readings []mapping.Reading
				for i, r := range tinyReadings(t, w, kind.fallible, kind.controls) {
					if i%kind.part == 0 {
						readings = append(readings, r)
					}
				}
				o.Needle = simbench.WithNeedle(w.Pod, readings)
				table := o.Enumerate(o.Readings(readings), most)
				if len(table.BestMap) == most {
					return // its nearest rivals have a link more than was counted
				}
				result := Infer(w.Pod, readings)
				for s, lever := range table.Settings {
					for b := range w.Pod.Ends {
						for a := range b {
							c := table.Claim(s, a, b)
							v := result.Joined(w.Setting(lever), w.Pod.Ends[a].ID, w.Pod.Ends[b].ID)
							want := table.Bits(c)
							claims++
							if math.IsInf(want, 1) || want < 1e-6 { // not counted that far, or a tie
								continue
							}
							if v.Joined != table.Joined(c) {
								t.Errorf("seed %d: ends %s and %s in %v: engine says joined %v, the count says otherwise by %.2f bits",
									w.Seed, w.Pod.Ends[a].ID, w.Pod.Ends[b].ID, w.Setting(lever), v.Joined, want)
								continue
							}
							d := math.Abs(v.Bits - want)
							worst = max(worst, d)
							if v.Grade == mapping.NotTested {
								continue
							}
							if d > 0.01 && (min(v.Bits, want) < 3*bitsProved) {
								off++
								t.Errorf("seed %d: ends %s and %s in %v: engine %.2f bits (%s), count %.2f: best %s, rival %s",
									w.Seed, w.Pod.Ends[a].ID, w.Pod.Ends[b].ID, w.Setting(lever), v.Bits, v.Grade, want,
									o.Tell(table.BestMap), o.Tell(table.Rival[c]))
							}
							if g := gradeOf(want); v.Grade != g && d > 0.01 {
								t.Errorf("seed %d: graded %s, the count says %s", w.Seed, v.Grade, g)
							}
						}
					}
				}
			})
			t.Logf("%d claims, %d off by more than 0.01 bits, worst %.2f", claims, off, worst)
		})
	}
}

// gradeOf gives the grade by the design's thresholds: 10 bits and 4.
func gradeOf(bits float64) mapping.Grade {
	switch {
	case bits >= 10:
		return mapping.Proved
	case bits >= 4:
		return mapping.Likely
	}
	return mapping.OpenQuestion
}
