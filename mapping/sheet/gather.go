package sheet

import "bellout/mapping/plan"

// Gather works out of a plan all that the paper shows. Read gives what was
// read of the proof list, by check ID; nil while nothing was.
func Gather(p plan.Plan, read map[string]string) Input {
	in := Input{
		Plan: p, Worked: plan.Work(p), Rows: plan.OldToNew(p), Unplug: plan.Unplug(p),
		Findings: plan.CheckAll(p), Read: read,
	}
	for _, pl := range p.Plugs {
		in.Views = append(in.Views, plan.Halves(p, pl.Name)...)
	}
	return in
}
