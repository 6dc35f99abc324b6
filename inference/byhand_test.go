package inference

import (
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// byHand plays a pod proposal by proposal, as long as going on is asked for: put is
// shown each before it is answered, and heard may change what was read before the engine
// takes it.
func byHand(t *testing.T, person *simbench.Person, put func(Proposal) (goOn bool), heard func(mapping.Sweep, []mapping.Reading)) *Engine {
	t.Helper()
	pod := person.World.Pod
	e := NewEngine(pod, nil)
	bench := mapping.Bench{Leads: person.Leads, Levers: pod.Rest()}
	for {
		p, ok := e.Next(bench)
		if !ok || !put(p) {
			return e
		}
		rs, err := person.Answer(p.Sweep)
		if err != nil {
			t.Fatal(err)
		}
		heard(p.Sweep, rs)
		e.Add(rs...)
		bench = bench.After(pod, p.Sweep)
	}
}
