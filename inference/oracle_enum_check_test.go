package inference

import (
	"math"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// tiny pods: three ends with two switches, or four with one.
func tinyWorld(seed int64) *simbench.World {
	if seed%2 == 0 {
		return simbench.Generate(seed, simbench.Options{MinEnds: 3, MaxEnds: 3, MinSwitches: 2, MaxSwitches: 2})
	}
	return simbench.Generate(seed, simbench.Options{MinEnds: 4, MaxEnds: 4, MinSwitches: 1, MaxSwitches: 1})
}

// countable gives the oracle of a pod and how many links a map may have for
// every such map to be counted in good time, if that covers the true map.
func countable(w *simbench.World) (o *oPod, most int, ok bool) {
	o = newOPod(w.Pod)
	n := len(w.Pod.Ends)
	switch c := len(o.candidates()); {
	case w.SettingCount()*n*(n-1)/2 > 64, c > 70:
		return o, 0, false
	case c > 30:
		most = 3
	default:
		most = 4
	}
	return o, most, len(w.Contacts) <= most
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
	for _, lever := range newOPod(w.Pod).settingsAll() {
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

// TestOracleFindsTheTruth: the oracle itself must be sound before anything is
// compared with it. With every pair read truly in every setting and controls
// between, its cheapest map says the truth everywhere, and no map with more
// links than it counted could be near.
func TestOracleFindsTheTruth(t *testing.T) {
	for seed := range int64(12) {
		w := tinyWorld(seed)
		o, most, ok := countable(w)
		if !ok {
			continue
		}
		table := o.enumerate(o.readings(tinyReadings(t, w, false, true)), most)
		t.Logf("seed %d: %d maps of %d links, best %.2f bits, weight of its opinion %.4f, by size %.1f", seed, table.maps,
			len(o.candidates()), table.best, table.agree/table.weight, table.bySize)
		wrong := 0
		for s, lever := range table.settings {
			nets := w.NetsAt(lever)
			for b := range nets {
				for a := range b {
					if (nets[a] == nets[b]) != (table.said>>table.claim(s, a, b)&1 == 1) {
						wrong++
					}
				}
			}
		}
		if wrong > 0 {
			t.Errorf("seed %d: the oracle is wrong in %d claims: %+v\n%v", seed, wrong, table.bestMap, w)
		}
		if tail := table.bySize[most]; tail < table.best+bitsProved && len(table.bestMap) < most-1 && !math.IsInf(tail, 1) {
			t.Logf("seed %d: a map of %d links is only %.1f bits dearer", seed, most, tail-table.best)
		}
	}
}
