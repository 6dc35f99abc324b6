package pinout

import (
	"fmt"
	"io"
	"strings"

	"bellout/mapping"
	"bellout/mapping/page"
)

const (
	margin   = 12.0 // millimetres
	largest  = 1.30 // of the usual size of type: a small pod gets a page to read from afar
	smallest = 0.55 // before anything is left off
)

// Sheet lays the pinout out on one upright A4 sheet, black on white. Type is
// made smaller until everything fits; what still does not is left off with a
// line that says so and where to find it.
func (p Pinout) Sheet() *page.Sheet {
	for scale := largest; ; scale -= 0.05 {
		last := scale-0.05 < smallest
		l := &layout{Sheet: page.New(page.A4Short, page.A4Long), scale: scale, y: margin, clip: last}
		l.all(p)
		if !l.over || last {
			return l.Sheet
		}
	}
}

// WritePDF writes the printable page as PDF.
func (p Pinout) WritePDF(w io.Writer) error {
	return page.WritePDF(w, p.heading(), p.Sheet())
}

// WriteHTML writes the printable page as HTML that needs nothing else.
func (p Pinout) WriteHTML(w io.Writer) error {
	return page.WriteHTML(w, p.heading(), "", p.Sheet())
}

// layout is a sheet that is being filled from the top.
type layout struct {
	*page.Sheet
	scale float64
	y     float64
	over  bool
	clip  bool // leave off what does not fit, and say so
	left  int  // how many things were left off
}

func (l *layout) pt(size float64) float64 { return size * l.scale }

// mm is the line height of a size of type.
func (l *layout) mm(size float64) float64 { return l.pt(size) * page.MillimetresPerPoint * 1.3 }

func (l *layout) right() float64  { return l.Width - margin }
func (l *layout) bottom() float64 { return l.Height - margin - 5 }

// room tells whether a height is still free; where things may be left off, it
// counts what is.
func (l *layout) room(height float64) bool {
	if l.y+height <= l.bottom() {
		return true
	}
	l.over = true
	if l.clip {
		l.left++
		return false
	}
	return true
}

func (l *layout) all(p Pinout) {
	l.head(p)
	l.ends(p)
	l.contactTables(p)
	l.paragraphs("What continuity cannot settle", p.questions())
	l.paragraphs("What is not known, and notes", p.Notes)
	l.paragraphs("Cautions", p.Cautions)
	l.paragraphs("Links and the readings behind them", p.linkLines())
	foot := p.Counts.String()
	if l.left > 0 {
		foot = fmt.Sprintf("%d items did not fit on this page: see the text version. ", l.left) + foot
	}
	y := l.Height - margin
	l.Line(margin, y-4.2, l.right(), y-4.2, 0.2)
	l.Text(margin, y, page.Bold, 7.5, page.Left, page.Fit(page.Bold, 7.5, l.right()-margin, foot))
}

func (l *layout) head(p Pinout) {
	width := l.right() - margin
	l.y += l.mm(17) * 0.8
	l.Text(margin, l.y, page.Bold, l.pt(17), page.Left, page.Fit(page.Bold, l.pt(17), width, p.Pod))
	job := "pinout"
	if p.Job != "" {
		job = "pinout of " + p.Job
	}
	l.y += l.mm(10)
	l.Text(margin, l.y, page.Regular, l.pt(10), page.Left, page.Fit(page.Regular, l.pt(10), width, job))
	about := p.about()
	if len(about) > 1 {
		l.y += l.mm(9)
		l.Text(margin, l.y, page.Regular, l.pt(9), page.Left, page.Fit(page.Regular, l.pt(9), width, about[0]))
	}
	l.y += l.mm(9)
	l.Text(margin, l.y, page.Bold, l.pt(9), page.Left, page.Fit(page.Bold, l.pt(9), width, about[len(about)-1]))
	l.y += l.mm(9) * 0.5
}

