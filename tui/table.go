package tui

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"bellout/mapping"
)

// table is the contact table: positions down, ends across, joined ends tied.
// The cursor stands in a cell; the readings behind it are one key away.
type table struct {
	app      *app
	row, col int
	why      *whyReady
}

func (t *table) scope() scope    { return onTable }
func (t *table) title() string   { return "contact table" }
func (t *table) typing() *editor { return nil }

func (t *table) take(m tea.Msg) tea.Cmd {
	if y, ok := m.(whyReady); ok {
		t.why = &y
	}
	return nil
}

func (t *table) act(a action) tea.Cmd {
	tab := t.app.ses.th.table
	if len(tab.rows) == 0 {
		return nil
	}
	t.clamp(tab)
	switch a {
	case actUp:
		t.row--
	case actDown:
		t.row++
	case actLeft:
		t.col--
	case actRight:
		t.col++
	case actWhy:
		return t.ask(tab)
	default:
		return nil
	}
	t.clamp(tab)
	t.why = nil
	return nil
}

func (t *table) clamp(tab contactTable) {
	t.row = max(0, min(t.row, len(tab.rows)-1))
	t.col = max(0, min(t.col, len(tab.ends)-1))
}

// ask fetches what stands behind the cell: of a joined end its join, of an open
// one the pair that is least sure.
func (t *table) ask(tab contactTable) tea.Cmd {
	s := t.app.ses
	r := tab.rows[t.row]
	a := tab.ends[t.col].ID
	b := t.partner(tab, r)
	if b == "" {
		return nil
	}
	f, br := s.th.find, s.brain
	return func() tea.Msg {
		v, ids := br.why(f, r.setting, a, b)
		return whyReady{a: a, b: b, verdict: v, readings: ids}
	}
}

func (t *table) partner(tab contactTable, r contactRow) mapping.EndID {
	if with := r.tied(t.col); len(with) > 0 {
		return tab.ends[with[0]].ID
	}
	if maybe := r.Guess[t.col]; len(maybe) > 0 {
		return tab.ends[maybe[0]].ID
	}
	best, id := mapping.Proved+1, mapping.EndID("")
	for i := range tab.ends {
		if g := r.Grade[i]; i != t.col && g < best {
			best, id = g, tab.ends[i].ID
		}
	}
	return id
}

func (t *table) view(w, h int) []string {
	out, foot := t.parts(w, h)
	for len(out) < h-len(foot) {
		out = append(out, "")
	}
	return append(out, foot...)
}

// parts are the rows, and what stands below them at the foot of the screen.
func (t *table) parts(w, h int) (rows, foot []string) {
	s := t.app.ses
	tab := s.th.table
	if len(tab.rows) == 0 {
		return []string{"", "working it out…"}, nil
	}
	t.clamp(tab)
	foot = t.foot(tab, w, h)
	room := max(1, h-len(foot)-1)
	label := t.labels(tab, w)
	cell := 3
	for _, e := range tab.ends {
		cell = max(cell, min(6, ansi.StringWidth(string(e.ID))+1))
	}
	fits := max(1, (w-label-2)/cell)
	first := 0
	if len(tab.ends) > fits {
		first = max(0, min(t.col-fits/2, len(tab.ends)-fits))
	}
	last := min(len(tab.ends), first+fits)
	head := pad("", label)
	for i := first; i < last; i++ {
		id := fit(mapping.Clean(string(tab.ends[i].ID), mapping.MaxName), cell-1)
		if i == t.col {
			id = t.app.th.strong.Render(id)
		}
		head += strings.Repeat(" ", max(0, cell-ansi.StringWidth(id))) + id
	}
	head += cutMark(first, len(tab.ends)-last)
	var lines []string
	at := 0
	for i, r := range tab.rows {
		if i == t.row {
			at = len(lines)
		}
		lines = append(lines, t.rowLines(i, r, label, cell, first, last)...)
	}
	shown, _ := window(lines, around(at, room), room, w)
	return append([]string{head}, shown...), foot
}

// cutMark says that columns are hidden at a side.
func cutMark(left, right int) string {
	switch {
	case left > 0 && right > 0:
		return " ◂▸"
	case left > 0:
		return " ◂"
	case right > 0:
		return " ▸"
	}
	return ""
}

// labels is the width of the names of switches and positions.
func (t *table) labels(tab contactTable, w int) int {
	n := 10
	for _, r := range tab.rows {
		n = max(n, ansi.StringWidth(rowName(r))+3)
	}
	return min(n, max(8, w*2/5))
}

