package tui

import (
	"fmt"
	"slices"
	"strings"

	"bellout/inference"
	"bellout/mapping"
)

// openDoubts are the doubts that nobody has set aside.
func (s *session) openDoubts() []inference.Doubt {
	var out []inference.Doubt
	for _, d := range s.th.sum.Doubts {
		aside := false
		for _, dec := range s.work.Decisions {
			aside = aside || dec.Kind == mapping.SetAside && slices.Equal(dec.Readings, d.Readings)
		}
		if !aside {
			out = append(out, d)
		}
	}
	return out
}

// progress is the right half of the head line: time left beside the grid's, for
// an estimate is believed only beside what it is compared with.
func (s *session) progress(w int) string {
	var parts []string
	if s.th.find != nil && w >= 60 {
		parts = append(parts, "doubt left "+percent(1-s.th.sum.Confidence))
	}
	switch {
	case s.left > 0:
		parts = append(parts, minutes(s.left)+" left, grid "+minutes(s.grid))
	case s.left == 0:
		parts = append(parts, "all asked")
	default:
		parts = append(parts, "grid "+minutes(s.grid))
	}
	return strings.Join(parts, "   ")
}

func percent(p float64) string {
	switch {
	case p < 0.0005:
		return "under 0.1 %"
	case p < 0.1:
		return fmt.Sprintf("%.1f %%", p*100)
	}
	return fmt.Sprintf("%.0f %%", p*100)
}

func minutes(sec float64) string {
	if sec < 90 {
		return fmt.Sprintf("%.0f s", sec)
	}
	return fmt.Sprintf("%.0f min", sec/60)
}
