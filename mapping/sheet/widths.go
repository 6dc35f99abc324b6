package sheet

import (
	"strings"

	"bellout/mapping/sheet/ink"
)

// tableWidths shares a width among a table's columns.
func tableWidths(t table, room float64) []float64 {
	like, least := make([]float64, len(t.head)), make([]float64, len(t.head))
	add := func(i int, s string, bold bool) {
		switch s {
		case tick:
			like[i] = max(like[i], tickSize+2*cellPad)
			least[i] = max(least[i], tickSize+2*cellPad)
			return
		case blank:
			like[i] = max(like[i], blankWidth)
			least[i] = max(least[i], blankWidth)
			return
		}
		s = print(s)
		like[i] = max(like[i], ink.Width(s, bodySize, bold)+2*cellPad+0.2)
		for _, w := range strings.Fields(s) {
			least[i] = max(least[i], min(90, ink.Width(w, bodySize, bold)+2*cellPad+0.2))
		}
	}
	for i, h := range t.head {
		add(i, h, true)
	}
	for _, r := range t.rows {
		for i, c := range r {
			add(i, c, false)
		}
	}
	return share(like, least, room)
}
