package pinout

import (
	"slices"
	"strings"

	"bellout/mapping"
	"bellout/mapping/page"
)

// contactTables draws the tables side by side as far as the width goes.
func (l *layout) contactTables(p Pinout) {
	const size = 8.5
	l.y += l.mm(size)
	l.Text(margin, l.y, page.Bold, l.pt(9), page.Left, "Contact tables")
	l.Text(margin+l.width(page.Bold, 9, "Contact tables")+3, l.y, page.Regular, l.pt(7.5), page.Left,
		"other switches at rest; joined ends are tied")
	l.y += l.mm(7.5)
	l.legend(margin, l.y)
	l.y += l.mm(7.5) * 0.6

	x, tallest := margin, 0.0
	for _, t := range p.Tables {
		b := l.tableBox(t)
		if x > margin && x+b.width > l.right() {
			x, l.y = margin, l.y+tallest
			tallest = 0
		}
		if !l.room(b.height) {
			continue
		}
		l.drawTable(t, b, x, l.y)
		x += b.width + 6
		tallest = max(tallest, b.height)
	}
	l.y += tallest
}

func (l *layout) width(f page.Font, size float64, s string) float64 {
	return page.Width(f, l.pt(size), s)
}

// box is the measure of one table: the column of positions, one column an end,
// one line a net.
type box struct {
	heads         []string
	key           []string
	label, col    float64
	line          float64
	width, height float64
	lines         int
}

func (l *layout) tableBox(t Table) box {
	b := box{line: l.mm(8.5)}
	b.heads, b.key = t.heads()
	for _, r := range t.Rows {
		b.label = max(b.label, l.width(page.Regular, 8.5, r.label()))
		b.lines += max(1, len(r.Nets))
	}
	b.label = min(b.label, 60) + 3
	b.col = 6.5 * l.scale
	for _, h := range b.heads {
		b.col = max(b.col, l.width(page.Bold, 8.5, h)+2)
	}
	if most := (l.right() - margin - b.label) / float64(max(1, len(b.heads))); b.col > most {
		b.col = most
	}
	b.width = max(b.label+b.col*float64(len(b.heads)), min(l.width(page.Bold, 8.5, l.tableTitle(t)), l.right()-margin))
	b.height = b.line * (float64(b.lines+len(b.key)) + 2.8)
	if len(t.Ends) == 0 {
		b.width, b.height = 62, b.line*(1.6+float64(len(l.emptyLines(t))))
	}
	return b
}

func (l *layout) emptyLines(t Table) []string {
	return page.Wrap(page.Regular, l.pt(8), 60, t.empty())
}

func (l *layout) tableTitle(t Table) string {
	s, _, _ := strings.Cut(t.title(), ", break before make")
	return s
}

func (l *layout) drawTable(t Table, b box, x, y float64) {
	y += b.line
	l.Text(x, y, page.Bold, l.pt(8.5), page.Left, page.Fit(page.Bold, l.pt(8.5), l.right()-x, l.tableTitle(t)))
	if len(t.Ends) == 0 {
		for _, line := range l.emptyLines(t) {
			y += b.line
			l.Text(x, y, page.Regular, l.pt(8), page.Left, line)
		}
		return
	}
	for _, k := range b.key {
		y += b.line
		l.Text(x, y, page.Regular, l.pt(8), page.Left, page.Fit(page.Regular, l.pt(8), l.right()-x, k))
	}
	y += b.line
	at := func(i int) float64 { return x + b.label + b.col*(float64(i)+0.5) }
	for i, h := range b.heads {
		l.Text(at(i), y, page.Bold, l.pt(8.5), page.Centre, h)
	}
	y += b.line * 0.35
	edge := x + b.label + b.col*float64(len(b.heads))
	l.Line(x, y, edge, y, 0.2)
	for _, r := range t.Rows {
		label := page.Fit(page.Regular, l.pt(8.5), b.label-2, r.label())
		l.Text(x, y+b.line*0.75, page.Regular, l.pt(8.5), page.Left, label)
		nets := r.Nets
		if len(nets) == 0 {
			nets = [][]string{nil}
		}
		for k, net := range nets {
			l.drawNet(t, r, net, k == 0, at, y+b.line*0.5)
			y += b.line
		}
		l.Line(x, y, edge, y, 0.08)
	}
}

// drawNet ties the joined ends of one net, and on a row's first line marks the
// ends that stand apart.
func (l *layout) drawNet(t Table, r Row, net []string, first bool, at func(int) float64, y float64) {
	from, to := -1, -1
	for i, e := range t.Ends {
		if slices.Contains(net, e) {
			if from < 0 {
				from = i
			}
			to = i
		}
	}
	if from >= 0 {
		l.Line(at(from), y, at(to), y, 0.55*l.scale)
	}
	for i, e := range t.Ends {
		grade := mapping.Grade(r.Cells[i].Grade)
		switch {
		case slices.Contains(net, e):
			l.sign(at(i), y, true, grade)
		case first && !r.Cells[i].Joined && !(i > from && i < to):
			l.sign(at(i), y, false, grade)
		case first && !r.Cells[i].Joined && grade < mapping.Likely:
			// A tie passes by: lift the sign so that both are seen.
			l.sign(at(i), y-1.4*l.scale, false, grade)
		}
	}
}

// sign draws a cell: a dot, a ring, a question mark, a small dot, a dash.
func (l *layout) sign(x, y float64, joined bool, grade mapping.Grade) {
	radius := 1.15 * l.scale
	switch {
	case joined && grade == mapping.Proved:
		l.Dot(x, y, radius, 0, 1)
	case joined && grade == mapping.Likely:
		l.Dot(x, y, radius, 0.35*l.scale, 0)
	case grade == mapping.OpenQuestion:
		if joined {
			l.Dot(x, y, radius*1.25, 0.2*l.scale, 0)
		}
		l.Text(x, y+1.05*l.scale, page.Bold, l.pt(8), page.Centre, "?")
	case grade == mapping.NotTested:
		if joined {
			l.Dot(x, y, radius*1.25, 0.2*l.scale, 0)
		}
		l.Dot(x, y, 0.35*l.scale, 0, 1)
	case grade == mapping.Likely:
		l.Line(x-0.8*l.scale, y, x+0.8*l.scale, y, 0.25*l.scale)
	}
}

// legend explains the signs by drawing them.
func (l *layout) legend(x, y float64) {
	put := func(joined bool, grade mapping.Grade, text string) {
		x += 2
		if text != "blank apart, proved" {
			l.sign(x, y-1*l.scale, joined, grade)
			x += 2.5
		}
		l.Text(x, y, page.Regular, l.pt(7.5), page.Left, text)
		x += l.width(page.Regular, 7.5, text) + 3
	}
	put(true, mapping.Proved, "joined, proved")
	put(true, mapping.Likely, "joined, likely")
	put(false, mapping.Proved, "blank apart, proved")
	put(false, mapping.Likely, "apart, likely")
	put(false, mapping.OpenQuestion, "open question")
	put(false, mapping.NotTested, "not tested")
}
