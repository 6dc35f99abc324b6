package main

import (
	"fmt"

	"bellout/inference"
	"bellout/mapping"
)

// readingLine is one reading on one line: number, clips, levers, outcome, note.
func readingLine(p mapping.Pod, r mapping.Reading) string {
	s := fmt.Sprintf("#%-4d %s", r.ID, r.Words(p))
	if r.Note != "" {
		s += " (" + mapping.Clean(r.Note, mapping.MaxNote) + ")"
	}
	return s
}

// culpritWord says what may have gone wrong at the bench in a word, for scripts.
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
