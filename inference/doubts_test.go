package inference

import (
	"math/rand/v2"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// heldWrong tells whether a reading says otherwise than the pod does in the setting that
// was written down.
func heldWrong(w *simbench.World, r mapping.Reading) bool {
	truth := false
	for _, a := range r.Red {
		for _, b := range r.Black {
			truth = truth || w.Joined(r.Setting, a, b)
		}
	}
	return truth != (r.Continuity() == mapping.Closed)
}

// TestTrueReadingsAreNoDoubt: readings taken in any order, all of them true, are not told
// to contradict each other, however little is known yet.
func TestTrueReadingsAreNoDoubt(t *testing.T) {
	odd := 0
	for seed := range 4 {
		w := simbench.Generate(int64(700+seed), simbench.Options{MinEnds: 7, MaxEnds: 10, MinSwitches: 3, MaxSwitches: 5})
		person := &simbench.Person{World: w, Leads: mapping.BunchLeads}
		r := rand.New(rand.NewPCG(uint64(seed), 3))
		e := NewEngine(w.Pod, nil)
		for len(e.readings) < 50 {
			s := randomSweep(r, w.Pod)
			if s.Control {
				continue
			}
			if seed%2 == 0 {
				s.Red, s.Black = s.Red[:1], s.Black[:1]
			}
			rs, err := person.Answer(s)
			if err != nil {
				t.Fatal(err)
			}
			e.Add(rs...)
			for i := range e.now().raw {
				if e.now().wrong(i) {
					odd++
				}
			}
			for _, d := range e.Result().Doubts {
				t.Errorf("seed %d, %d true readings: %v are told to contradict each other", seed, len(e.readings), d.Readings)
			}
		}
	}
	if odd == 0 {
		t.Error("the cheapest map never called a true reading wrong: there was nothing to hold back")
	}
}

// TestDoubtsAreWorthTelling: in an erring hand doubts are told, and hardly ever about
// readings that are all true.
func TestDoubtsAreWorthTelling(t *testing.T) {
	told, empty := 0, 0
	for seed := range int64(4) {
		w := simbench.Generate(700+seed, simbench.Options{MinEnds: 6, MaxEnds: 8, MinSwitches: 2, MaxSwitches: 4})
		byID := map[mapping.ReadingID]mapping.Reading{}
		solver := newEngineSolver(w.Pod)
		person := &simbench.Person{World: w, Fallible: true, Seed: seed, Leads: mapping.BunchLeads}
		simbench.Play(w, person, solver, simbench.Limits{Watch: func(_ mapping.Sweep, got []mapping.Reading) {
			for _, r := range got {
				byID[r.ID] = r
			}
			for _, d := range solver.now().Doubts {
				told++
				wrong := false
				for _, id := range d.Readings {
					wrong = wrong || heldWrong(w, byID[id])
				}
				if !wrong {
					empty++
				}
			}
		}})
	}
	if told < 50 || empty*20 > told {
		t.Errorf("%d doubts told, %d of them about true readings alone", told, empty)
	}
}
