package pinout

import (
	"slices"
	"strings"

	"bellout/mapping"
	"bellout/mapping/standards"
)

// Table is the contact table of one switch, as workshop diagrams print it:
// positions down, ends across, and tied what is joined in that setting, through
// whatever other switch. Rows of its own positions come
// first, everything else at rest; then the combinations that need other
// switches too.
type Table struct {
	Switch string   `json:"switch"`
	Form   string   `json:"form,omitempty"`
	Common string   `json:"common"` // an end, "none" or "not settled"
	Ends   []string `json:"ends"`
	Rows   []Row    `json:"rows"`

	// Through names the switches that work only while this one lets them; only
	// for a switch that joins nothing by itself.
	Through []string `json:"lets_through,omitempty"`

	// Untried says of a switch that joins nothing that nobody has moved it yet.
	Untried bool `json:"untried,omitempty"`
}

// Row is one position. Nets are the ends that are joined, two or more each.
type Row struct {
	Label string     `json:"position"`
	Rest  bool       `json:"rest,omitempty"`
	Deep  bool       `json:"needs_others,omitempty"`
	Nets  [][]string `json:"joined"`
	Cells []Cell     `json:"cells"` // one an end
}

// Cell says of one end whether it is joined to any other of the table, and how
// sure that is: of a joined end its surest tie, of one apart its weakest
// silence.
type Cell struct {
	Joined bool   `json:"joined"`
	Grade  Graded `json:"grade"`
}

func (b *builder) tables() []Table {
	out := []Table{}
	for _, sw := range b.pod.Switches {
		rows := []namedSetting{}
		for _, q := range sw.Positions {
			rows = append(rows, namedSetting{mapping.Clean(string(q), mapping.MaxName), false, b.pod.Rest().With(sw.Name, q)})
		}
		for _, a := range b.atoms {
			if len(a.when) < 2 || b.chooser(a.when) != sw.Name {
				continue
			}
			r := namedSetting{b.when([]mapping.Condition{a.when}), true, b.setting(a.when)}
			if !slices.ContainsFunc(rows, func(o namedSetting) bool { return o.deep && o.label == r.label }) {
				rows = append(rows, r)
			}
		}
		out = append(out, b.table(sw, rows))
	}
	return out
}

// namedSetting is a setting that a table has a row for.
type namedSetting struct {
	label string
	deep  bool
	at    mapping.Setting
}

// moved lists the ends that are not joined to the same others in all of the
// settings: those that a table of these has columns for. Whatever such an end is
// joined to is among them.
func (b *builder) moved(rows []namedSetting) []mapping.End {
	var first mapping.Row
	moves := map[int]bool{}
	for i, r := range rows {
		row := b.row(b.pod.Ends, r.at)
		if i == 0 {
			first = row
		}
		for e := range b.pod.Ends {
			moves[e] = moves[e] || !slices.Equal(row.Tie(e), first.Tie(e))
		}
	}
	var out []mapping.End
	for e, end := range b.pod.Ends {
		if moves[e] {
			out = append(out, end)
		}
	}
	return out
}

func (b *builder) table(sw mapping.Switch, rows []namedSetting) Table {
	var ends []mapping.End
	tried := b.tried(sw)
	if tried {
		ends = b.moved(rows)
	}
	t := Table{Switch: b.sw(sw.Name), Common: "not settled", Ends: []string{}, Rows: []Row{}}
	if c, ok := b.ev.Common(sw.Name); ok {
		t.Common = "none"
		if c != "" {
			t.Common = b.id(c)
		}
	}
	var forms []string
	for _, g := range b.groups() {
		if g.sw.Name != sw.Name {
			continue
		}
		if f, _, ok := standards.FormOf(g.nets(), sw.Index(sw.Rest)); ok && !slices.Contains(forms, f.Letter+" "+f.Alias) {
			forms = append(forms, f.Letter+" "+f.Alias)
		}
	}
	t.Form = strings.Join(forms, "; ")
	for _, e := range ends {
		t.Ends = append(t.Ends, b.id(e.ID))
	}
	if len(ends) == 0 {
		t.Untried = !tried
		for _, a := range b.atoms {
			other := b.sw(b.chooser(a.when))
			if slices.ContainsFunc(a.when, func(w mapping.Term) bool { return w.Switch == sw.Name }) && !slices.Contains(t.Through, other) {
				t.Through = append(t.Through, other)
			}
		}
		return t
	}
	for i, r := range rows {
		row := b.row(ends, r.at)
		line := Row{Label: r.label, Deep: r.deep, Rest: !r.deep && sw.Positions[i] == sw.Rest, Nets: [][]string{}}
		for _, tie := range row.Ties {
			var net []string
			for _, k := range tie {
				net = append(net, t.Ends[k])
			}
			line.Nets = append(line.Nets, net)
		}
		for k := range ends {
			line.Cells = append(line.Cells, Cell{Joined: row.Tie(k) != nil, Grade: Graded(row.Grade[k])})
		}
		t.Rows = append(t.Rows, line)
	}
	return t
}