func rowName(r contactRow) string {
	switch {
	case r.name != "":
		return mapping.Clean(r.name, mapping.MaxName)
	case r.sw == "":
		return "all at rest"
	}
	s := string(r.sw) + " " + string(r.pos)
	if r.rest {
		s += "*"
	}
	return mapping.Clean(s, mapping.MaxName)
}

// rowLines draws a row: a line for each net, so that ties never cross.
func (t *table) rowLines(i int, r contactRow, label, cell, first, last int) []string {
	nets := r.Ties
	if len(nets) == 0 {
		nets = [][]int{nil}
	}
	tie := t.app.th.glyphs.Tie
	var out []string
	for n, net := range nets {
		name := "  " + rowName(r)
		if i == t.row {
			name = "▶ " + rowName(r)
		}
		if n > 0 {
			name = ""
		}
		line := pad(name, label)
		closing := false
		for c := first; c < last; c++ {
			g := " "
			fill := " "
			switch {
			case slices.Contains(net, c):
				g = t.app.th.glyphs.Cell(true, r.Grade[c])
				if net[0] < c {
					fill = tie
				}
			case len(net) > 0 && net[0] < c && c < net[len(net)-1]:
				g, fill = tie, tie
			case n == 0 && len(r.tied(c)) == 0:
				g = t.app.th.glyphs.Cell(false, r.Grade[c])
			}
			lead := strings.Repeat(fill, cell-1)
			if closing {
				lead, closing = "]"+strings.Repeat(fill, cell-2), false
			}
			if i == t.row && c == t.col && (n == 0 || slices.Contains(net, c)) {
				lead, closing = strings.TrimSuffix(lead, fill)+"[", true
				g = t.app.th.change.Render(g)
			}
			line += lead + g
		}
		if closing {
			line += "]"
		}
		out = append(out, line)
	}
	return out
}

// foot tells of the cell under the cursor, and what the marks mean.
func (t *table) foot(tab contactTable, w, h int) []string {
	s := t.app.ses
	r := tab.rows[t.row]
	e := tab.ends[t.col]
	var what string
	if with := r.tied(t.col); len(with) > 0 {
		var ids []mapping.EndID
		for _, c := range with {
			ids = append(ids, tab.ends[c].ID)
		}
		what = fmt.Sprintf("%s: %s joined to %s, %s", rowName(r), e.ID, mapping.List(ids), r.Grade[t.col])
	} else if maybe := r.Guess[t.col]; len(maybe) > 0 {
		var ids []mapping.EndID
		for _, c := range maybe {
			ids = append(ids, tab.ends[c].ID)
		}
		what = fmt.Sprintf("%s: %s perhaps joined to %s, an open question", rowName(r), e.ID, mapping.List(ids))
	} else {
		what = fmt.Sprintf("%s: %s joined to nothing, %s", rowName(r), e.ID, r.Grade[t.col])
	}
	if e.Base != "" {
		what += " (" + e.Colours() + ")"
	}
	if slices.Contains(s.th.sum.SilentOnly, r.sw) {
		what += ". " + string(r.sw) + " has changed nothing so far: it may need a partner switch, or hide a component; ohms and diode range show that"
	}
	var out []string
	if h >= 10 {
		out = append(out, strings.Repeat("─", min(w, 76)))
	}
	out = append(out, wrap(what, w)...)
	if t.why != nil {
		out = append(out, t.behind(w)...)
	} else if silent := s.th.sum.SilentOnly; len(silent) > 0 && h >= 10 && !slices.Contains(silent, r.sw) {
		out = append(out, fit("changed nothing so far: "+mapping.List(silent), w))
	}
	if h >= 10 && t.why == nil {
		out = append(out, wrap(t.app.th.glyphs.Legend()+"   * rest", w)...)
	}
	if most := max(1, h/2); len(out) > most {
		out = append(out[:most-1:most-1], "…")
	}
	return out
}

// behind lists the readings that the cell rests on.
func (t *table) behind(w int) []string {
	s := t.app.ses
	y := t.why
	word := "apart"
	if y.verdict.Joined {
		word = "joined"
	}
	if len(y.readings) == 0 {
		return wrap(fmt.Sprintf("why: no reading bears on %s and %s here yet; as pods usually are, they would be %s", y.a, y.b, word), w)
	}
	out := wrap(fmt.Sprintf("why: %s and %s are %s (%s, %.0f bits) by:", y.a, y.b, word, y.verdict.Grade, y.verdict.Bits), w)
	for _, id := range y.readings {
		if r, ok := s.byID(id); ok {
			out = append(out, indent(fmt.Sprintf(" #%d ", id), r.Words(s.work.Pod), w)...)
		}
	}
	return out
}
