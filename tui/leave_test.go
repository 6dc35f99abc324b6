package tui

import (
	"strings"
	"testing"
)

// What was answered about a pod is on no disk before the last question, so
// leaving asks once, and forgets that it has asked when the builder answers on.
func TestLeavingTheQuestions(t *testing.T) {
	const asks = "leaving now loses what you have answered about this pod"
	r := newRig(t, nil, func(o *Options) { o.Quiet = true })
	r.enter("left")
	r.enter("4")
	r.press("enter")
	r.enter("dip")
	r.press("ctrl+c")
	r.sees(asks)
	if r.left {
		t.Fatal("it left with four answers")
	}
	r.enter("horn")
	r.seesNot(asks)
	r.press("ctrl+c", "ctrl+c")
	if !r.left {
		t.Fatal("it cannot be left")
	}
	first := newRig(t, nil, nil)
	if first.press("ctrl+c"); !first.left {
		t.Error("nothing was answered, and it asks")
	}
	out, _ := talk(t, nil, "left\n4\nquit\nquit\nn\n", nil)
	if flat := strings.Join(strings.Fields(out), " "); !strings.Contains(flat, asks) || strings.Contains(flat, "Which switches") {
		t.Errorf("in lines:\n%s", out)
	}
}

// A finished job is opened at the bench: no sweep is left that levers and clip
// would have to be proved for.
func TestComingBackToAFinishedJob(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	for r.a.ses.ask != nil {
		r.answerTruth()
	}
	back := newRig(t, r.keep.log, nil)
	back.sees("Nothing more to ask", "Pod unplugged")
	back.press("L")
	back.sees("sitting 3 begins: both leads clipped, bunches allowed")
	back.press("L")
	back.sees("sitting 4 begins: black is a clip, red a needle")
}

// A note goes with a reading that stands.
func TestANoteOnWhatStands(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.press("e")
	r.sees("a note goes with a reading that stands")
	r.press("space", "space", "u", "e")
	r.enter("stiff lever")
	if rs := r.a.ses.work; rs.Remarks[0].Reading != rs.Readings[0].ID {
		t.Errorf("the note goes with #%d, and #%d stands", rs.Remarks[0].Reading, rs.Readings[0].ID)
	}
	if out, _ := talk(t, started(examplePod()), "note stiff\nquit\n", nil); !strings.Contains(out, "a note goes with a reading") {
		t.Errorf("in lines:\n%s", out)
	}
}

// Hands free is for the screens, and lines say so.
func TestNoEarsInLines(t *testing.T) {
	out, _ := talk(t, started(examplePod()), "quit\n", func(o *Options) { o.Ears = &scriptedEars{} })
	if !strings.Contains(out, "the meter is not listened to here") {
		t.Errorf("it says nothing:\n%s", out)
	}
}
