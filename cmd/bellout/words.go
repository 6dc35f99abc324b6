package main

import (
	"fmt"
	"strings"

	"bellout/inference"
	"bellout/mapping"
)

// outcomeWord says what the meter said.
func outcomeWord(r mapping.Reading) string {
	switch r.Outcome {
	case mapping.Sounded:
		return "BEEP"
	case mapping.Silent:
		return "silence"
	case mapping.Value:
		if r.Mode == mapping.Diode {
			return plainNumber(r.Value) + " V"
		}
		return mapping.Resistance(r.Value)
	case mapping.OverRange:
		return "over range"
	case mapping.Flicker:
		return "flicker"
	case mapping.NotSure:
		return "not sure"
	case mapping.CannotReach:
		return "can't reach"
	}
	return "nothing"
}

// readingLine is one reading on one line: number, clips, levers, outcome.
func readingLine(p mapping.Pod, r mapping.Reading) string {
	where := settingWords(p, r.Setting)
	if r.Control {
		where = "control beep"
	}
	s := fmt.Sprintf("#%-4d %s to %s, %s: %s", r.ID, ends(r.Red), ends(r.Black), where, outcomeWord(r))
	if r.Note != "" {
		s += " (" + mapping.Clean(r.Note, mapping.MaxNote) + ")"
	}
	return s
}

// settingWords names the position of every switch, in the pod's order.
func settingWords(p mapping.Pod, s mapping.Setting) string {
	if len(p.Switches) == 0 {
		return "as it is"
	}
	words := make([]string, len(p.Switches))
	for i, sw := range p.Switches {
		words[i] = string(sw.Name) + " " + string(s.At(sw))
	}
	return strings.Join(words, ", ")
}

// culpritWords says what may have gone wrong at the bench.
func culpritWords(c inference.Culprit) string {
	ids := make([]string, len(c.Readings))
	for i, id := range c.Readings {
		ids[i] = fmt.Sprintf("#%d", id)
	}
	which := "reading " + strings.Join(ids, ", ")
	if len(ids) > 1 {
		which = "readings " + strings.Join(ids, ", ")
	}
	switch c.Kind {
	case inference.SlippedClip:
		return "the clip had slipped: " + which
	case inference.WrongLever:
		return fmt.Sprintf("%s stood at %s: %s", c.Switch, c.Actual, which)
	case inference.HalfPressed:
		return fmt.Sprintf("%s was only half pressed: %s", c.Switch, which)
	case inference.Intermittent:
		return "the contact comes and goes: " + which
	}
	return which + " is odd"
}

// culpritWord is the same as one word, for scripts.
func culpritWord(k inference.CulpritKind) string {
	switch k {
	case inference.SlippedClip:
		return "slipped clip"
	case inference.WrongLever:
		return "wrong lever"
	case inference.HalfPressed:
		return "half pressed"
	case inference.Intermittent:
		return "intermittent"
	}
	return "odd reading"
}
