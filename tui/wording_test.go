package tui

import (
	"strings"
	"testing"

	"bellout/mapping"
)

// One reading is it, several are they.
func TestStruckOutInTheRightNumber(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.press("space", "space", "l", "X")
	r.sees("struck out 1 reading: struck out by hand; u brings it back")
	r.press("u")
	r.sees("1 reading stands again")
	r.press("W")
	r.sees("struck out 2 readings: its sweep struck out by hand; u brings them back")
	r.press("u")
	r.sees("2 readings stand again")
}

// Where nothing can be proved no answer is offered, and the way on is, on a
// narrow screen as well.
func TestComingBackWithoutAProof(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.press("space")
	back := newRig(t, r.keep.log, nil)
	back.a.route(narrow)
	back.sees("No join is sure enough yet")
	foot := lastLine(back)
	if !strings.Contains(foot, "G go on") || strings.Contains(foot, "beep") || strings.Contains(foot, "silent") {
		t.Errorf("the keys offered: %s", foot)
	}
}

// The score counts the steps that were answered, of a sweep that was left too, and
// an undo takes them out again.
func TestScoreCountsTheStepsAnswered(t *testing.T) {
	r := newRig(t, started(examplePod()), func(o *Options) { o.Quiet = true; o.Player = practiceMeter{} })
	s := r.a.ses
	k := *s.ask
	var want []float64
	for i := range k.sweep.Steps {
		sw := k.sweep
		sw.Steps = sw.Steps[:i+1]
		want = append(want, mapping.SweepSeconds(s.work.Pod, k.from, sw))
	}
	so := func(sec float64) string { return "score: " + mapping.Minutes(sec) + " at the bench so far" }
	r.sees(so(0))
	r.press("p")
	r.sees(so(want[0]))
	r.press("p")
	r.sees(so(want[1]))
	r.press("u")
	r.sees(so(want[0]))
	r.press("c")
	r.sees(so(want[0]))
	r.press("u", "p", "p") // the step that was left is taken back first
	r.sees(so(want[1]))
}
