package sheet

import (
	"slices"
	"strings"
	"testing"

	"bellout/mapping/plan"
	"bellout/mapping/sheet/ink"
)

// No title of a section stands alone at the foot of a page, wherever it comes to lie and
// however high its first row is.
func TestTitlesHaveTheirSectionUnderThem(t *testing.T) {
	in := heron(t).tidy()
	sections := report(in)
	for lines := range 80 {
		s := &setter{}
		s.turn()
		for range lines {
			s.para("x", bodySize, false, 0)
		}
		for _, sec := range sections {
			s.section(sec)
		}
		for n, page := range s.pages {
			last, low := 0.0, 0.0
			for _, m := range page.Marks {
				if x, ok := m.(ink.Text); ok {
					low = max(low, x.Y)
					if x.White {
						last = x.Y
					}
				}
			}
			if last > 0 && low <= last+1 {
				t.Errorf("%d lines above: a title stands alone on page %d", lines, n+1)
			}
		}
	}
}

// Two fuse holders are two, whatever ends in them, and there is no spare to get; the time that
// a fuse opens in is the most that it takes.
func TestHoldersAreCountedOnce(t *testing.T) {
	in := heron(t).tidy()
	rows := map[string][]string{}
	for _, r := range countSection(in).tables[0].rows {
		rows[r[1]] = r
	}
	if r := rows[fuseHolder]; len(r) != 4 || r[2] != "2" || r[3] != "2" {
		t.Errorf("%v", r)
	}
	if head := waySection(in).tables[0].head; !slices.ContainsFunc(head, func(h string) bool { return strings.HasSuffix(h, "within") }) {
		t.Errorf("%v", head)
	}
	in.Plan.Wires = slices.DeleteFunc(slices.Clone(in.Plan.Wires), func(w plan.Wire) bool {
		return strings.HasPrefix(w.From, "charge.") || strings.HasPrefix(w.To, "charge.")
	})
	for _, r := range countSection(in).tables[0].rows {
		if r[1] == fuseHolder && r[2] != "1" {
			t.Errorf("one holder: %v", r)
		}
	}
}
