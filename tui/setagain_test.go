package tui

import "testing"

// A change of the pod in the middle of a sweep takes the builder's hands off the
// bench: nothing is taken to stand where the sweep before had left it, and nor is
// it once the change is undone.
func TestAmendSaysWhatToSetAgain(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.enter("-")     // 2 against 1
	r.press("space") // 3 against 1
	r.press("a")
	r.enter("position dip half after low")
	r.sees("◄ RED needle SET", "◄ BLACK clip SET", "dip to ")
	if at := r.a.ses.bench.Red; len(at) != 1 || at[0] != "3" {
		t.Errorf("red is taken to be on %v, and it was on 3", at)
	}
	r.press("u")
	r.sees("undone: the change of the pod", "◄ RED needle SET", "◄ BLACK clip SET", "dip to ")
	r.press("space")
	r.sees("RED needle stays", "BLACK clip stays")
}

// A control beep says nothing of the levers, and has taken the needle to the
// clip's own end.
func TestControlBeepVouchesForTheClipAlone(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.press("space", "u", "c", "enter")
	r.sees("◄ RED needle SET", "dip to low")
	r.press("space", "c", "enter")
	r.sees("◄ RED needle SET", "BLACK clip stays")
	r.press("space")
	r.sees("RED needle stays", "BLACK clip stays")
}

// A reading of the sweep in hand that is struck out leaves the levers where the
// last one had them.
func TestStrikeInTheSweepSaysWhatToSetAgain(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.press("space", "space", "l", "X", "esc") // dip low, then dip main, which is struck out
	if n := len(r.a.ses.ask.said); n != 1 {
		t.Fatalf("at step %d", n)
	}
	r.sees("◄ SET dip to main", "▶ 2 dip → main")
	if r.a.ses.standing() != nil {
		t.Error("the levers are taken for granted")
	}
}
