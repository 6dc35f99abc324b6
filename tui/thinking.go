package tui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"bellout/mapping"
)

// question copies what the engine is to think about.
func (s *session) question(propose bool) question {
	return question{gen: s.gen, pod: s.work.Pod, readings: s.work.Live(), bench: s.bench, propose: propose}
}

// rethink sends the engine to think; propose also asks it for the next sweep.
func (s *session) rethink(propose bool) tea.Cmd {
	s.gen++
	s.brain.latest.Store(int64(s.gen))
	s.thinking, s.takenIn, s.ahead = true, 0, nil
	return s.think(s.question(propose))
}

// think has the engine think, in a goroutine of its own.
func (s *session) think(q question) tea.Cmd {
	b := s.brain
	return func() tea.Msg { return thoughtReady{s, q, b.think(q)} }
}

// lookAhead has the engine work out what follows from either answer to the
// reading in hand while the builder is busy at the bench.
func (s *session) lookAhead() tea.Cmd {
	if s.ask == nil || s.ask.done() {
		return nil
	}
	lastStep := len(s.ask.said) == s.ask.steps()-1
	q := s.question(lastStep)
	r := s.reading(len(s.ask.said), said{mode: mapping.Beep})
	r.ID = mapping.ReadingID(s.app.seq + 1)
	after := s.bench.After(s.work.Pod, s.ask.sweep)
	b, gen := s.brain, s.gen
	return func() tea.Msg { return aheadReady{s, gen, b.ahead(q, r, after)} }
}

func (s *session) onAhead(m aheadReady) {
	if m.gen == s.gen {
		s.ahead = m.forks
	}
}

// howFar is a line on how far a long thought is; none while it is short.
func (s *session) howFar(w int) []string {
	if s.takenIn == 0 {
		return nil
	}
	return []string{fit(fmt.Sprintf("%d of %s taken in", s.takenIn, mapping.Count(len(s.work.Live()), "reading")), w)}
}

// onThinking takes over a thought, or shows how far it is and lets it go on.
func (s *session) onThinking(m thoughtReady) tea.Cmd {
	if m.t.partly && m.t.gen == s.gen {
		s.takenIn = m.t.in
		if s.app.far != nil {
			s.app.far(s.howFar(s.app.w))
		}
		return s.think(m.q)
	}
	return s.onThought(m.t)
}

// onThought takes over what the engine concludes, points out a fresh doubt, and
// puts the next sweep to the builder if none is in hand.
func (s *session) onThought(t thought) tea.Cmd {
	if t.gen != s.gen {
		return nil
	}
	s.th, s.thinking = t, false
	var cmds []tea.Cmd
	open := len(s.openDoubts())
	if open > s.doubts && !s.holding {
		s.app.lookAt("these readings cannot all be right: " + s.story(s.openDoubts()[open-1]) + " " +
			s.app.key(onProbe, actDoubts) + " shows the one re-test that settles it")
		cmds = append(cmds, s.app.ring(true))
	}
	if c, ok := s.app.top().(*comeback); ok && t.asked && !t.has && open == 0 && len(c.ids) == 0 && c.line == nil {
		return c.goOn(nil) // no sweep will be asked that a proof would be for
	}
	if !s.holding {
		s.doubts = open
	}
	if s.ask == nil && t.asked && !s.holding {
		if t.has {
			s.grid = t.next.GridSeconds
			if s.left <= 0 || t.next.SecondsLeft > 0 { // a control beep may come without an estimate
				s.left = t.next.SecondsLeft
			}
			cmds = append(cmds, s.put(t.next.Sweep))
		} else {
			s.left = 0
			cmds = append(cmds, s.app.speak("Nothing more to ask."))
		}
		return tea.Batch(cmds...)
	}
	return tea.Batch(append(cmds, s.lookAhead())...)
}
