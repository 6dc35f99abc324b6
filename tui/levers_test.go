package tui

import (
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"bellout/mapping"
)

// A button to be let go stands out like what is to be set and held, at every size
// at which steps are shown at all, and is not said to stay.
func TestLetGoIsMarked(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	rest := r.a.ses.work.Pod.Rest()
	horn := rest.With("horn", "in")
	put := func(steps ...mapping.Setting) {
		r.a.ses.abandon()
		r.a.settle(r.a.ses.put(mapping.Sweep{Red: []mapping.EndID{"2"}, Black: []mapping.EndID{"1"}, Steps: steps}))
	}
	sizes := func(want string) {
		t.Helper()
		for _, size := range [][2]int{{80, 24}, {40, 20}, {40, 12}, {30, 8}} {
			r.a.route(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
			r.sees(want)
			r.seesNot("horn out", "HOLD nothing")
		}
	}
	put(rest, horn, rest.With("dip", "main"), horn)
	r.press("space")
	r.sees("STAYS dip low")
	r.press("space")
	sizes("◄ SET dip low → main ◄ LET GO horn")
	r.press("space", "u")
	sizes("◄ LET GO horn") // who knows what is held after an undo
	r.press("space", "space")
	if r.a.ses.ask == nil || len(r.a.ses.ask.said) != 0 {
		t.Fatal("no next sweep")
	}
	sizes("◄ LET GO horn") // the sweep before ended with it held
	put(rest, rest)
	sizes("◄ LET GO horn")
	r.a.route(tea.WindowSizeMsg{Width: 80, Height: 24})
	r.sees("▶ 1 let go horn")
	r.press("space")
	r.sees("HOLD nothing", "STAYS dip low, horn out")
}

// Nobody lets go of what was never held: an undo asks for it only where a step
// had the button held, or was to have it.
func TestNothingHeldNothingToLetGo(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.press("space", "u")
	r.sees("dip to low")
	r.seesNot("LET GO", "let go")
	r.press("space", "space", "u") // the step in hand held the horn
	r.sees("◄ LET GO horn")
	r.press("space", "space", "space", "u") // it was let go for the step undone
	r.seesNot("LET GO", "let go")
	r.press("/")
	r.enter("4 5 horn=in beep")
	r.sees("◄ LET GO horn")
}

// A control beep in between lets go of nothing.
func TestLetGoAfterAControlBeep(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	rest := r.a.ses.work.Pod.Rest()
	r.a.settle(r.a.ses.put(mapping.Sweep{Red: []mapping.EndID{"2"}, Black: []mapping.EndID{"1"}, Steps: []mapping.Setting{rest.With("horn", "in"), rest}}))
	r.press("space", "c", "enter")
	r.sees("◄ LET GO horn")
}

// Nor does a change of the leads.
func TestLetGoAfterAChangeOfLeads(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.seesNot("LET GO")
	r.press("space", "space", "space", "L")
	r.sees("◄ LET GO horn")
}
