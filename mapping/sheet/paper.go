package sheet

import (
	"fmt"

	"bellout/mapping/sheet/ink"
)

// Sizes of the pages after the diagram (A4 upright), in points.
const (
	pageW, pageH = 595.0, 842.0
	pageEdge     = 34.0
	bodySize     = 8.2
	bodyLead     = 10.4
	cellPad      = 2.5
	tickSize     = 6.5
	blankWidth   = 46.0
	gridRow      = 15.0
	gridAfter    = 70.0 // kept free under a plug's faces for its first rows
)

// PDF writes the whole paper as one PDF: the diagram, then the build sheet,
// the proof list and the order of first power. The same input gives the same
// bytes.
func PDF(in Input) ([]byte, error) {
	in = in.tidy()
	d, err := newDrawing(in)
	if err != nil {
		return nil, err
	}
	pages := append([]ink.Page{d.page}, pagesOf(in)...)
	return ink.PDF(in.Plan.Name+": wiring", pages)
}

// setter sets text on pages from the top down.
type setter struct {
	pages []ink.Page
	y     float64
}

func pagesOf(in Input) []ink.Page {
	s := &setter{}
	s.turn()
	for _, sec := range report(in) {
		s.section(sec)
	}
	for i := range s.pages {
		p := &s.pages[i]
		foot := fmt.Sprintf("%s: %s", in.Plan.Name, headLine(in.Plan))
		number := fmt.Sprintf("page %d of %d", i+2, len(s.pages)+1)
		foot, _ = ink.Fit(print(foot), SmallestText, false, pageW-2*pageEdge-70)
		p.Add(ink.Line{X1: pageEdge, Y1: pageH - 28, X2: pageW - pageEdge, Y2: pageH - 28, Wide: 0.4},
			ink.Text{X: pageEdge, Y: pageH - 18, Size: SmallestText, S: foot},
			ink.Text{X: pageW - pageEdge, Y: pageH - 18, Size: SmallestText, Anchor: ink.End, S: number})
	}
	return s.pages
}

func (s *setter) page() *ink.Page { return &s.pages[len(s.pages)-1] }

func (s *setter) turn() {
	s.pages = append(s.pages, ink.Page{W: pageW, H: pageH})
	s.y = pageEdge
}

// need turns the page unless so much height is left.
func (s *setter) need(h float64) bool {
	if s.y+h > pageH-36 && s.y > pageEdge {
		s.turn()
		return true
	}
	return false
}

func (s *setter) para(text string, size float64, bold bool, indent float64) {
	lead := size * bodyLead / bodySize
	for _, l := range ink.Wrap(print(text), size, bold, pageW-2*pageEdge-indent) {
		s.need(lead)
		s.page().Add(ink.Text{X: pageEdge + indent, Y: s.y + size*0.95, Size: size, Bold: bold, S: l})
		s.y += lead
	}
}

func (s *setter) section(sec section) {
	s.need(max(90, s.opening(sec)))
	if s.y > pageEdge {
		s.y += 8
	}
	s.page().Add(ink.Rect{X: pageEdge, Y: s.y, W: pageW - 2*pageEdge, H: 17, Grey: 0.85},
		ink.Text{X: pageEdge + 5, Y: s.y + 12.5, Size: 11.5, Bold: true, White: true, S: print(sec.title)})
	s.y += 22
	s.care(sec.care)
	for _, n := range sec.notes {
		s.para(n, bodySize, false, 0)
		s.y += 1.5
	}
	for i := 0; i < len(sec.tables); {
		t := sec.tables[i]
		if !t.grid {
			s.table(t)
			i++
			continue
		}
		// A plug's faces stand side by side, together with its first rows.
		j := i
		for j < len(sec.tables) && sec.tables[j].grid {
			j++
		}
		s.grids(sec.tables[i:j])
		i = j
	}
}

// opening is the height of a section's title, cautions and notes with the first row that
// follows: a title does not stand alone at the foot of a page.
func (s *setter) opening(sec section) float64 {
	h := 8.0 + 22
	if n := len(careLines(sec.care)); n > 0 {
		h += float64(n)*bodyLead + 9
	}
	for _, n := range sec.notes {
		h += float64(len(ink.Wrap(print(n), bodySize, false, pageW-2*pageEdge)))*bodyLead + 1.5
	}
	for _, t := range sec.tables {
		switch {
		case t.grid:
			return h + bodyLead + float64(len(t.rows))*gridRow + 8 + gridAfter
		case len(t.rows) > 0:
			return h + s.start(t)
		}
	}
	return h
}

// start is the height of a table's title and head with its first row.
func (s *setter) start(t table) float64 {
	widths := tableWidths(t, pageW-2*pageEdge)
	head, first := s.lines(t.head, widths, true), s.lines(t.rows[0], widths, false)
	return bodyLead*float64(2+2*len(t.under)+lineCount(head)+lineCount(first)) + 14
}

