package inference

import (
	"reflect"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// TestComparedIsTheBest: what is known of further links is about the best map, also
// where the best map still gives way to a rival when no more moves are left.
func TestComparedIsTheBest(t *testing.T) {
	bounded := 0
	for seed := range int64(12) {
		w := simbench.Generate(seed, simbench.Options{MinEnds: 8, MaxEnds: 8, MinSwitches: 3, MaxSwitches: 3})
		s := beginState(w.Pod)
		truth := tellEngine(s.p, w.TrueLinks())
		s.raw = readAll(s.p, truth, func(a, b int, set uint64) bool { return (int(set)+a+b)%5 != 0 })
		s.hands = mapping.BunchLeads.MostHeld()
		s.courses = courses{taken: map[uint64]*course{}}
		s.further = nil
		for i := range truth.atoms { // each end is taken for the next
			x := &truth.atoms[i]
			x.rewire((int(x.a)+1)%s.p.n, (int(x.b)+1)%s.p.n)
		}
		s.best = truth
		s.believe(s.best)
		s.total = s.p.explain(s.best, s.raw, nil) + s.p.prior(s.best)
		s.compare()
		if s.beaten() {
			bounded++
		}
		if s.adding == nil || s.adding.h != s.best {
			t.Fatalf("seed %d: further links are weighed on top of another map than the best", seed)
		}
	}
	if bounded == 0 {
		t.Error("no map gave way more often than is allowed")
	}
}

// TestWhatWasFoundIsKept: however long a session, a further sweep leaves no map that is
// dearer than the best one before it.
func TestWhatWasFoundIsKept(t *testing.T) {
	changed := 0
	for _, seed := range []int64{3, 5} {
		w := simbench.Generate(seed, simbench.Options{MinEnds: 12, MaxEnds: 12, MinSwitches: 5, MaxSwitches: 5})
		readings := manyReadings(t, w, 900)
		e := NewEngine(w.Pod, nil)
		var best *hyp
		for at, to := 0, 0; at < len(readings); at = to {
			for to = at + 1; to < len(readings) && sameSweep(readings[at], readings[to]); to++ {
			}
			e.Add(readings[at:to]...)
			s := e.now()
			if best != nil {
				if was := s.p.explain(best, s.raw, nil) + s.p.prior(best); s.total > was+1e-6 {
					t.Fatalf("seed %d, %d readings: the best map costs %.1f bits, the one before still %.1f", seed, len(s.raw), s.total, was)
				}
				if !s.p.sameMap(best, s.best) {
					changed++
				}
			}
			best = s.best
		}
	}
	if changed == 0 {
		t.Error("no sweep changed the best map")
	}
}

// TestAdvanceTellsHowFar: readings taken in step by step end where they do when taken in
// at once, and the steps tell how far they are.
func TestAdvanceTellsHowFar(t *testing.T) {
	w := simbench.Generate(5, simbench.Options{MinEnds: 5, MaxEnds: 6, MinSwitches: 2, MaxSwitches: 2})
	var rs []mapping.Reading
	simbench.Play(w, &simbench.Person{World: w, Leads: mapping.BunchLeads}, newEngineSolver(w.Pod), simbench.Limits{Keep: &rs})
	e := NewEngine(w.Pod, rs)
	last := 0
	for more := true; more; {
		var in int
		if in, more = e.Advance(); in <= last || in > len(rs) || more != (in < len(rs)) {
			t.Fatalf("%d readings of %d in after %d, more: %v", in, len(rs), last, more)
		}
		last = in
	}
	if in, more := e.Advance(); in != len(rs) || more {
		t.Errorf("%d readings of %d in, more: %v", in, len(rs), more)
	}
	if got, want := e.Result(), Infer(w.Pod, rs); got.Confidence != want.Confidence || !reflect.DeepEqual(got.Map, want.Map) {
		t.Errorf("step by step %v, at once %v", got.Map, want.Map)
	}
}
