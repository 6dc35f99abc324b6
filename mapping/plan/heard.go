package plan

import (
	"crypto/sha256"
	"fmt"
	"slices"
	"strings"
)

// readingID is made of what is read, so that an answer kept under it speaks of
// that reading whatever else changes in the plan. Which side is red does not
// matter. No name has a | or a comma in it; bunches are too long to be spelt out.
func readingID(part string, red, black []string) string {
	sides := []string{strings.Join(slices.Sorted(slices.Values(red)), ","), strings.Join(slices.Sorted(slices.Values(black)), ",")}
	slices.Sort(sides)
	id := part + ":" + strings.Join(sides, "|")
	if len(red) == 1 && len(black) == 1 {
		return id
	}
	sum := sha256.Sum256([]byte(id))
	return fmt.Sprintf("%s:bunch-%x", part, sum[:5])
}

// The two answers to a reading of a proof, as they are kept in a job.
const (
	AnswerBeep    = "beep"
	AnswerSilence = "silence"
)

// Answer is what is kept for a reading, and whether it is as planned.
func (r ProofReading) Answer(beep bool) (value string, asPlanned bool) {
	if beep {
		return AnswerBeep, r.Joined
	}
	return AnswerSilence, !r.Joined
}

// Heard gives for the ID of each reading of a list that has its answer among
// values whether it beeped. What is kept under other names, or in other words,
// was said of something else.
func Heard(list []ProofReading, values map[string]string) map[string]bool {
	out := map[string]bool{}
	for _, r := range list {
		switch values[r.ID] {
		case AnswerBeep:
			out[r.ID] = true
		case AnswerSilence:
			out[r.ID] = false
		}
	}
	return out
}
