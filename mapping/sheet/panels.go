package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"bellout/mapping"
	"bellout/mapping/sheet/ink"
)

// panel is one box in the strip under the diagram.
type panel struct {
	title string
	w, h  float64
	draw  func(d *drawing, r ink.Rect)
}

const (
	panelGap = 5.0
	tableCol = 15.0
)

// panelsOf are the panels of a plan: a contact table for each switch, then
// what is told in words, made as wide as keeps the strip of them low.
func panelsOf(in Input, most float64) []panel {
	var tables []panel
	for _, pod := range in.Plan.Pods {
		for _, t := range contactTables(pod) {
			tables = append(tables, tablePanel(pod.Name, t))
		}
	}
	var best []panel
	for height := 50.0; height <= 200; height += 6 {
		ps := slices.Clone(tables)
		for _, w := range []words{
			{"How it reads when healthy", healthy(in)},
			{"Earth points", earthLines(in)},
			{"Signs", legend(in)},
			{"Pod wires not used", unused(in)},
			{"Take care", pageCautions(in)},
		} {
			if len(w.lines) > 0 {
				ps = append(ps, w.panel(height, most))
			}
		}
		// High ones first: a shelf is as high as its highest.
		slices.SortStableFunc(ps, func(a, b panel) int { return cmp.Compare(b.h, a.h) })
		if best == nil || shelfHeight(ps, most) < shelfHeight(best, most)-1e-9 {
			best = ps
		}
	}
	return best
}

// words are what a panel of text says.
type words struct {
	title string
	lines []string
}

// panel is the narrowest one that is no higher than asked for.
func (w words) panel(height, most float64) panel {
	wide := min(130, most)
	for ; wide < most; wide = min(most, wide+10) {
		if textPanel(w.title, w.lines, wide).h <= height {
			break
		}
	}
	return textPanel(w.title, w.lines, wide)
}

func textPanel(title string, lines []string, w float64) panel {
	var wrapped []string
	for _, l := range lines {
		for i, s := range ink.Wrap(print(l), SmallestText, false, w-2*inset-6) {
			if i > 0 {
				s = "  " + s
			}
			wrapped = append(wrapped, s)
		}
	}
	return panel{title: title, w: w, h: float64(1+len(wrapped))*pitch + 3, draw: func(d *drawing, r ink.Rect) {
		for i, l := range wrapped {
			d.text(r, r.X+inset, r.Y+float64(i+2)*pitch-1.9, false, ink.Start, l)
		}
	}}
}

// text draws a text of the smallest size that must lie in a box, and notes the pair for the checks.
func (d *drawing) text(in ink.Rect, x, y float64, bold bool, a ink.Anchor, s string) {
	t := ink.Text{X: x, Y: y, Size: SmallestText, Bold: bold, Anchor: a, S: s}
	d.page.Add(t)
	d.fits = append(d.fits, [2]ink.Rect{t.Box(), in})
}

// tablePanel draws a contact table as workshop diagrams print it: positions
// down, ends across, joined ends tied.
func tablePanel(pod string, t contactTable) panel {
	first := 0.0
	for _, r := range t.rows {
		first = max(first, ink.Width(print(r.position), SmallestText, false))
	}
	head := print(pod + ": " + t.title)
	col := tableCol
	for _, e := range t.ends {
		col = max(col, ink.Width(print(string(e)), SmallestText, true)+5)
	}
	w := max(first+3*inset+col*float64(len(t.ends)), ink.Width(head, SmallestText, true)+2*inset)
	rows := 0
	for _, r := range t.rows {
		rows += max(1, len(r.ties))
	}
	return panel{title: pod + ": " + t.title, w: w, h: float64(2+rows)*pitch + 3, draw: func(d *drawing, r ink.Rect) {
		at := func(i int) float64 { return r.X + 2*inset + first + col*(float64(i)+0.5) }
		y := r.Y + 2*pitch - 1.9
		for i, e := range t.ends {
			d.text(r, at(i), y, true, ink.Middle, print(string(e)))
		}
		for _, row := range t.rows {
			d.page.Add(ink.Line{X1: r.X, Y1: y + 1.9, X2: r.X + r.W, Y2: y + 1.9, Wide: 0.25})
			d.text(r, r.X+inset, y+pitch, false, ink.Start, print(row.position))
			for k, tie := range row.ties {
				mid := y + pitch*(float64(k)+1) - 2.7
				d.page.Add(ink.Line{X1: at(tie[0]), Y1: mid, X2: at(tie[len(tie)-1]), Y2: mid, Wide: 0.8})
				for _, i := range tie {
					d.tieDot(at(i), mid, row.grade[k])
				}
			}
			y += pitch * float64(max(1, len(row.ties)))
		}
	}}
}

// tieDot shows a joined end with the grade of the join: full, hollow, or a
// hollow one with the sign of the grade in it.
func (d *drawing) tieDot(x, y float64, g mapping.Grade) {
	switch g {
	case mapping.Proved:
		d.page.Add(ink.Dot{X: x, Y: y, R: 2.3, Filled: true, Wide: 0.6})
	case mapping.Likely:
		d.page.Add(ink.Dot{X: x, Y: y, R: 2.3, Wide: 0.8})
	default:
		d.page.Add(ink.Dot{X: x, Y: y, R: 4, Wide: 0.6},
			ink.Text{X: x, Y: y + 2.6, Size: SmallestText, Bold: true, Anchor: ink.Middle, S: glyph(g)})
	}
}

