package sheet

import (
	"fmt"
	"slices"
	"strings"

	"bellout/mapping/plan"
	"bellout/mapping/sheet/ink"
	"bellout/mapping/sheet/route"
)

// SmallestText is the height in points of the smallest text of the diagram. A
// copy at 60 % still has letters of 4.5 pt, the size of the small print on a
// medicine box.
const SmallestText = 7.5

// Sizes of the diagram, in points.
const (
	pitch      = 9.2 // of a row
	bigText    = 8.6
	colGap     = 5.0 // between the columns of a row
	margin     = 18.0
	titleBar   = 32.0
	inset      = 4.0  // of text in its box
	earthRoom  = 40.0 // for the earth sign and its name, beside a box
	leastTrack = 4.2  // between two wires that run side by side
)

// paper is a sheet of a standard size (ISO 216, landscape), with the widths of
// the outer columns and the middle one that suit it. Widths may be tried again before a
// larger sheet is taken: what is on A3 is copied to A4 at 71 %, what is on A2 cannot be.
type paper struct {
	name         string
	w, h         float64
	side, centre float64
}

func papers() []paper {
	return []paper{
		{"A4", 842, 595, 215, 165},
		{"A3", 1191, 842, 300, 250},
		{"A3", 1191, 842, 298, 260}, // a full middle breaks fewer lines so
		{"A2", 1684, 1191, 350, 280},
		{"A1", 2384, 1684, 450, 340},
	}
}

// drawing is the diagram with what its checks need to know.
type drawing struct {
	page      ink.Page
	paper     string
	boxes     []ink.Rect    // of modules, devices and panels
	labels    []ink.Rect    // of text beside a box: the names at earth signs
	wires     [][]ink.Line  // by net
	fits      [][2]ink.Rect // a text and the box that it must lie in
	crossings int
}

// newDrawing draws the diagram on the smallest sheet that it fits on. The
// largest is made as high and wide as it must be.
func newDrawing(in Input) (*drawing, error) {
	s := newScheme(in)
	all := papers()
	for i, p := range all {
		d, ok, err := drawOn(in, s, p, i == len(all)-1)
		if err != nil {
			return nil, fmt.Errorf("the diagram cannot be drawn: %w", err)
		}
		if ok {
			return d, nil
		}
	}
	panic("the last sheet takes everything")
}

// columns draws the boxes and the wires between them.
func (d *drawing) columns(s *scheme, l route.Layout, blocks []blockOf, p paper) {
	room := p.room()
	x := [3]float64{margin, margin + p.side + room, margin + p.side + p.centre + 2*room}
	wide := [3]float64{p.side, p.centre, p.side}
	top := margin + titleBar
	y := func(units float64) float64 { return top + units*pitch }
	byName := map[string]int{}
	for i, b := range s.boxes {
		byName[b.name] = i
	}
	sizeOf := map[string]float64{}
	for _, b := range l.Boxes {
		if b.Bare {
			cx := x[route.Centre]
			d.wires = append(d.wires, []ink.Line{{X1: cx, Y1: y(b.RowY[0]), X2: cx + p.centre, Y2: y(b.RowY[0]), Wide: 0.6}})
			continue
		}
		i := byName[b.Name]
		d.box(blocks[i], b, ink.Rect{X: x[b.Column], Y: y(b.Top), W: wide[b.Column], H: b.Height * pitch, Wide: 0.8})
		for _, r := range s.boxes[i].rows {
			sizeOf[r.point] = r.mm2
		}
	}
	for _, n := range l.Nets {
		left := x[n.Channel] + wide[n.Channel]
		right := x[n.Channel+1]
		step := (room - 2*earthRoom) / float64(l.Tracks[n.Channel]+1)
		at := left + earthRoom + step*float64(n.Track+1)
		hi, lo := n.Span()
		var lines []ink.Line
		thick := 0.0
		for _, pin := range n.Pins {
			w := stroke(sizeOf[pin.Row])
			thick = max(thick, w)
			if pin.Right {
				lines = append(lines, ink.Line{X1: at, Y1: y(pin.Y), X2: right, Y2: y(pin.Y), Wide: w})
			} else {
				lines = append(lines, ink.Line{X1: left, Y1: y(pin.Y), X2: at, Y2: y(pin.Y), Wide: w})
			}
			if pin.Y > hi && pin.Y < lo {
				d.page.Add(ink.Dot{X: at, Y: y(pin.Y), R: 1.6, Filled: true, Wide: 0.5})
			}
		}
		d.wires = append(d.wires, append(lines, ink.Line{X1: at, Y1: y(hi), X2: at, Y2: y(lo), Wide: thick}))
	}
	for _, n := range d.wires {
		for _, w := range n {
			d.page.Add(w)
		}
	}
}

// stroke is how wide a wire of a size is drawn.
func stroke(mm2 float64) float64 {
	switch {
	case mm2 >= 10:
		return 2
	case mm2 >= 2.5:
		return 1.4
	case mm2 >= 1:
		return 0.9
	}
	return 0.6
}

