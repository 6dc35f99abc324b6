package mapping

import (
	"fmt"
	"strconv"
	"strings"
)

// The words for what is said of readings and sweeps, the same wherever the builder meets them.

// OutcomeWords says what the meter said, as the builder would.
func (r Reading) OutcomeWords() string {
	switch r.Outcome {
	case Sounded:
		return "beep"
	case Silent:
		return "silent"
	case Value:
		if r.Mode == Diode {
			return strconv.FormatFloat(r.Value, 'g', -1, 64) + " V"
		}
		return Resistance(r.Value)
	case OverRange:
		return "OL"
	case Flicker:
		return "flicker"
	case NotSure:
		return "not sure"
	case CannotReach:
		return "cannot reach"
	}
	return "no answer"
}

// Words says a whole reading in one line.
func (r Reading) Words(p Pod) string {
	if r.Control {
		return "control beep on " + SideWords(r.Red) + ": " + r.OutcomeWords()
	}
	return fmt.Sprintf("red %s, black %s, %s: %s", SideWords(r.Red), SideWords(r.Black), r.Setting.Words(p), r.OutcomeWords())
}

// SideWords names the ends on one lead: "3", or "1+2+5" for a bunch.
func SideWords(ends []EndID) string {
	parts := make([]string, len(ends))
	for i, e := range ends {
		parts[i] = Clean(string(e), MaxName)
	}
	return strings.Join(parts, "+")
}

// Words says where the levers stand that are not at rest.
func (s Setting) Words(p Pod) string {
	var parts []string
	for _, sw := range p.Switches {
		if at := s.At(sw); at != sw.Rest {
			parts = append(parts, string(sw.Name)+" "+string(at))
		}
	}
	if len(parts) == 0 {
		return "all at rest"
	}
	return strings.Join(parts, ", ")
}

// Words says what a sweep is for.
func (w Why) Words() string {
	about := ""
	if len(w.Switches) > 0 {
		about = " (" + List(w.Switches) + ")"
	}
	s := ""
	switch w.Reason {
	case Survey:
		s = "little is known here yet: what follows which lever" + about
	case Separate:
		s = "several answers still fit" + about + ": this tells them apart"
	case Confirm:
		s = "one answer fits best" + about + ": this tries to prove it wrong"
	case Settle:
		s = "readings clash: this re-test settles which of them is wrong"
	case BiteTest:
		s = "a silent run is worth nothing if the clip has slipped: does it still bite?"
	case Partner:
		s = "a switch that does nothing alone may have a partner" + about
	case Asked:
		s = "your own reading"
	}
	if w.Maps > 1 {
		s += fmt.Sprintf("; %d answers in play", w.Maps)
	}
	return s
}

// List joins names as people say them: "3", "3 and 7", "3, 5 and 7".
func List[T ~string](names []T) string {
	var b strings.Builder
	for i, n := range names {
		switch {
		case i == 0:
		case i == len(names)-1:
			b.WriteString(" and ")
		default:
			b.WriteString(", ")
		}
		b.WriteString(string(n))
	}
	return b.String()
}

// Minutes is a time at the bench: "75 s", "3 min".
func Minutes(seconds float64) string {
	if seconds < 90 {
		return fmt.Sprintf("%.0f s", seconds)
	}
	return fmt.Sprintf("%.0f min", seconds/60)
}
