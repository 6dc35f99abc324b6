package sheet

import (
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"bellout/mapping"
	"bellout/mapping/plan"
)

// contactTable is the table of one switch, or of the links that need several:
// positions down, ends across, joined ends tied.
type contactTable struct {
	title string
	ends  []mapping.EndID
	rows  []contactRow
}

// contactRow is one position. Ties are groups of joined ends, as places in the
// table's ends; grade has the worst grade of a tie.
type contactRow struct {
	position string
	ties     [][]int
	grade    []mapping.Grade
}

// contactTables are the tables of a pod, in its order of switches; the joins
// that are always there first, those that need two switches last.
func contactTables(p plan.Pod) []contactTable {
	var out []contactTable
	rest := p.Desc.Rest()
	always := func(l mapping.Link) bool { return len(l.When) == 0 }
	deep := func(l mapping.Link) bool {
		return slices.ContainsFunc(l.When, func(c mapping.Condition) bool { return len(c) > 1 })
	}
	if t := tableOf(p, "always", always, []namedSetting{{"in every position", rest}}); len(t.ends) > 0 {
		out = append(out, t)
	}
	for _, sw := range p.Desc.Switches {
		mine := func(l mapping.Link) bool {
			return slices.ContainsFunc(l.When, func(c mapping.Condition) bool {
				return slices.ContainsFunc(c, func(t mapping.Term) bool { return t.Switch == sw.Name })
			})
		}
		var rows []namedSetting
		for _, pos := range sw.Positions {
			name := string(pos)
			if pos == sw.Rest {
				name += " (rest)"
			}
			rows = append(rows, namedSetting{name, rest.With(sw.Name, pos)})
		}
		if t := tableOf(p, string(sw.Name), mine, rows); t.ties() > 0 {
			if sw.Momentary {
				t.title += ", springs back"
			}
			out = append(out, t)
		}
	}
	var rows []namedSetting
	for _, l := range p.Map.Links {
		for _, c := range l.When {
			if len(c) < 2 {
				continue
			}
			s := rest
			var words []string
			for _, t := range c {
				s = s.With(t.Switch, t.Positions[0])
				var ps []string
				for _, q := range t.Positions {
					ps = append(ps, string(q))
				}
				words = append(words, string(t.Switch)+" "+strings.Join(ps, "|"))
			}
			n := namedSetting{strings.Join(words, " + "), s}
			if !slices.ContainsFunc(rows, func(o namedSetting) bool { return o.name == n.name }) {
				rows = append(rows, n)
			}
		}
	}
	if t := tableOf(p, "two or more together", deep, rows); len(t.ends) > 0 {
		out = append(out, t)
	}
	return out
}

type namedSetting struct {
	name string
	s    mapping.Setting
}

// tableOf is the table of the links that are chosen, in the settings given.
func tableOf(p plan.Pod, title string, chosen func(mapping.Link) bool, settings []namedSetting) contactTable {
	t := contactTable{title: title}
	in := map[mapping.EndID]bool{}
	for _, l := range p.Map.Links {
		if chosen(l) {
			in[l.A], in[l.B] = true, true
		}
	}
	for _, e := range p.Desc.Ends {
		if in[e.ID] {
			t.ends = append(t.ends, e.ID)
		}
	}
	for _, n := range settings {
		row := contactRow{position: n.name}
		for _, net := range p.Map.Nets(p.Desc, n.s) {
			var tie []int
			worst := mapping.Proved
			for _, e := range net {
				if i := slices.Index(t.ends, e); i >= 0 {
					tie = append(tie, i)
				}
			}
			if len(tie) < 2 {
				continue
			}
			for _, l := range p.Map.Links {
				if chosen(l) && l.Holds(p.Desc, n.s) && slices.Contains(net, l.A) {
					worst = min(worst, l.Grade)
				}
			}
			row.ties = append(row.ties, tie)
			row.grade = append(row.grade, worst)
		}
		t.rows = append(t.rows, row)
	}
	return t
}

// ties counts the joins that a table shows: a switch that joins nothing by
// itself has none, its joins are told with its partner's.
func (t contactTable) ties() int {
	n := 0
	for _, r := range t.rows {
		n += len(r.ties)
	}
	return n
}

// lines writes a table as text: signs of the grade at the ends that are tied.
func (t contactTable) lines() []string {
	wide := 0
	for _, r := range t.rows {
		wide = max(wide, ansi.StringWidth(r.position))
	}
	col := 3
	for _, e := range t.ends {
		col = max(col, ansi.StringWidth(string(e))+1)
	}
	wide = max(wide, ansi.StringWidth(t.title))
	head := pad(t.title, wide)
	for _, e := range t.ends {
		head += pad(" "+string(e), col)
	}
	out := []string{strings.TrimRight(head, " ")}
	for _, r := range t.rows {
		// Ties that lie across one another get a line each.
		first := true
		for k := range max(1, len(r.ties)) {
			cells := []rune(strings.Repeat(" ", col*len(t.ends)))
			if k < len(r.ties) {
				tie := r.ties[k]
				for x := tie[0]*col + 1; x < tie[len(tie)-1]*col+1; x++ {
					cells[x] = '-'
				}
				for _, i := range tie {
					cells[i*col+1] = []rune(glyph(r.grade[k]))[0]
				}
			}
			name := ""
			if first {
				name = r.position
			}
			first = false
			out = append(out, strings.TrimRight(pad(name, wide)+string(cells), " "))
		}
	}
	return out
}