// box draws one box with its rows and the earth signs beside it. Rows come in
// the order of the layout; on the left side they read towards the wires.
func (d *drawing) box(b blockOf, at route.Placed, r ink.Rect) {
	d.boxes = append(d.boxes, r)
	d.page.Add(ink.Rect{X: r.X, Y: r.Y, W: r.W, H: float64(b.above()) * pitch, Grey: 0.07}, r)
	line := func(x, base float64, bold bool, a ink.Anchor, size float64, s string) {
		t := ink.Text{X: x, Y: base, Size: size, Bold: bold, Anchor: a, S: s}
		d.page.Add(t)
		d.fits = append(d.fits, [2]ink.Rect{t.Box(), r})
	}
	y := r.Y - 1.9
	for _, h := range b.title {
		y += pitch
		line(r.X+inset, y, true, ink.Start, bigText, h)
	}
	for _, h := range b.head {
		y += pitch
		line(r.X+inset, y, false, ink.Start, SmallestText, h)
	}
	c := columnsOf(b.box, r.W)
	index := map[string]int{}
	for k, row := range b.box.rows {
		index[row.point] = k
	}
	for _, placed := range at.Rows {
		k := index[placed.Name]
		t := b.rows[k]
		// Columns from the wires inwards; the middle column reads as the right.
		x := r.X + inset
		for j := range t.cols {
			for n, s := range t.cols[j] {
				base := y + float64(n+1)*pitch
				if at.Column == route.Left {
					line(r.X+r.W-(x-r.X), base, j == 0, ink.End, SmallestText, s)
				} else {
					line(x, base, j == 0, ink.Start, SmallestText, s)
				}
			}
			x += c[j] + colGap
		}
		rowY := y + pitch - (0.5*pitch - 1.9)
		d.page.Add(ink.Line{X1: r.X, Y1: y + 1.9, X2: r.X + r.W, Y2: y + 1.9, Wide: 0.25})
		if e := b.box.rows[k].earth; e != "" {
			d.earth(e, rowY, at.Column, r, stroke(b.box.rows[k].mm2))
		}
		y += float64(t.lines) * pitch
	}
	if len(b.foot) > 0 {
		d.page.Add(ink.Line{X1: r.X, Y1: y + 1.9, X2: r.X + r.W, Y2: y + 1.9, Wide: 0.25})
	}
	for _, f := range b.foot {
		y += pitch
		line(r.X+inset, y, false, ink.Start, SmallestText, f)
	}
}

// earth draws a short wire to the earth sign with the point's name: a bar
// across the wire's end and two shorter ones (IEC 60617 earth, turned).
func (d *drawing) earth(name string, y float64, c route.Column, r ink.Rect, wide float64) {
	x, dir := r.X+r.W, 1.0
	if c != route.Left {
		x, dir = r.X, -1
	}
	d.wires = append(d.wires, []ink.Line{{X1: x, Y1: y, X2: x + dir*9, Y2: y, Wide: wide}})
	for i, h := range []float64{3.6, 2.4, 1.2} {
		bx := x + dir*(9+1.8*float64(i))
		d.page.Add(ink.Line{X1: bx, Y1: y - h, X2: bx, Y2: y + h, Wide: 0.9})
	}
	a := ink.Start
	if dir < 0 {
		a = ink.End
	}
	s, _ := ink.Fit(print(name), SmallestText, false, earthRoom-17)
	t := ink.Text{X: x + dir*15, Y: y + 0.28*SmallestText, Size: SmallestText, Anchor: a, S: s}
	d.page.Add(t)
	d.labels = append(d.labels, t.Box())
}

// title draws the bar at the top: machine, revision, date, who, grades.
func (d *drawing) title(in Input) {
	p := in.Plan
	r := ink.Rect{X: margin, Y: margin - 4, W: d.page.W - 2*margin, H: titleBar, Wide: 1}
	d.boxes = append(d.boxes, r)
	d.page.Add(r)
	put := func(x, y, size float64, bold bool, a ink.Anchor, s string, wide float64) {
		s, _ = ink.Fit(print(s), size, bold, wide)
		t := ink.Text{X: x, Y: y, Size: size, Bold: bold, Anchor: a, S: s}
		d.page.Add(t)
		d.fits = append(d.fits, [2]ink.Rect{t.Box(), r})
	}
	name := p.Name + ": wiring"
	open := slices.DeleteFunc(slices.Clone(in.Findings), func(f plan.Judged) bool { return f.Meant })
	put(r.X+6, r.Y+15, 13, true, ink.Start, name, r.W*0.4)
	put(r.X+r.W-6, r.Y+13, 9, false, ink.End, headLine(p), r.W*0.58)
	put(r.X+r.W-6, r.Y+27, 9, false, ink.End, gradeLine(p), r.W*0.58)
	state := "Copy no smaller than 60 %."
	if len(open) > 0 {
		state = fmt.Sprintf("NOT SOUND YET: %d to settle, see the build sheet.", len(open))
	}
	if len(p.Bypasses) > 0 {
		state = strings.TrimSuffix(p.Bypasses[0].Notice(), ".")
		if n := len(p.Bypasses); n > 1 {
			state = fmt.Sprintf("%d INTERLOCKS BYPASSED, see Take care", n)
		}
		if len(open) > 0 {
			state = "NOT SOUND YET; " + state
		}
		state += "."
	}
	put(r.X+6, r.Y+28, 9, len(open) > 0 || len(p.Bypasses) > 0, ink.Start, state+" Sheet size "+d.paper, r.W*0.4)
}