// shelves puts panels side by side in rows, from the top.
func (d *drawing) shelves(ps []panel, width, top float64) {
	walkShelves(ps, width, func(p panel, x, y float64) {
		r := ink.Rect{X: margin + x, Y: top + y, W: p.w, H: p.h, Wide: 0.6}
		d.boxes = append(d.boxes, r)
		d.page.Add(ink.Rect{X: r.X, Y: r.Y, W: r.W, H: pitch + 1, Grey: 0.07}, r)
		title, _ := ink.Fit(print(p.title), SmallestText, true, r.W-2*inset)
		d.text(r, r.X+inset, r.Y+pitch-1.9, true, ink.Start, title)
		p.draw(d, r)
	})
}

func shelfHeight(ps []panel, width float64) float64 {
	h := 0.0
	walkShelves(ps, width, func(p panel, _, y float64) { h = max(h, y+p.h) })
	return h
}

// walkShelves gives each panel its place. Panels are stacked in columns where a
// lower one fits under the last without making the row higher.
func walkShelves(ps []panel, width float64, put func(p panel, x, y float64)) {
	done := make([]bool, len(ps))
	top := 0.0
	for left := len(ps); left > 0; {
		x, row := 0.0, 0.0
		for i := range ps {
			if done[i] || x > 0 && x+ps[i].w > width+1e-9 {
				continue
			}
			if row == 0 {
				row = ps[i].h
				for k := i; k < len(ps); k++ {
					if !done[k] {
						row = max(row, ps[k].h)
					}
				}
			}
			// One column: this panel and what fits under it.
			y, wide := 0.0, ps[i].w
			for k := i; k < len(ps); k++ {
				if done[k] || y+ps[k].h > row+1e-9 || ps[k].w > max(wide, 0)+1e-9 && k != i {
					continue
				}
				put(ps[k], x, top+y)
				done[k] = true
				left--
				y += ps[k].h + panelGap
			}
			x += wide + panelGap
		}
		top += row + panelGap
	}
}

// legend explains the signs that the page uses.
func legend(in Input) []string {
	out := []string{
		"Wire: the name on its flag, base/tracer (IEC 60757), mm2. " + colourLine(in),
		"Lines that meet at a dot are joined, lines that cross are not. Thick line: thick wire. Bars at a line's end: earth point.",
		"[15] live with the key on, [30] always live.",
		"Contact tables: tied ends are joined. Full dot proved, hollow dot likely, ? open question, x not tested.",
		"Number in a plug's row: cavity, on the face named above; the other face is its mirror image.",
	}
	if in.lacking() {
		out = append(out, lackingNote)
	}
	return out
}

// lackingNote explains what stands for a character that the font lacks.
const lackingNote = "U+ and a number: a character of yours that the font of this page lacks."

// colourLine names the colours that the plan uses.
func colourLine(in Input) string {
	used := map[mapping.Colour]bool{}
	for _, w := range in.Plan.Wires {
		used[mapping.Colour(w.Colour)], used[mapping.Colour(w.Tracer)] = true, true
	}
	var names []string
	for _, c := range mapping.Colours() {
		if used[c] {
			names = append(names, string(c)+" "+c.Name())
		}
	}
	if len(names) == 0 {
		return ""
	}
	return strings.Join(names, ", ") + "."
}

// earthLines tells each earth point, where it is and what lands on it.
func earthLines(in Input) []string {
	var out []string
	for _, e := range in.Plan.Earths {
		s := e.Name
		if e.Main {
			s += " (main)"
		}
		if e.OnFrame {
			s += " (the metal carries)"
		}
		if e.Place != "" {
			s += ", " + e.Place
		}
		var lands []string
		for _, w := range sortedWires(in.Plan) {
			switch e.Name {
			case w.From:
				lands = append(lands, w.To+" "+spec(w))
			case w.To:
				lands = append(lands, w.From+" "+spec(w))
			}
		}
		out = append(out, s+": "+strings.Join(lands, "; "))
	}
	return out
}

// unused lists the ends of pods that no wire takes up, and warns of those that
// are joined to one that is used.
func unused(in Input) []string {
	touched := map[string]bool{}
	for _, w := range in.Plan.Wires {
		touched[w.From], touched[w.To] = true, true
	}
	var out []string
	for _, pod := range in.Plan.Pods {
		for _, e := range pod.Desc.Ends {
			point := pod.Name + "." + string(e.ID)
			if touched[point] || e.Kind == mapping.Body || e.ID == "BODY" {
				continue
			}
			s := fmt.Sprintf("%s: insulate, fold back, do not leave bare", point)
			for _, l := range pod.Map.Links {
				if l.A != e.ID && l.B != e.ID {
					continue
				}
				other := l.A
				if other == e.ID {
					other = l.B
				}
				if touched[pod.Name+"."+string(other)] {
					s = fmt.Sprintf("%s: LIVE WHENEVER %s is joined to it; seal it, fold it back", point, string(other))
					break
				}
			}
			out = append(out, s)
		}
	}
	return out
}
