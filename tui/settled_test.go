package tui

import (
	"slices"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"bellout/inference"
	"bellout/mapping"
)

var (
	dipLow  = mapping.Condition{{Switch: "dip", Positions: []mapping.PositionID{"low"}}}
	dipMain = mapping.Condition{{Switch: "dip", Positions: []mapping.PositionID{"main"}}}
)

// What the engine still names in words once the stop rule is met is doubt within
// that rule: what we know, the cut and the head of the screen all say so.
func TestDoneIsDoneOnEveryScreen(t *testing.T) {
	r := finished(t)
	s := r.a.ses
	s.th.sum.OpenInWords = []inference.OpenPoint{{A: "1", B: "3", When: dipLow, Joined: true, Bits: 11}}
	r.sees("Nothing more to ask: less than 1 chance in 200", "all asked")
	r.press("k")
	r.sees("You can stop: less than 1 chance in 200", "Nothing is left to ask")
	r.seesNot("perhaps", "to settle")
	r.press("esc", "g")
	r.sees("ALL IS SETTLED")
	r.seesNot("perhaps")
}

// finished is a job with nothing more to ask.
func finished(t *testing.T) *rig {
	r := probed(t)
	for r.a.ses.ask != nil {
		r.answerTruth()
	}
	return r
}

// What is proved is not asked as open at the same time, while the doubt that is
// left is told as a chance.
func TestProvedIsNotOpen(t *testing.T) {
	r := finished(t)
	sum := &r.a.ses.th.sum
	sum.Done, sum.Confidence = false, 0.99
	sum.Map.Links = []mapping.Link{{A: "1", B: "3", When: []mapping.Condition{dipLow}, Grade: mapping.Proved}}
	sum.Map.Unresolved = []mapping.Link{{A: "1", B: "3", When: []mapping.Condition{dipLow}}}
	sum.OpenInWords = []inference.OpenPoint{{A: "1", B: "3", When: dipLow, Joined: true}}
	for _, key := range []string{"k", "g"} {
		r.press(key)
		r.sees("the map may be wrong somewhere: chance 1.0 %")
		r.seesNot("perhaps joined", "ALL IS SETTLED", "You can stop")
		r.press("esc")
	}
	sum.Map.Unresolved[0].When = append(sum.Map.Unresolved[0].When, dipMain)
	sum.OpenInWords = append(sum.OpenInWords, inference.OpenPoint{A: "1", B: "3", When: dipMain})
	for _, key := range []string{"k", "g"} {
		r.press(key)
		r.sees("? 1 and 3: dip main (perhaps apart)")
		r.press("esc")
	}
}

// What takes more hands than there are is open, and nobody is sent to probe on.
func TestOpenBeyondTheHands(t *testing.T) {
	r := finished(t)
	r.a.ses.th.sum.Map.Unresolved = []mapping.Link{{A: "2", B: "4", When: []mapping.Condition{dipMain}}}
	r.sees("Nothing more to ask of these hands", "1 pair to settle")
	r.press("k")
	r.sees("2 and 4: dip main", "You can stop: what stands under WHAT IS LEFT takes more hands")
	r.press("esc", "g")
	r.sees("NOT SETTLED: this takes more hands", "2 and 4: dip main")
}

// A control beep may come without an estimate: that is no last sweep.
func TestNoLastSweepWhileAnythingIsOpen(t *testing.T) {
	r := probed(t)
	s := r.a.ses
	had := s.left
	control := func() {
		next := thought{gen: s.gen, sum: s.th.sum, find: s.th.find, asked: true, has: true}
		next.next.Sweep = mapping.Sweep{Red: []mapping.EndID{"1"}, Black: []mapping.EndID{"1"}, Control: true}
		next.next.GridSeconds = s.grid
		s.abandon()
		s.onThought(next)
	}
	control()
	if s.left != had {
		t.Errorf("%v s left, %v before a control beep without an estimate", s.left, had)
	}
	s.left = 0
	control()
	for _, w := range []int{80, 40} {
		r.a.route(tea.WindowSizeMsg{Width: w, Height: 24})
		r.seesNot("the last sweep", "all asked")
		r.sees("2 pairs to settle")
	}
	r.press("k")
	r.seesNot("Nothing is left to ask")
}

// Open doubts come before the word that nothing is left to ask, and a contact that
// comes and goes leaves a way to strike out a single reading, at every size.
func TestDoubtsComeFirst(t *testing.T) {
	r := finished(t)
	r.press("/")
	r.enter("3 1 beep")
	r.press("/")
	r.enter("3 1 silent")
	r.a.say("")
	r.sees("!! 1 doubt first", "d shows what settles it")
	r.seesNot("less than 1 chance")
	r.press("g")
	r.sees("NOT SETTLED: doubts come before a cut")
	r.press("esc", "d")
	d := &r.a.ses.th.sum.Doubts[0]
	d.Culprits = []inference.Culprit{{Kind: inference.Intermittent, Readings: slices.Clone(d.Readings), Bits: 4}}
	r.press("X")
	r.a.route(tea.WindowSizeMsg{Width: 40, Height: 20})
	r.sees("comes and goes is no slip of yours: A sets it aside; ESC l X strikes out one reading, in the log")
}
