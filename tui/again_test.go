package tui

import (
	"strings"
	"testing"

	"bellout/inference"
	"bellout/mapping"
)

// After an undo the levers stand where the undone step had them, so the screen
// says where each of them goes and takes none for granted.
func TestUndoSaysWhatToSetAgain(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.press("space", "space") // dip low, then dip main: the third step holds the horn
	r.press("u")
	r.sees("◄ SET dip to main", "undone: 1 answer taken back; set all as shown")
	r.sees("RED needle stays", "BLACK clip stays")
	r.press("space")
	r.sees("dip main → low")
	// Over the edge of a sweep the clips may have been moved as well.
	r.press("space", "u")
	r.sees("◄ RED needle SET", "◄ BLACK clip SET", "dip to low")
}

// A reading of the builder's own leaves clips and levers elsewhere.
func TestOutOfTurnSaysWhatToSetAgain(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.press("space")
	r.seesNot("◄ BLACK clip SET")
	r.press("/")
	r.enter("4 5 horn=in beep")
	r.sees("◄ RED needle SET", "◄ BLACK clip SET", "dip to main")
	r.press("space")
	r.sees("BLACK clip stays")
}

// A slipped clip is set again before anything else is asked of it.
func TestSlippedClipIsSetAgain(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.press("space", "space", "s", "S")
	if top := r.a.top().scope(); top != onProbe {
		t.Fatalf("after the strike-out at %q", top)
	}
	r.sees("struck out 2 readings: the clip had slipped", "◄ BLACK clip SET")
	r.press("c")
	r.press("space") // the control beep fails
	r.sees("the clip does not bite", "◄ BLACK clip SET")
}

// Undo takes back what was last done, whatever that was: a name given by mistake
// never costs a reading.
func TestUndoTakesBackDecisions(t *testing.T) {
	r := probed(t)
	live := len(r.a.ses.work.Live())
	undone := func(what string) {
		t.Helper()
		r.press("u")
		r.sees("undone: " + what)
		if n := len(r.a.ses.work.Live()); n != live {
			t.Fatalf("undo of %s left %d of %d readings", what, n, live)
		}
	}
	r.press("o", "n")
	r.enter("5 horn")
	r.press("n")
	r.enter("5 hooter")
	undone("what was said of 5")
	if v, _ := r.a.ses.work.Decided(mapping.NameFunction, "5"); v != "horn" {
		t.Errorf("after undo it is called %q", v)
	}
	undone("what was said of 5")
	if v, ok := r.a.ses.work.Decided(mapping.NameFunction, "5"); ok {
		t.Errorf("after undo it is called %q", v)
	}
	r.press("esc", "g", "enter")
	undone("what was said of 1")
	r.press("esc", "a")
	r.enter("end 9")
	undone("the change of the pod")
	if n := len(r.a.ses.work.Pod.Ends); n != 5 {
		t.Errorf("%d ends after undo", n)
	}
	r.press("/")
	r.enter("3 1 beep")
	r.press("/")
	r.enter("3 1 silent")
	live += 2
	r.press("d", "A")
	r.sees("1 doubt set aside")
	undone("the doubt is no longer set aside")
	r.sees("THESE CANNOT ALL BE RIGHT")
}

// A reading out of turn is as welcome on the return screen, and nothing typed
// there is dropped without a word.
func TestOutOfTurnBeforeTheProof(t *testing.T) {
	log := probed(t).keep.log
	r := newRig(t, log, nil)
	r.enter("4 5 horn=in beep")
	r.sees("taken: red 4, black 5, horn in: beep", "Welcome back")
	r.enter("3 7")
	r.sees("typed as 3 7 dip=main beep")
	r.press("esc", "/")
	r.enter("4 9 beep")
	r.sees(`there is no end "9" here`)

	out, keep := talk(t, log, "4 5 horn=in beep\nrubbish\nknown\ntable\nbeep\n", nil)
	for _, want := range []string{"taken: red 4, black 5, horn in: beep", "no sweep is in hand", "WHAT WE KNOW", "dip main"} {
		if !strings.Contains(out, want) {
			t.Errorf("plain does not say %q:\n%s", want, out)
		}
	}
	job, err := mapping.Fold(keep.log)
	if err != nil {
		t.Fatal(err)
	}
	before, err := mapping.Fold(log)
	if err != nil {
		t.Fatal(err)
	}
	if got, had := len(job.Pods["left"].Readings), len(before.Pods["left"].Readings); got != had+2 {
		t.Errorf("%d readings, %d before: one out of turn and one of the proof are due", got, had)
	}
}

// Of two readings that are equally suspect none is struck out by a key.
func TestEquallySuspect(t *testing.T) {
	r := probed(t, "/")
	r.enter("3 1 beep")
	r.press("/")
	r.enter("3 1 silent")
	s := r.a.ses
	ids := s.th.sum.Doubts[0].Readings
	s.th.sum.Doubts[0].Culprits = []inference.Culprit{
		{Kind: inference.OddReading, Readings: ids[:1], Bits: 4}, {Kind: inference.OddReading, Readings: ids[1:2], Bits: 4},
	}
	live := len(s.work.Live())
	r.press("d")
	r.sees("one odd reading: #8 or #")
	r.press("X")
	r.sees("equally suspect")
	if n := len(s.work.Live()); n != live {
		t.Errorf("%d of %d readings stand", n, live)
	}
}

// The practice ends with a score: bench time beside the grid's, and how right
// the map is.
func TestPracticeScore(t *testing.T) {
	r := newRig(t, started(examplePod()), func(o *Options) { o.Quiet = true; o.Player = practiceMeter{} })
	for i := 0; r.a.ses.ask != nil && i < 200; i++ {
		r.press("p")
	}
	r.sees("the map is right in", "of 4 settings", "the grid takes")
}

// With nothing but guesses in it the contact table has no tie, and says so of
// the cell.
func TestNoTieThatNobodyHeard(t *testing.T) {
	pod := examplePod()
	tab := newContactTable(pod, guessing{fakeFindings{&fakeEngine{pod: pod}}})
	for _, row := range tab.rows {
		if len(row.Ties) > 0 {
			t.Errorf("%s ties %v by a guess", rowName(row), row.Ties)
		}
	}
	if g := tab.rows[0].Guess[0]; len(g) != 1 || g[0] != 1 {
		t.Errorf("the guess is not kept: %v", tab.rows[0].Guess)
	}
}

// guessing says of 1 and 2 that they are joined, as an open question.
type guessing struct{ fakeFindings }

func (g guessing) Joined(s mapping.Setting, a, b mapping.EndID) inference.Verdict {
	if a == "1" && b == "2" {
		return inference.Verdict{Joined: true, Grade: mapping.OpenQuestion, Bits: 2}
	}
	return inference.Verdict{}
}

// Under what we know stands nothing that is only the best guess.
func TestGuessesAreNoKnowledge(t *testing.T) {
	r := probed(t)
	s := r.a.ses
	s.th.sum.Map.Links = []mapping.Link{{A: "2", B: "5", Grade: mapping.OpenQuestion, When: []mapping.Condition{nil}}}
	r.press("k")
	r.seesNot("2 and 5 joined")
	s.th.sum.Map.Links[0].Grade = mapping.Likely
	r.sees("2 and 5 joined: always (likely)")
}
