// Package ink is the small list of marks that a printed page is made of, and
// what draws them: a PDF writer and an SVG writer that show the same page.
//
// Lengths are points (1/72 inch), x to the right and y down from the page's
// top left corner. The font is embedded and its widths are its own, so that a
// text is as wide on paper as it was reckoned. Nothing here reads a clock or
// the machine's fonts: the same pages give the same bytes.
package ink

// Mark is one thing on a page: Line, Rect, Dot or Text.
type Mark interface{ mark() }

// Line is a straight line, Wide points wide.
type Line struct {
	X1, Y1, X2, Y2 float64
	Wide           float64
	Dashed         bool
}

// Rect is a rectangle with a border Wide points wide (0: none). Grey fills it,
// from 0 (not filled) to 1 (black).
type Rect struct {
	X, Y, W, H float64
	Wide       float64
	Grey       float64
}

// Dot is a circle about X, Y.
type Dot struct {
	X, Y, R float64
	Filled  bool
	Wide    float64
}

// Anchor says which part of a text stands at its X.
type Anchor int

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

// Text is one line of text; Y is its base line, Size its height in points.
type Text struct {
	X, Y   float64
	Size   float64
	Bold   bool
	Anchor Anchor
	S      string
	White  bool
}

func (Line) mark() {}
func (Rect) mark() {}
func (Dot) mark()  {}
func (Text) mark() {}

// Page is a sheet of paper and its marks, drawn in order.
type Page struct {
	W, H  float64
	Marks []Mark
}

// Add puts marks on the page.
func (p *Page) Add(m ...Mark) { p.Marks = append(p.Marks, m...) }

// The parts of a line of text of size 1 above and under its base line: what a
// capital with an accent and a descender need.
const (
	Ascent  = 0.78
	Descent = 0.22
)

// Box is the rectangle that a text covers.
func (t Text) Box() Rect {
	w := Width(t.S, t.Size, t.Bold)
	x := t.X
	switch t.Anchor {
	case Middle:
		x -= w / 2
	case End:
		x -= w
	}
	return Rect{X: x, Y: t.Y - Ascent*t.Size, W: w, H: (Ascent + Descent) * t.Size}
}
