package tui

import (
	"testing"
	"time"

	"bellout/mapping"
)

// Coming back never assumes that levers stayed: it proves them.
func TestComingBack(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	for r.a.ses.ask.sweep.Black[0] != "4" { // the last sweep is left for the next sitting
		r.answerTruth()
	}
	r.press("Q")
	if !r.left {
		t.Fatal("did not leave")
	}
	back := newRig(t, r.keep.log, nil)
	back.sees("Welcome back: sitting 2", "Last kept: #", "dip low, horn out", "black clip 1", "should BEEP", "should be SILENT")
	if back.a.ses.bench.Levers != nil {
		t.Error("the levers are taken to be where they were")
	}
	back.press("enter")
	back.press("space")
	if top := back.a.top().scope(); top != onProbe {
		t.Fatalf("after the proof at %q", top)
	}
	if back.a.ses.bench.Levers == nil || back.a.ses.work.Session != 2 {
		t.Error("after the proof the bench is not vouched for")
	}
	again := newRig(t, back.keep.log, nil)
	again.press("space")
	again.sees("not as it was")
	again.press("u")
	again.press("enter", "space")
	if top := again.a.top().scope(); top != onProbe {
		t.Fatalf("after undo and proof at %q", top)
	}
}

// Away for hours without leaving: the first key is no answer, and the way back
// leads over the return screen.
func TestAwayWithoutLeaving(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.enter("1")
	r.enter("2")
	n := len(r.a.ses.work.Readings)
	r.now = r.now.Add(29 * time.Minute)
	r.press("space")
	if got := len(r.a.ses.work.Readings); got != n+1 {
		t.Fatalf("a pause was taken for an absence")
	}
	r.now = r.now.Add(3 * time.Hour)
	r.press("space")
	r.sees("Welcome back: sitting 2")
	if got := len(r.a.ses.work.Readings); got != n+1 {
		t.Error("the key that ended the absence was taken as an answer")
	}
	// What is being typed is not taken away.
	r.press("G", "/", "3")
	r.now = r.now.Add(3 * time.Hour)
	r.press("7")
	if ed := r.a.top().typing(); ed == nil || ed.string() != "37" {
		t.Error("the line being typed was lost")
	}
}

// TestProvingPair: of two joins as sure as each other the one that was heard more
// than once proves the bench, whichever end was red.
func TestProvingPair(t *testing.T) {
	pod := examplePod()
	low, out := pod.Rest(), pod.Rest()
	m := mapping.Map{Links: []mapping.Link{
		{A: "1", B: "2", When: []mapping.Condition{{{Switch: "dip", Positions: []mapping.PositionID{"low"}}}}},
		{A: "3", B: "4", When: []mapping.Condition{{{Switch: "horn", Positions: []mapping.PositionID{"out"}}}}},
	}}
	table := newContactTable(pod, given{pod: pod, m: m})
	beep := func(red, black mapping.EndID, s mapping.Setting) mapping.Reading {
		return mapping.Reading{Red: []mapping.EndID{red}, Black: []mapping.EndID{black}, Setting: s, Mode: mapping.Beep, Outcome: mapping.Sounded}
	}
	for _, c := range []struct {
		readings []mapping.Reading
		pair     string
	}{
		{nil, "1 2"},
		{[]mapping.Reading{beep("3", "4", out)}, "1 2"},
		{[]mapping.Reading{beep("3", "4", out), beep("1", "2", low), beep("4", "3", out)}, "3 4"},
		{[]mapping.Reading{beep("3", "4", out), beep("4", "3", out.With("horn", "in"))}, "1 2"},
	} {
		p := provingPair(pod, c.readings, table)
		if got := string(min(p.black, p.beep) + " " + max(p.black, p.beep)); got != c.pair {
			t.Errorf("after %d readings %s proves the bench, want %s", len(c.readings), got, c.pair)
		}
		if p.silent == "" {
			t.Error("no silence proves it")
		}
	}
}
