package sheet

import (
	"fmt"
	"slices"
	"testing"

	"bellout/mapping/sheet/ink"
)

// TestNarrowTables: a long narrow table stands in columns: all of its rows once and
// in their order down each column, none beyond the edges of a page, over as many pages
// as it takes; a wide one, and a short one, stay as they are.
func TestNarrowTables(t *testing.T) {
	for _, c := range []struct {
		rows, pages, columns int
		wide                 bool
	}{{5, 1, 1, false}, {60, 1, 4, false}, {400, 3, 4, false}, {60, 2, 1, true}} {
		tb := table{title: "Wire", head: []string{"", "Name", "Long"}}
		for i := range c.rows {
			row := []string{tick, fmt.Sprintf("wire %03d", i), "1.25 metres"}
			if c.wide {
				row[2] += " of the thickest that the shop has, with as much again for the other side"
			}
			tb.rows = append(tb.rows, row)
		}
		s := &setter{}
		s.turn()
		s.y = 300
		s.table(tb)
		var names []string
		heads := 0
		var lefts []float64
		for _, p := range s.pages {
			for _, m := range p.Marks {
				x, ok := m.(ink.Text)
				if !ok {
					continue
				}
				if x.S == "Name" {
					heads++
				}
				var n int
				if _, err := fmt.Sscanf(x.S, "wire %d", &n); err != nil {
					continue
				}
				names = append(names, x.S)
				if !slices.Contains(lefts, x.X) {
					lefts = append(lefts, x.X)
				}
				if x.Y > pageH-30 || x.X+ink.Width("wire 000", bodySize, false) > pageW-pageEdge {
					t.Errorf("%d rows: %s stands at %.0f, %.0f", c.rows, x.S, x.X, x.Y)
				}
			}
		}
		if len(names) != c.rows || !slices.IsSorted(names) {
			t.Errorf("%d rows: %d are there, in order %v", c.rows, len(names), slices.IsSorted(names))
		}
		if len(s.pages) != c.pages || len(lefts) != c.columns || heads < len(s.pages) {
			t.Errorf("%d rows: %d pages, %d columns, %d heads; want %d pages, %d columns", c.rows, len(s.pages), len(lefts), heads, c.pages, c.columns)
		}
	}
}
