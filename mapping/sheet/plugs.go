package sheet

import (
	"fmt"

	"bellout/mapping/plan"
)

// plugSection shows each plug from both faces of its loom half, and its fill
// with boxes to tick for both halves.
func plugSection(in Input) section {
	s := section{title: "Plugs", notes: []string{
		"What is cavity 1 on the left of one face is on the right of the other: say the face aloud. The wire-entry face of the loom half and the mating face of the module half look alike; so do the other two.",
	}}
	for _, pl := range in.Plan.Plugs {
		for _, v := range in.Views {
			if v.Plug != pl.Name || v.Half != plan.LoomHalf {
				continue
			}
			g := table{title: v.Title, grid: true}
			for _, r := range v.Rows {
				var cells []string
				for _, n := range r {
					c := ""
					if n > 0 {
						c = fmt.Sprint(n)
					}
					cells = append(cells, c)
				}
				g.rows = append(g.rows, cells)
			}
			s.tables = append(s.tables, g)
		}
		t := table{title: plugTitle(pl), head: []string{"Cavity", "Old", "What", "DIN", "Loom wire", "", "Module wire", "", "Way"}}
		for _, r := range in.Rows {
			if r.Plug != pl.Name {
				continue
			}
			if r.LoomWire == "" && r.ModuleWire == "" {
				what := r.Role
				if r.What != "" {
					what += ", " + r.What
				}
				t.rows = append(t.rows, []string{fmt.Sprint(r.Cavity), r.Old, what, r.Din, "", "", "", "", ""})
				continue
			}
			row := []string{fmt.Sprint(r.Cavity), r.Old, r.What, r.Din, "", "", "", "", r.Way}
			if r.LoomWire != "" {
				row[4], row[5] = spaced(r.LoomWire, r.LoomCode), tick
			}
			if r.ModuleWire != "" {
				row[6], row[7] = spaced(r.ModuleWire, r.ModuleCode), tick
			}
			t.rows = append(t.rows, row)
		}
		s.tables = append(s.tables, t)
	}
	return s
}

func spaced(a, b string) string {
	if b == "" {
		return a
	}
	return a + " " + b
}

func plugTitle(pl plan.Plug) string {
	s := fmt.Sprintf("%s, %s: %s, %d cavities", pl.Name, pl.Module, orOpen(pl.Housing), pl.Cavities)
	if pl.Terminal != "" {
		s += ", " + pl.Terminal + " terminals"
	}
	switch pl.Shrouded {
	case plan.LoomHalf, plan.ModuleHalf:
		s += "; live half, shrouded, female terminals: " + string(pl.Shrouded)
	}
	if pl.LoomKind != "" {
		s += "; loom half is the " + pl.LoomKind
	}
	if pl.Keying != "" {
		s += "; keying: " + pl.Keying
	}
	return s
}
