package sheet

import (
	"slices"

	"bellout/mapping/plan"
)

// Gather works out of a plan all that the paper shows. Sizes and fuses that the
// plan leaves open are filled in as worked out. Read gives what was read of the
// proof list, by check ID; nil while nothing was.
func Gather(p plan.Plan, read map[string]string) Input {
	w := plan.Work(p)
	p.Wires, p.Block.Ways = slices.Clone(p.Wires), slices.Clone(p.Block.Ways)
	for i := range p.Wires {
		for _, x := range w.Wires {
			if x.Name == p.Wires[i].Name && p.Wires[i].MM2 == 0 {
				p.Wires[i].MM2 = x.MM2
			}
		}
	}
	for i := range p.Block.Ways {
		for _, x := range w.Ways {
			if x.Name == p.Block.Ways[i].Name && p.Block.Ways[i].Fuse == 0 {
				p.Block.Ways[i].Fuse = x.Fuse
			}
		}
	}
	in := Input{
		Plan: p, Worked: w, Rows: plan.OldToNew(p), Proof: plan.ProofList(p), Power: plan.FirstPower(p),
		Unplug: plan.Unplug(p), Tries: plan.TryPlugs(p), Shared: plan.ShareOut(p), Findings: plan.CheckAll(p), Read: read,
	}
	for _, pl := range p.Plugs {
		in.Views = append(in.Views, plan.Halves(p, pl.Name)...)
	}
	return in
}
