package tui

import (
	"slices"

	"bellout/mapping"
)

// contactTable is the table that workshop diagrams print: positions down, ends
// across. It is worked out once for each state of the readings, since asking
// the engine for every cell in every frame would be slow.
type contactTable struct {
	ends []mapping.End
	rows []contactRow
}

// contactRow is one position of one switch with every other switch at rest.
// The row of all switches at rest has no switch, nor have the rows of joins that
// need several levers at once: those have a name.
type contactRow struct {
	name        string
	sw          mapping.SwitchID
	pos         mapping.PositionID
	rest        bool // the position is the switch's rest
	setting     mapping.Setting
	mapping.Row // by column
}

// newContactTable works the table out; mapping.RowOf says what makes a tie.
func newContactTable(pod mapping.Pod, f Findings) contactTable {
	t := contactTable{ends: pod.Ends}
	rest := pod.Rest()
	t.rows = append(t.rows, contactRow{setting: rest, rest: true})
	for _, sw := range pod.Switches {
		for _, q := range sw.Positions {
			t.rows = append(t.rows, contactRow{sw: sw.Name, pos: q, rest: q == sw.Rest, setting: rest.With(sw.Name, q)})
		}
	}
	t.rows = append(t.rows, deepRows(pod, f.Summary().Map)...)
	for i := range t.rows {
		t.rows[i].fill(pod, f)
	}
	return t
}

// deepRows are settings in which joins show that no lever makes alone: one for
// each condition of two terms or more, at its first positions.
func deepRows(pod mapping.Pod, m mapping.Map) []contactRow {
	const most = 24
	var out []contactRow
	for _, l := range m.Links {
		for _, c := range l.When {
			if len(c) < 2 {
				continue
			}
			s := pod.Rest()
			away := 0
			for _, t := range c {
				sw, ok := pod.Switch(t.Switch)
				if ok && len(t.Positions) > 0 && !slices.Contains(t.Positions, sw.Rest) {
					s[t.Switch] = t.Positions[0]
					away++
				}
			}
			name := s.Words(pod)
			if away < 2 || len(out) == most || slices.ContainsFunc(out, func(r contactRow) bool { return r.name == name }) {
				continue
			}
			out = append(out, contactRow{name: name, setting: s})
		}
	}
	return out
}

func (r *contactRow) fill(pod mapping.Pod, f Findings) {
	r.Row = mapping.RowOf(len(pod.Ends), func(i, j int) (bool, mapping.Grade) {
		v := f.Joined(r.setting, pod.Ends[i].ID, pod.Ends[j].ID)
		return v.Joined, v.Grade
	})
}

// tied gives the ends joined to a column in a row, the column left out.
func (r contactRow) tied(col int) []int {
	tie := slices.Clone(r.Tie(col))
	return slices.DeleteFunc(tie, func(k int) bool { return k == col })
}
