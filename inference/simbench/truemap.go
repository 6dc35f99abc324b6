package simbench

import (
	"slices"

	"bellout/mapping"
)

// TrueLinks is the network seen from outside: hidden junctions replaced by
// links that need several switches. Nothing is lost, since a junction only
// matters to what it joins.
func (w *World) TrueLinks() ModelMap {
	var m ModelMap
	for _, c := range w.Contacts {
		l := ModelLink{A: min(c.A, c.B), B: max(c.A, c.B)}
		if c.Switch >= 0 {
			l.Terms = []ModelTerm{{c.Switch, c.Mask}}
		}
		m = append(m, l)
	}
	for h := w.Points - 1; h >= len(w.Pod.Ends); h-- {
		var at, rest ModelMap
		for _, l := range m {
			if l.A == h || l.B == h {
				at = append(at, l)
			} else {
				rest = append(rest, l)
			}
		}
		for i, x := range at {
			for _, y := range at[:i] {
				a, b := x.A+x.B-h, y.A+y.B-h
				if terms, ok := both(x.Terms, y.Terms); ok && a != b {
					rest = append(rest, ModelLink{min(a, b), max(a, b), terms})
				}
			}
		}
		m = rest
	}
	return NewModel(w.Pod).merged(m)
}

// both is the condition that two conditions hold; not ok when they never do.
func both(x, y []ModelTerm) ([]ModelTerm, bool) {
	out := slices.Clone(x)
	for _, t := range y {
		i := slices.IndexFunc(out, func(o ModelTerm) bool { return o.Switch == t.Switch })
		if i < 0 {
			out = append(out, t)
			continue
		}
		out[i].Mask &= t.Mask
		if out[i].Mask == 0 {
			return nil, false
		}
	}
	slices.SortFunc(out, func(a, b ModelTerm) int { return a.Switch - b.Switch })
	return out, true
}

// TrueMap is the right answer as a map, each link ungraded.
func (w *World) TrueMap() mapping.Map {
	var m mapping.Map
	for _, l := range w.TrueLinks() {
		out := mapping.Link{A: w.Pod.Ends[l.A].ID, B: w.Pod.Ends[l.B].ID}
		if len(l.Terms) > 0 {
			var c mapping.Condition
			for _, t := range l.Terms {
				sw := w.Pod.Switches[t.Switch]
				term := mapping.Term{Switch: sw.Name}
				for q, name := range sw.Positions {
					if t.Mask>>q&1 == 1 {
						term.Positions = append(term.Positions, name)
					}
				}
				c = append(c, term)
			}
			out.When = []mapping.Condition{c}
		}
		m.Links = append(m.Links, out)
	}
	return m
}
