package tui

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// Init opens the first screen.
func (a *app) Init() tea.Cmd { return tea.Batch(a.begin(), a.idleEars()) }

// Update routes. In this order: size and waking, results of commands, then
// keys: to the line being typed if there is one, else what they mean
// everywhere, else what they mean on the screen.
func (a *app) Update(m tea.Msg) (tea.Model, tea.Cmd) {
	return a, a.route(m)
}

func (a *app) route(m tea.Msg) tea.Cmd {
	switch m := m.(type) {
	case tea.WindowSizeMsg:
		a.w, a.h = m.Width, m.Height
	case tea.ResumeMsg:
		a.say("awake again; set the levers as shown if anything has moved")
		cmd, _ := a.afterAbsence()
		return tea.Batch(tea.ClearScreen, cmd)
	case saved:
		return a.onSaved(m)
	case thoughtReady:
		if m.ses == a.ses {
			return a.ses.onThinking(m)
		}
	case aheadReady:
		if m.ses == a.ses {
			a.ses.onAhead(m)
		}
	case toneLearnt:
		return a.onTone(m)
	case heardOne:
		return a.onHeard(m)
	case spoken:
		a.onSpoken(m.err)
	case stepSaid:
		a.onStepSaid(m)
	case tea.KeyMsg:
		return a.onKey(m)
	default:
		if len(a.stack) > 0 {
			return a.top().take(m)
		}
	}
	return nil
}

// onKey takes a key. Keys that arrive together (fast fingers, a slow link) come
// as one message of several letters; outside a typed line each is its own key.
func (a *app) onKey(m tea.KeyMsg) tea.Cmd {
	if len(a.stack) == 0 {
		return nil
	}
	if m.Type == tea.KeyRunes && len(m.Runes) > 1 && !m.Alt {
		if m.Paste && a.top().typing() == nil {
			a.lookAt("pasted text is taken only where a line is being typed")
			return nil
		}
		if a.top().typing() == nil || !m.Paste {
			var cmds []tea.Cmd
			for _, r := range m.Runes {
				cmds = append(cmds, a.onKey(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}}))
			}
			return tea.Batch(cmds...)
		}
	}
	s := a.top()
	if m.String() == "ctrl+c" {
		return a.quit()
	}
	if cmd, away := a.afterAbsence(); away {
		return cmd
	}
	if ed := s.typing(); ed != nil {
		switch act := a.keys.action(onForm, m); act {
		case actOpen:
			a.pressed = a.o.Now()
			return s.act(actOpen)
		case actBack, actSuspend, actRetry:
			return a.global(s, act)
		default:
			ed.key(m)
			return nil
		}
	}
	act := a.keys.action(s.scope(), m)
	if p, ok := s.(interface{ begin(tea.KeyMsg) tea.Cmd }); ok && act == "" {
		return p.begin(m)
	}
	if answers(act) && a.bounced() {
		a.lookAt("two answers within a blink: only the first was taken")
		return a.ring(true)
	}
	return a.global(s, act)
}

// absence is how long nothing may be pressed before nobody vouches for the
// levers any more: longer than a look at the wires, shorter than a meal.
const absence = 30 * time.Minute

// afterAbsence leads over the return screen when the builder has been away
// without leaving: a lid that was shut, a program that slept. The key that ends
// the absence is no answer. A line being typed is not taken away.
func (a *app) afterAbsence() (tea.Cmd, bool) {
	if len(a.stack) > 0 && a.top().typing() != nil {
		return nil, false
	}
	now := a.o.Now()
	last := a.active
	a.active = now
	if last.IsZero() || now.Sub(last) < absence || a.ses == nil || len(a.ses.work.Readings) == 0 || a.saveErr != nil {
		return nil, false
	}
	return a.open(a.ses.key), true
}

// global does what means the same everywhere and leaves the rest to the screen.
func (a *app) global(s screen, act action) tea.Cmd {
	switch act {
	case actQuit:
		return a.quit()
	case actSuspend:
		if !canSuspend() {
			a.lookAt("there is no shell behind this terminal that could wake bellout again, so it stays awake")
			return nil
		}
		return tea.Suspend
	case actRetry:
		if a.saveErr == nil {
			return nil
		}
		a.saveErr = nil
		a.say("saving again")
		return a.flush()
	case actBell:
		a.quiet = !a.quiet
		if a.quiet {
			a.say("bell off")
		} else {
			a.say("bell on: one for taken, two for look at me")
		}
		return a.ring(false)
	case actHelp:
		if _, open := s.(*reader); !open {
			a.push(helpFor(a, s))
		}
		return nil
	case actUndo:
		if h, ok := s.(*harness); ok {
			return h.undo()
		}
		if a.ses != nil {
			return a.ses.undo()
		}
		return nil
	case actBack:
		if c, ok := s.(*comeback); ok {
			return c.act(actGoOn)
		}
		if s.typing() == nil {
			a.pop()
			return nil
		}
	case "":
		return nil
	}
	return s.act(act)
}

// quit leaves when everything is on disk: the write in flight is waited for.
// While a save has failed it says so, and leaves at the second asking only.
func (a *app) quit() tea.Cmd {
	if d, ok := a.top().(*describe); ok && !d.leaving() {
		return a.ring(true)
	}
	switch {
	case a.saveErr != nil && !a.leaving:
		a.leaving = true
		return a.ring(true)
	case a.saveErr == nil && a.unsaved() > 0:
		a.leaving = true
		return a.flush()
	}
	return tea.Quit
}

func answers(act action) bool {
	return act == actBeep || act == actSilent || act == actMeter
}

// bounced tells a second answer key that came too soon to be meant: one finger
// on two keys, or a knuckle that stays on one.
func (a *app) bounced() bool {
	now := a.o.Now()
	last := a.pressed
	a.pressed = now
	least := a.o.Bounce
	if least == 0 {
		least = 80 * time.Millisecond
	}
	return least > 0 && !last.IsZero() && now.Sub(last) < least
}
