package sheet

import (
	"testing"
)

// The panels stand right under the drawing, on whatever sheet.
func TestPanelsStandUnderTheDrawing(t *testing.T) {
	inputs := map[string]Input{"Heron": heron(t).tidy()}
	for seed := range uint64(3) {
		inputs[string(rune('a'+seed))] = madePlan(seed+1, 4+4*int(seed), 8, 6).tidy()
	}
	for name, in := range inputs {
		d, err := newDrawing(in)
		if err != nil {
			t.Fatal(err)
		}
		modules := len(newScheme(in).boxes) + 1 // and the title
		low := 0.0
		for _, b := range d.boxes[1:min(modules, len(d.boxes))] {
			low = max(low, b.Y+b.H)
		}
		top := d.page.H
		for _, b := range d.boxes {
			if b.Y >= low-1e-9 {
				top = min(top, b.Y)
			}
		}
		if top-low > 3*pitch {
			t.Errorf("%s on %s: %.0f pt are empty between drawing and panels", name, d.paper, top-low)
		}
	}
}

// The smallest letters stand a copy to 60 %, as the page says of itself, and all widths of a
// sheet are tried before a larger one is taken.
func TestCopiesAreLegible(t *testing.T) {
	if 0.6*SmallestText < 4.5 {
		t.Errorf("letters of %v pt at 60 %%", 0.6*SmallestText)
	}
	tried := map[string]int{}
	last := papers()[0]
	for _, p := range papers() {
		tried[p.name]++
		if p.w < last.w {
			t.Errorf("%s after %s", p.name, last.name)
		}
		if least := leastRoom([2]int{14, 14}); p.name == "A3" && p.room() < least {
			t.Errorf("%s of %v and %v has channels of %v, a twin's take %v", p.name, p.side, p.centre, p.room(), least)
		}
		last = p
	}
	if tried["A3"] < 2 {
		t.Errorf("tried: %v", tried)
	}
}
