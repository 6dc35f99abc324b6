package tui

import (
	"bellout/inference"
	"bellout/mapping"
)

// saved comes from the write command to the app: got is what the keeper says
// it kept of sent.
type saved struct {
	sent, got []mapping.Entry
	err       error
}

// thoughtReady comes from the think command to the session of the pod.
type thoughtReady struct {
	ses *session
	q   question
	t   thought
}

// aheadReady comes from the look-ahead command: what would follow from each
// answer to the reading in hand at generation gen.
type aheadReady struct {
	ses   *session
	gen   int
	forks map[mapping.Outcome]fork
}

// whyReady comes from the why command to the screen that asked.
type whyReady struct {
	a, b     mapping.EndID
	verdict  inference.Verdict
	readings []mapping.ReadingID
}

// exported comes from the export command to the pinout screen.
type exported struct {
	where string
	err   error
}

// sheetReady comes from the command that makes the pinout's text.
type sheetReady struct {
	text string
	err  error
}

// spoken comes from the speech command; only its failure is told.
type spoken struct{ err error }