// row is what is known of ends in a setting.
func (b *builder) row(ends []mapping.End, s mapping.Setting) mapping.Row {
	return mapping.RowOf(len(ends), func(i, j int) (bool, mapping.Grade) { return b.ev.Verdict(s, ends[i].ID, ends[j].ID) })
}

// Draw gives a table in lines of at most a width in columns, with the signs of
// g; a table that is too wide goes on in further blocks.
func (t Table) Draw(g mapping.Glyphs, width int) []string {
	if len(t.Ends) == 0 {
		return wrap(t.empty(), width)
	}
	heads, lines := t.heads()
	col, label := 3, 4
	for _, h := range heads {
		col = max(col, columns(h)+1)
	}
	for _, r := range t.Rows {
		label = max(label, min(columns(r.label()), width/2))
	}
	fit := max(1, (width-label-1)/col)
	for from := 0; from < len(heads); from += fit {
		to := min(from+fit, len(heads))
		head := pad("", label+1)
		for _, h := range heads[from:to] {
			head += pad(h, col)
		}
		lines = append(lines, strings.TrimRight(head, " "))
		for _, r := range t.Rows {
			lines = append(lines, r.draw(g, t.Ends, from, to, label, col)...)
		}
	}
	return lines
}

// empty says what there is to say of a switch that joins nothing by itself.
func (t Table) empty() string {
	if len(t.Through) > 0 {
		return "joins nothing by itself; " + strings.Join(t.Through, ", ") + " works only while it lets through: see there"
	}
	if t.Untried {
		return "not tried yet"
	}
	return "changes nothing so far: it may have a partner; try it with each other switch"
}

// heads are the columns' headings: the ends, or letters that stand for them
// where a name is long.
func (t Table) heads() (heads, key []string) {
	long := false
	for _, e := range t.Ends {
		long = long || columns(e) > 8
	}
	if !long {
		return t.Ends, nil
	}
	for i, e := range t.Ends {
		h := letters(i)
		heads = append(heads, h)
		key = append(key, h+" = "+e)
	}
	return heads, key
}

func letters(i int) string {
	if i < 26 {
		return string(rune('a' + i))
	}
	return letters(i/26-1) + letters(i%26)
}

func (r Row) label() string {
	if r.Rest {
		return r.Label + " (rest)"
	}
	return r.Label
}

// draw gives one line for each net of a row, so that two ties never cross; the
// first line also shows the ends that stand apart.
func (r Row) draw(g mapping.Glyphs, ends []string, from, to, label, col int) []string {
	nets := r.Nets
	if len(nets) == 0 {
		nets = [][]string{nil}
	}
	text := wrap(r.label(), label)
	var out []string
	for k, net := range nets {
		first, last := len(ends), -1
		for i, e := range ends {
			if slices.Contains(net, e) {
				first, last = min(first, i), max(last, i)
			}
		}
		line := ""
		for i := from; i < to; i++ {
			sign := " "
			switch {
			case slices.Contains(net, ends[i]):
				sign = g.Cell(true, mapping.Grade(r.Cells[i].Grade))
			case k == 0 && !r.Cells[i].Joined:
				sign = g.Cell(false, mapping.Grade(r.Cells[i].Grade))
			}
			if sign == " " && i > first && i < last {
				sign = g.Tie
			}
			fill := " "
			if i >= first && i < last {
				fill = g.Tie
			}
			line += sign + strings.Repeat(fill, col-1)
		}
		lead := ""
		if k < len(text) {
			lead = text[k]
		}
		out = append(out, strings.TrimRight(pad(lead, label+1)+line, " "))
	}
	return append(out, text[min(len(nets), len(text)):]...)
}
