package sheet

import (
	"slices"

	"bellout/mapping/sheet/ink"
	"bellout/mapping/sheet/route"
)

// block of text made ready for a width: what a box looks like.
type blockOf struct {
	box   schemeBox
	title []string
	head  []string
	foot  []string
	rows  []rowText
}

// rowText is a row in its columns, each broken into lines.
type rowText struct {
	cols  [4][]string // label, code, what, inside
	lines int
}

// columnsOf shares a box's width among the columns of its rows.
func columnsOf(x schemeBox, width float64) [4]float64 {
	var c [4]float64
	free := width - 2*inset - 3*colGap
	for _, r := range x.rows {
		c[0] = max(c[0], ink.Width(r.label, SmallestText, true))
		c[1] = max(c[1], ink.Width(r.code, SmallestText, false))
		c[2] = max(c[2], ink.Width(r.what, SmallestText, false))
		c[3] = max(c[3], ink.Width(r.inside, SmallestText, false))
	}
	c[0] = min(c[0], 0.4*free)
	c[1] = min(c[1], 0.34*free)
	rest := free - c[0] - c[1]
	if c[2]+c[3] > rest {
		// Each gets half unless it needs less.
		half := rest / 2
		switch {
		case c[2] < half:
			c[3] = rest - c[2]
		case c[3] < half:
			c[2] = rest - c[3]
		default:
			c[2], c[3] = half, half
		}
	}
	return c
}

func ready(x schemeBox, width float64) blockOf {
	b := blockOf{box: x}
	text := width - 2*inset
	if !x.plain {
		b.title = ink.Wrap(print(x.title), bigText, true, text)
	}
	for _, h := range x.head {
		b.head = append(b.head, ink.Wrap(print(h), SmallestText, false, text)...)
	}
	for _, f := range x.foot {
		b.foot = append(b.foot, ink.Wrap(print(f), SmallestText, false, text)...)
	}
	c := columnsOf(x, width)
	for _, r := range x.rows {
		t := rowText{lines: 1}
		for k, s := range []string{r.label, r.code, r.what, r.inside} {
			if s != "" {
				t.cols[k] = ink.Wrap(print(s), SmallestText, k == 0, max(c[k], 6)+0.01)
			}
			t.lines = max(t.lines, len(t.cols[k]))
		}
		b.rows = append(b.rows, t)
	}
	return b
}

// above is the number of lines over the rows.
func (b blockOf) above() int { return len(b.title) + len(b.head) }

func (b blockOf) height() int {
	h := b.above() + len(b.foot)
	for _, r := range b.rows {
		h += r.lines
	}
	return h
}

// print writes text so that the font can draw it.
func print(s string) string {
	out, _ := ink.Printable(s)
	return out
}

// gap is the number of units between two boxes of a column.
const gap = 1

// triedSides is how many proposals of columns are sketched, drawnSides how many
// of those with the fewest crossings are worked out in full.
const (
	triedSides = 24
	drawnSides = 6
)

// proposal is one way to share the boxes among the columns.
type proposal struct {
	blocks []blockOf
	prob   route.Problem
	layout route.Layout
}

// drawOn draws on one sheet; ok is false when it does not fit.
func drawOn(in Input, s *scheme, p paper, force bool) (d *drawing, ok bool, err error) {
	height := func(x schemeBox, c route.Column) int { return ready(x, p.width(c)).height() + gap }
	panels := panelsOf(in, p.w-2*margin)
	shelf := shelfHeight(panels, p.w-2*margin)
	fits := func(l route.Layout) bool {
		return force || p.tall(l.Height, shelf) <= p.h && p.room() >= leastRoom(l.Tracks)
	}
	var all []proposal
	for _, columns := range s.sides(height, triedSides) {
		var tall [3]int
		for i, x := range s.boxes {
			tall[columns[i]] += height(x, columns[i])
		}
		if p.tall(float64(slices.Max(tall[:])-gap), shelf) > p.h && !force { // no gap under the last
			continue
		}
		pr := s.propose(columns, p)
		if pr.layout, err = route.Sketch(pr.prob); err != nil {
			return nil, false, err
		}
		all = append(all, pr)
	}
	slices.SortStableFunc(all, func(a, b proposal) int { return a.layout.Crossings - b.layout.Crossings })
	var best *proposal
	for i := range all[:min(drawnSides, len(all))] {
		pr := &all[i]
		if pr.layout, err = route.Solve(pr.prob); err != nil {
			return nil, false, err
		}
		if fits(pr.layout) && (best == nil || pr.layout.Crossings < best.layout.Crossings) {
			best = pr
		}
	}
	if best == nil {
		return nil, false, nil
	}
	l := best.layout
	p.w += 2 * max(0, leastRoom(l.Tracks)-p.room())
	p.h = max(p.h, p.tall(l.Height, shelf))
	d = &drawing{page: ink.Page{W: p.w, H: p.h}, paper: p.name, crossings: l.Crossings}
	d.title(in)
	d.columns(s, l, best.blocks, p)
	d.shelves(panels, p.w-2*margin, p.tall(l.Height, shelf)-margin-shelf)
	return d, true, nil
}

// propose puts the boxes into columns.
func (s *scheme) propose(columns []route.Column, p paper) proposal {
	pr := proposal{blocks: make([]blockOf, len(s.boxes)), prob: route.Problem{Gap: gap}}
	for i, x := range s.boxes {
		b := ready(x, p.width(columns[i]))
		pr.blocks[i] = b
		rb := route.Box{Name: x.name, Column: columns[i], Head: b.above(), Foot: len(b.foot)}
		for k, r := range x.rows {
			rb.Rows = append(rb.Rows, route.Row{Name: r.point, Height: b.rows[k].lines})
		}
		pr.prob.Boxes = append(pr.prob.Boxes, rb)
	}
	for _, w := range s.wires {
		if w.from != w.to {
			pr.prob.Wires = append(pr.prob.Wires, route.Wire{From: w.from, To: w.to})
		}
	}
	return pr
}

// width is that of a column.
func (p paper) width(c route.Column) float64 {
	if c == route.Centre {
		return p.centre
	}
	return p.side
}

// tall is the height that columns of so many units and the panels under them
// need.
func (p paper) tall(units, shelf float64) float64 {
	return 2*margin + titleBar + units*pitch + 8 + shelf
}

// room is the width of each channel; leastRoom what the wires in it need.
func (p paper) room() float64 { return (p.w - 2*margin - 2*p.side - p.centre) / 2 }

func leastRoom(tracks [2]int) float64 {
	return 2*earthRoom + leastTrack*float64(max(tracks[0], tracks[1])+1)
}
