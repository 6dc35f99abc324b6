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
	if n := len(s.openDoubts()); n > 0 && w >= 60 {
		parts = append(parts, "!! "+count(n, "doubt"))
	} else if n > 0 {
		parts = append(parts, fmt.Sprintf("!%d", n))
	}
	if s.th.find != nil && w >= 60 {
		parts = append(parts, s.doubtWords())
	}
	switch {
	case s.left > 0:
		parts = append(parts, minutes(s.left)+" left, grid "+minutes(s.grid))
	case s.left == 0:
		parts = append(parts, "all asked")
	default:
		parts = append(parts, "grid "+minutes(s.grid))
	}
	if w < 60 {
		return strings.Join(parts, " ")
	}
	return strings.Join(parts, "   ")
}

// doubtWords says how much is not known. The engine's confidence leaves aside
// what it lists as open, so that comes first, as a count that falls.
func (s *session) doubtWords() string {
	if n := len(openPairs(s.th.sum)); n > 0 {
		return count(n, "pair") + " open"
	}
	return "doubt left " + percent(1-s.th.sum.Confidence)
}

// openPair is what is not known of two ends, under all the conditions in which
// it is not.
type openPair struct {
	a, b mapping.EndID
	when []string
}

func (o openPair) String() string {
	const most = 4
	when := strings.Join(o.when[:min(most, len(o.when))], "; ")
	if n := len(o.when) - most; n > 0 {
		when += fmt.Sprintf("; and %d more", n)
	}
	return fmt.Sprintf("%s and %s: %s", o.a, o.b, when)
}

// openPairs gathers what is open and what nobody vouches for by pairs of ends,
// in the engine's order.
func openPairs(sum inference.Result) []openPair {
	var out []openPair
	add := func(a, b mapping.EndID, when string) {
		i := slices.IndexFunc(out, func(o openPair) bool { return o.a == a && o.b == b })
		if i < 0 {
			i = len(out)
			out = append(out, openPair{a: a, b: b})
		}
		if !slices.Contains(out[i].when, when) {
			out[i].when = append(out[i].when, when)
		}
	}
	for _, p := range sum.OpenInWords {
		guess := "perhaps open"
		if p.Joined {
			guess = "perhaps joined"
		}
		add(p.A, p.B, conditionWords(p.When)+" ("+guess+")")
	}
	for _, l := range sum.Map.Unresolved {
		for _, c := range l.When {
			if when := conditionWords(c); !slices.ContainsFunc(sum.OpenInWords, func(p inference.OpenPoint) bool {
				return p.A == l.A && p.B == l.B && conditionWords(p.When) == when
			}) {
				add(l.A, l.B, when)
			}
		}
		if len(l.When) == 0 {
			add(l.A, l.B, "always")
		}
	}
	return out
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
