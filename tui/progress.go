package tui

import (
	"cmp"
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
		if !s.work.Aside(d.Readings) {
			out = append(out, d)
		}
	}
	return out
}

// progress is the right half of the head line: time left beside the grid's, for
// an estimate is believed only beside what it is compared with. A narrow screen
// keeps the time left; what we know has the grid's too.
func (s *session) progress(w int) string {
	var parts []string
	if n := len(s.openDoubts()); n > 0 && w >= 60 {
		parts = append(parts, "!! "+mapping.Count(n, "doubt"))
	} else if n > 0 {
		parts = append(parts, fmt.Sprintf("!%d", n))
	}
	if s.th.find != nil && w >= 60 {
		parts = append(parts, s.doubtWords())
	}
	switch {
	case s.left > 0 && w < 60:
		parts = append(parts, mapping.Minutes(s.left)+" left")
	case s.left > 0:
		parts = append(parts, mapping.Minutes(s.left)+" left, grid "+mapping.Minutes(s.grid))
	case s.left == 0 && s.standsAt() == settled && s.ask != nil:
		parts = append(parts, "the last sweep")
	case s.left == 0 && s.standsAt() == settled:
		parts = append(parts, "all asked")
	case s.th.find != nil && w < 60:
		parts = append(parts, s.doubtWords())
	case w >= 60:
		parts = append(parts, "grid "+mapping.Minutes(s.grid))
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
		return mapping.Count(n, "pair") + " to settle"
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
	return fmt.Sprintf("%s and %s: %s", o.a, o.b, strings.Join(o.when, "; "))
}

// vague tells that a pair is open under so many conditions that naming them
// helps nobody.
func (o openPair) vague() bool { return len(o.when) > 3 }

// leftText says in words what is not settled, doubts aside; most pairs at the
// most. Doubt that no pair stands for is said as a chance.
func (s *session) leftText(most, w int) []string {
	open := openPairs(s.th.sum)
	if len(open) == 0 && !s.th.sum.Done {
		return indent(" ? ", "the map may be wrong somewhere: chance "+percent(1-s.th.sum.Confidence), w)
	}
	return pairsText(open, most, w)
}

// pairsText goes pair by pair where few conditions are left, and end by end for
// all the others.
func pairsText(open []openPair, most, w int) []string {
	var clear, vague []openPair
	for _, o := range open {
		if o.vague() {
			vague = append(vague, o)
		} else {
			clear = append(clear, o)
		}
	}
	var out []string
	for i, o := range clear {
		if i == most {
			out = append(out, indent(" ? ", mapping.Count(len(clear)-most, "more pair")+" of this kind", w)...)
			break
		}
		out = append(out, indent(" ? ", o.String(), w)...)
	}
	var first []mapping.EndID
	with := map[mapping.EndID][]mapping.EndID{}
	for _, o := range vague {
		if len(with[o.a]) == 0 {
			first = append(first, o.a)
		}
		with[o.a] = append(with[o.a], o.b)
	}
	var parts []string
	for _, a := range first {
		slices.SortFunc(with[a], func(x, y mapping.EndID) int { return cmp.Or(cmp.Compare(len(x), len(y)), cmp.Compare(x, y)) })
		parts = append(parts, string(a)+" with "+mapping.List(with[a]))
	}
	if len(parts) > 0 {
		out = append(out, indent(" ? ", "little is known yet of "+strings.Join(parts, "; "), w)...)
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
