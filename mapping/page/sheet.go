// Package page draws printable sheets: lines, boxes, dots and text placed in
// millimetres from the top left corner, black on white. A sheet is a list of
// marks, so that the PDF and the HTML page (with the same marks as a vector
// drawing) show exactly the same, and both are byte-stable: no clock, no
// locale, fixed fonts.
//
// The fonts are embedded, never the machine's. A character that they lack is
// printed as its code, [U+4E2D], and never as an empty box.
package page

import (
	"math"

	"bellout/mapping"
)

// Sizes of a sheet in millimetres: A4, upright and lying.
const (
	A4Short = 210.0
	A4Long  = 297.0
)

// MillimetresPerPoint turns a font size into millimetres.
const MillimetresPerPoint = 25.4 / 72

// Align says where a text stands to its point.
type Align int

// The three ways to place a text.
const (
	Left Align = iota
	Centre
	Right
)

// Sheet is one sheet of paper. Marks drawn later lie on top.
type Sheet struct {
	Width, Height float64 // millimetres
	marks         []mark
}

type markKind int

const (
	lineMark markKind = iota
	boxMark
	dotMark
	textMark
)

type mark struct {
	kind           markKind
	x1, y1, x2, y2 float64 // dot: centre, radius in x2
	pen            float64
	dash           float64
	shade          float64 // 0 white to 1 black; negative: not filled
	font           Font
	size           float64 // points
	align          Align
	text           string
}

// New begins a sheet of a size in millimetres.
func New(width, height float64) *Sheet { return &Sheet{Width: width, Height: height} }

// Line draws a line of a width (pen) in millimetres.
func (s *Sheet) Line(x1, y1, x2, y2, pen float64) { s.Dashed(x1, y1, x2, y2, pen, 0) }

// Dashed draws a line broken into strokes and gaps of a length in millimetres;
// 0 is a whole line.
func (s *Sheet) Dashed(x1, y1, x2, y2, pen, dash float64) {
	s.marks = append(s.marks, mark{kind: lineMark, x1: x1, y1: y1, x2: x2, y2: y2, pen: pen, dash: dash, shade: -1})
}

// Box draws a rectangle from its top left corner. shade fills it, 0 white to 1
// black; a negative shade leaves it open. A pen of 0 draws no border.
func (s *Sheet) Box(x, y, width, height, pen, shade float64) {
	s.marks = append(s.marks, mark{kind: boxMark, x1: x, y1: y, x2: width, y2: height, pen: pen, shade: shade})
}

// Dot draws a circle about a point, filled as Box is.
func (s *Sheet) Dot(x, y, radius, pen, shade float64) {
	s.marks = append(s.marks, mark{kind: dotMark, x1: x, y1: y, x2: radius, pen: pen, shade: shade})
}

// Text writes one line with its baseline at y, in points. The text is cleaned,
// and characters that the font lacks are written as their code.
func (s *Sheet) Text(x, y float64, f Font, size float64, a Align, text string) {
	text, _ = Printable(f, mapping.Clean(text, 0))
	if text == "" {
		return
	}
	s.marks = append(s.marks, mark{kind: textMark, x1: x, y1: y, font: f, size: size, align: a, text: text})
}

// Bounds is the box around everything drawn, in millimetres, to find out
// whether a sheet is too full: a text's height is taken as its size.
func (s *Sheet) Bounds() (left, top, right, bottom float64) {
	left, top, right, bottom = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	grow := func(x, y float64) {
		left, right = min(left, x), max(right, x)
		top, bottom = min(top, y), max(bottom, y)
	}
	for _, m := range s.marks {
		h := m.pen / 2
		switch m.kind {
		case lineMark:
			grow(min(m.x1, m.x2)-h, min(m.y1, m.y2)-h)
			grow(max(m.x1, m.x2)+h, max(m.y1, m.y2)+h)
		case boxMark:
			grow(m.x1-h, m.y1-h)
			grow(m.x1+m.x2+h, m.y1+m.y2+h)
		case dotMark:
			grow(m.x1-m.x2-h, m.y1-m.x2-h)
			grow(m.x1+m.x2+h, m.y1+m.x2+h)
		case textMark:
			x := m.start()
			grow(x, m.y1-m.size*MillimetresPerPoint)
			grow(x+Width(m.font, m.size, m.text), m.y1+0.25*m.size*MillimetresPerPoint)
		}
	}
	return left, top, right, bottom
}

// start is the left edge of a text.
func (m mark) start() float64 {
	switch m.align {
	case Centre:
		return m.x1 - Width(m.font, m.size, m.text)/2
	case Right:
		return m.x1 - Width(m.font, m.size, m.text)
	}
	return m.x1
}