// endColumns are the columns of the pinout proper: heading and width in
// millimetres; the function takes what is left.
var endColumns = []struct {
	head  string
	width float64
}{{"end", 14}, {"colour", 14}, {"old", 10}, {"new", 10}, {"DIN", 14}, {"function", 0}, {"grade", 27}}

func (l *layout) ends(p Pinout) {
	widths := make([]float64, len(endColumns))
	rest := l.right() - margin
	for i, c := range endColumns {
		widths[i] = c.width * l.scale
		rest -= widths[i]
	}
	for i, c := range endColumns {
		if c.width == 0 {
			widths[i] = rest
		}
	}
	size := 9.0
	row := func(f page.Font, cells []string) {
		var lines [][]string
		height := 1
		for i, c := range cells {
			wrapped := page.Wrap(f, l.pt(size), widths[i]-2, c)
			lines = append(lines, wrapped)
			height = max(height, len(wrapped))
		}
		if !l.room(float64(height) * l.mm(size)) {
			return
		}
		x := margin
		for i, wrapped := range lines {
			for k, text := range wrapped {
				font := f
				if i == 0 {
					font = page.Bold
				}
				l.Text(x+1, l.y+float64(k+1)*l.mm(size)*0.98-l.mm(size)*0.15, font, l.pt(size), page.Left, text)
			}
			x += widths[i]
		}
		l.y += float64(height)*l.mm(size) + 0.6
		l.Line(margin, l.y, l.right(), l.y, 0.1)
	}
	var heads []string
	for _, c := range endColumns {
		heads = append(heads, c.head)
	}
	l.Line(margin, l.y, l.right(), l.y, 0.4)
	row(page.Bold, heads)
	l.Line(margin, l.y, l.right(), l.y, 0.3)
	g := mapping.UnicodeGlyphs()
	for _, e := range p.Ends {
		function := e.Function
		if e.Overruled {
			function += " (named by the builder)"
		}
		if e.Says != "" {
			function += " [" + e.mark() + "]"
		}
		if e.Fate != "" {
			function += "; wire: " + e.Fate
		}
		row(page.Regular, []string{e.ID, e.Colour, e.OldCavity, e.NewCavity, e.Terminal, function, g.Grade(mapping.Grade(e.Grade)) + " " + e.Grade.String()})
	}
	l.Line(margin, l.y, l.right(), l.y, 0.4)
	l.y += 2
}

// paragraphs writes a list under a heading, nothing where it is empty.
func (l *layout) paragraphs(title string, items []string) {
	if len(items) == 0 {
		return
	}
	const size = 8.0
	if !l.room(2 * l.mm(size)) {
		l.left += len(items) - 1
		return
	}
	l.y += l.mm(size) * 1.1
	l.Text(margin, l.y, page.Bold, l.pt(size+0.5), page.Left, title)
	for _, s := range items {
		lines := page.Wrap(page.Regular, l.pt(size), l.right()-margin-4, s)
		if !l.room(float64(len(lines)) * l.mm(size)) {
			continue
		}
		for i, text := range lines {
			l.y += l.mm(size)
			if i == 0 {
				l.Dot(margin+1.2, l.y-l.pt(size)*page.MillimetresPerPoint*0.3, 0.45, 0, 1)
			}
			l.Text(margin+3, l.y, page.Regular, l.pt(size), page.Left, text)
		}
	}
	l.y += 0.8
}

// linkLines puts the links in as few lines as will do: each link is short.
func (p Pinout) linkLines() []string {
	var parts []string
	for _, l := range p.Links {
		s := fmt.Sprintf("%s-%s %s: %s", l.Between[0], l.Between[1], l.When, l.Grade)
		if l.Ohms != nil {
			s += ", " + mapping.Resistance(*l.Ohms)
		}
		if len(l.Readings) > 0 {
			s += " (" + numbers(l, fewRuns) + ")"
		}
		parts = append(parts, s)
	}
	if len(parts) == 0 {
		return nil
	}
	return []string{strings.Join(parts, ";  ")}
}
