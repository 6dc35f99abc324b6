// Package labels makes the flags that are folded round each wire before the
// plug is cut off: two of each, one for either side of the cut.
package labels

import (
	"fmt"
	"io"

	"bellout/mapping"
	"bellout/mapping/page"
)

// Label is what stands on a flag.
type Label struct {
	Pod    string
	End    string
	Colour string // base before tracer, since the joined code would not tell YE/BK from BK/YE; empty where not said
	Cavity string // of the old plug; empty where not said
}

// PerWire is how many flags a wire gets: one each side of the cut.
const PerWire = 2

// Of gives the labels of a pod in the order of its ends: PerWire of each wire,
// one after the other. The metal body gets none: it is not cut.
func Of(p mapping.Pod) []Label {
	var out []Label
	for _, e := range p.Ends {
		if e.Kind != mapping.Wire {
			continue
		}
		l := Label{
			Pod: mapping.Clean(p.Name, mapping.MaxName), End: mapping.Clean(string(e.ID), mapping.MaxName),
			Colour: e.Colours(), Cavity: mapping.Clean(e.Cavity, mapping.MaxName),
		}
		for range PerWire {
			out = append(out, l)
		}
	}
	return out
}

// words are the two lines of a flag.
func (l Label) words() (first, second string) {
	second = l.Colour
	if l.Cavity != "" {
		if second != "" {
			second += ", "
		}
		second += "cavity " + l.Cavity
	}
	return l.Pod + " " + l.End, second
}

// WriteText writes a label a line, for a label printer or a pen.
func WriteText(w io.Writer, list []Label) error {
	for _, l := range list {
		first, second := l.words()
		if second != "" {
			first += "  " + second
		}
		if _, err := fmt.Fprintln(w, first); err != nil {
			return err
		}
	}
	return nil
}

// Sizes in millimetres. A flag is folded in the middle round the wire, so it
// says the same on both halves.
const (
	margin = 12.0
	half   = 31.0
	high   = 11.0
	wide   = 2 * half
	across = 3  // 3 x 62 mm and two margins fill A4's 210 mm
	down   = 24 // 24 x 11 mm and two margins stay within A4's 297 mm
)

// Sheets draws the flags on A4, each with its edge to cut along and a broken
// line to fold along.
func Sheets(list []Label) []*page.Sheet {
	var out []*page.Sheet
	for i, l := range list {
		at := i % (across * down)
		if at == 0 {
			out = append(out, page.New(page.A4Short, page.A4Long))
		}
		draw(out[len(out)-1], l, margin+wide*float64(at%across), margin+high*float64(at/across))
	}
	return out
}

func draw(s *page.Sheet, l Label, x, y float64) {
	const pen, fold = 0.15, 1.2
	s.Box(x, y, wide, high, pen, -1)
	s.Dashed(x+half, y, x+half, y+high, pen, fold)
	first, second := l.words()
	// The end is what the flag is for: where the two do not fit beside each
	// other, the pod's name is cut and never the end. It is cut in its middle,
	// since two pods of one machine tend to differ at the end of theirs.
	for k := range 2 {
		left := x + half*float64(k)
		const big, small, pad = 11.0, 7.5, 2.0
		room := half - 2*pad
		text := first
		if page.Width(page.Bold, big, text) > room {
			end := " " + l.End
			text = page.FitMiddle(page.Bold, big, room-page.Width(page.Bold, big, end), l.Pod) + end
		}
		s.Text(left+half/2, y+5, page.Bold, big, page.Centre, page.Fit(page.Bold, big, room, text))
		s.Text(left+half/2, y+9, page.Regular, small, page.Centre, page.Fit(page.Regular, small, room, second))
	}
}

// WritePDF writes the flags as PDF.
func WritePDF(w io.Writer, list []Label) error { return page.WritePDF(w, "labels", Sheets(list)...) }

// WriteHTML writes the flags as HTML that needs nothing else.
func WriteHTML(w io.Writer, list []Label) error {
	return page.WriteHTML(w, "labels", "", Sheets(list)...)
}
