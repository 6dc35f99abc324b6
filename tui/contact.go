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
	name    string
	sw      mapping.SwitchID
	pos     mapping.PositionID
	rest    bool // the position is the switch's rest
	setting mapping.Setting
	ties    [][]int         // ends that are joined, likely at least, as columns, two or more each
	guess   map[int][]int   // ends that the best map joins without enough behind it
	grade   []mapping.Grade // of what the row says of each end
}

// newContactTable works the table out. The grade of an end in a row is that of
// the weakest claim made about it there: of its joins where it is joined, else
// of its being open to every other end. A join that is an open question is no
// tie: early on the best map is one of very many equals, and nobody should read
// a wire off it.
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
			name := settingWords(pod, s)
			if away < 2 || len(out) == most || slices.ContainsFunc(out, func(r contactRow) bool { return r.name == name }) {
				continue
			}
			out = append(out, contactRow{name: name, setting: s})
		}
	}
	return out
}

func (r *contactRow) fill(pod mapping.Pod, f Findings) {
	n := len(pod.Ends)
	net := make([]int, n)
	joined := make([]mapping.Grade, n)
	open := make([]mapping.Grade, n)
	for i := range n {
		net[i], joined[i], open[i] = i, mapping.NotTested, mapping.Proved
	}
	for i := range n {
		for j := i + 1; j < n; j++ {
			v := f.Joined(r.setting, pod.Ends[i].ID, pod.Ends[j].ID)
			if !v.Joined || v.Grade < mapping.Likely {
				open[i], open[j] = min(open[i], v.Grade), min(open[j], v.Grade)
				if v.Joined && v.Grade == mapping.OpenQuestion {
					if r.guess == nil {
						r.guess = map[int][]int{}
					}
					r.guess[i], r.guess[j] = append(r.guess[i], j), append(r.guess[j], i)
				}
				continue
			}
			joined[i], joined[j] = max(joined[i], v.Grade), max(joined[j], v.Grade)
			from, to := max(net[i], net[j]), min(net[i], net[j])
			for k := range net {
				if net[k] == from {
					net[k] = to
				}
			}
		}
	}
	r.grade = open
	for i := range n {
		if net[i] != i {
			continue
		}
		var tie []int
		for k := range n {
			if net[k] == i {
				tie = append(tie, k)
			}
		}
		if len(tie) > 1 {
			r.ties = append(r.ties, tie)
			for _, k := range tie {
				r.grade[k] = joined[k]
			}
		}
	}
}

// tied gives the ends joined to a column in a row, the column left out.
func (r contactRow) tied(col int) []int {
	for _, tie := range r.ties {
		if i := slices.Index(tie, col); i >= 0 {
			return slices.Delete(slices.Clone(tie), i, i+1)
		}
	}
	return nil
}
