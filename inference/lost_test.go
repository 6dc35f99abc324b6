package inference

import (
	"math/bits"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// TestLostAsksLittle: once the samples disagree though much was read, a sweep crosses
// few pairs; before, and with a needle, nothing is forbidden.
func TestLostAsksLittle(t *testing.T) {
	w := simbench.Generate(31, simbench.Options{MinEnds: 20, MaxEnds: 20, MinSwitches: 4, MaxSwitches: 4})
	e := NewEngine(w.Pod, nil)
	bench := mapping.Bench{Leads: mapping.BunchLeads, Levers: w.Pod.Rest()}
	s := *e.now()
	for range 3 { // samples that disagree; readings enough for any map
		s.raw = append(s.raw, make([]obs, 200)...)
	}
	if !s.lost(mapping.BunchLeads) || s.lost(mapping.PairLeads) {
		t.Fatal("600 readings without a map are not taken for lost by bunches, or are with a needle")
	}
	pl := e.now().newPlanner(bench)
	if pl.lost {
		t.Fatal("lost before the first reading")
	}
	crossed := func(pl *planner) int {
		most := 0
		for seed := range uint64(4) {
			if c, ok := pl.best(seed); ok {
				most = max(most, bits.OnesCount64(c.red)*bits.OnesCount64(c.black))
			}
		}
		return most
	}
	const half, other = 1<<10 - 1, (1<<10 - 1) << 10
	if !pl.allowed(half, other) {
		t.Error("at the beginning halves may not be read")
	}
	pl.lost = true
	if pl.allowed(half, other) {
		t.Error("lost, halves may be read")
	}
	pl.priced.Clear()
	if n := crossed(pl); n == 0 || n > fewPairs {
		t.Errorf("lost, a sweep crosses %d pairs", n)
	}
}