func careLines(lines []string) []string {
	var all []string
	for _, l := range lines {
		all = append(all, ink.Wrap(print(l), bodySize, true, pageW-2*pageEdge-16)...)
	}
	return all
}

// care sets cautions in a box with a bar at its left.
func (s *setter) care(lines []string) {
	if len(lines) == 0 {
		return
	}
	all := careLines(lines)
	h := float64(len(all))*bodyLead + 5
	s.need(h)
	s.page().Add(ink.Rect{X: pageEdge, Y: s.y, W: pageW - 2*pageEdge, H: h, Wide: 0.8},
		ink.Rect{X: pageEdge, Y: s.y, W: 5, H: h, Grey: 1})
	for i, l := range all {
		s.page().Add(ink.Text{X: pageEdge + 11, Y: s.y + bodyLead*float64(i+1) - 0.5, Size: bodySize, Bold: true, S: l})
	}
	s.y += h + 4
}

// grids sets plug faces beside one another.
func (s *setter) grids(ts []table) {
	const cell = 21.0
	rows := 0
	for _, t := range ts {
		rows = max(rows, len(t.rows))
	}
	h := bodyLead + float64(rows)*gridRow + 8
	s.need(h + gridAfter)
	s.y += 6
	wide := (pageW - 2*pageEdge) / float64(max(2, len(ts)))
	for i, t := range ts {
		x := pageEdge + wide*float64(i)
		for k, l := range ink.Wrap(print(t.title), SmallestText, true, wide-6) {
			if k == 0 {
				s.page().Add(ink.Text{X: x, Y: s.y + SmallestText, Size: SmallestText, Bold: true, S: l})
			}
		}
		for r, row := range t.rows {
			size := min(cell, (wide-8)/float64(max(1, len(row))))
			for c, v := range row {
				if v == "" {
					continue
				}
				b := ink.Rect{X: x + size*float64(c), Y: s.y + bodyLead + gridRow*float64(r), W: size, H: gridRow, Wide: 0.7}
				s.page().Add(b, ink.Text{X: b.X + size/2, Y: b.Y + gridRow*0.7, Size: bodySize, Anchor: ink.Middle, S: print(v)})
			}
		}
	}
	s.y += h - 4
}

// table sets a table; its head comes again on every page.
func (s *setter) table(t table) {
	if len(t.rows) == 0 {
		return
	}
	widths := tableWidths(t, pageW-2*pageEdge)
	head := s.lines(t.head, widths, true)
	s.need(s.start(t))
	if t.title != "" {
		s.y += 4
		s.para(t.title, bodySize+0.6, true, 0)
		s.y += 1
	}
	for _, u := range t.under {
		s.para(u, bodySize, false, 0)
	}
	if n := s.beside(t, widths); n > 1 {
		s.columns(t, widths, n)
		s.y += 4
		return
	}
	s.row(pageEdge, t.head, head, widths, true)
	for _, r := range t.rows {
		cells := s.lines(r, widths, false)
		if s.need(float64(lineCount(cells))*bodyLead + 3) {
			s.row(pageEdge, t.head, head, widths, true)
		}
		s.row(pageEdge, r, cells, widths, false)
	}
	s.y += 4
}

func (s *setter) lines(cells []string, widths []float64, bold bool) [][]string {
	out := make([][]string, len(widths))
	for i, c := range cells {
		if c != tick && c != blank && c != "" {
			out[i] = ink.Wrap(print(c), bodySize, bold, widths[i]-2*cellPad+0.01)
		}
	}
	return out
}

func lineCount(cells [][]string) int {
	n := 1
	for _, c := range cells {
		n = max(n, len(c))
	}
	return n
}

func (s *setter) row(x float64, raw []string, cells [][]string, widths []float64, head bool) {
	h := float64(lineCount(cells))*bodyLead + 3
	from, total := x, sum(widths)
	if head {
		s.page().Add(ink.Rect{X: x, Y: s.y, W: total, H: h, Grey: 0.1})
	}
	for i, w := range widths {
		switch {
		case i < len(raw) && raw[i] == tick:
			s.page().Add(ink.Rect{X: x + cellPad, Y: s.y + 2.6, W: tickSize, H: tickSize, Wide: 0.7})
		case i < len(raw) && raw[i] == blank:
			s.page().Add(ink.Line{X1: x + cellPad, Y1: s.y + bodyLead, X2: x + w - cellPad, Y2: s.y + bodyLead, Wide: 0.5})
		default:
			for k, l := range cells[i] {
				s.page().Add(ink.Text{X: x + cellPad, Y: s.y + bodyLead*float64(k+1) - 1, Size: bodySize, Bold: head, S: l})
			}
		}
		x += w
	}
	s.y += h
	s.page().Add(ink.Line{X1: from, Y1: s.y, X2: from + total, Y2: s.y, Wide: 0.25})
}
