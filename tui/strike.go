package tui

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bellout/mapping"
)

// strike takes readings out, with the reason.
func (s *session) strike(reason string, ids ...mapping.ReadingID) tea.Cmd {
	ids = slices.DeleteFunc(slices.Clone(ids), func(id mapping.ReadingID) bool { _, gone := s.work.Struck[id]; return gone })
	if len(ids) == 0 {
		s.app.lookAt("nothing to strike out: it is struck out already")
		return nil
	}
	save := s.app.put(s.key, mapping.Entry{Strike: &mapping.Strike{Readings: ids, Reason: reason}})
	d := deed{ids: ids, strike: true, bench: s.bench, ask: s.ask, spent: s.spent}
	if s.ask != nil {
		d.at = len(s.ask.said)
		for i, id := range s.ask.ids {
			if slices.Contains(ids, id) {
				s.unsure(false, true) // they stand as they did for the step that was last read
				k := *s.ask
				k.said, k.ids = k.said[:i], k.ids[:i]
				s.ask = &k
				break
			}
		}
	}
	s.deeds = append(s.deeds, d)
	s.app.say("struck out " + mapping.Count(len(ids), "reading") + ": " + reason + "; " + s.app.key(everywhere, actUndo) + " brings " + oneOr(len(ids), "it", "them") + " back")
	return tea.Batch(save, s.rethink(s.ask == nil))
}

func oneOr(n int, one, more string) string {
	if n == 1 {
		return one
	}
	return more
}

// restore takes back the strike-out of one reading.
func (s *session) restore(id mapping.ReadingID) tea.Cmd {
	if _, gone := s.work.Struck[id]; !gone {
		s.app.lookAt("this reading stands; nothing to take back")
		return nil
	}
	s.app.say(fmt.Sprintf("reading %d stands again", id))
	return tea.Batch(s.app.put(s.key, mapping.Entry{Strike: &mapping.Strike{Readings: []mapping.ReadingID{id}, Reason: "stands again", Undo: true}}),
		s.rethink(s.ask == nil))
}

// undo takes back the last answer, line or strike-out. With nothing done in
// this sitting it takes back the last reading that stands. A voice says so, and
// what is to be done then.
func (s *session) undo() tea.Cmd {
	s.deafen()
	if s.app.saveErr != nil {
		return s.app.ring(true)
	}
	cmd := s.undoLast()
	return tea.Batch(cmd, s.app.speak(strings.TrimSpace(s.app.note+". "+s.aloud())))
}

func (s *session) undoLast() tea.Cmd {
	if len(s.deeds) == 0 {
		live := s.work.Live()
		if len(live) == 0 {
			s.app.say("nothing to undo")
			return nil
		}
		return s.strike("undone", live[len(live)-1].ID)
	}
	d := s.deeds[len(s.deeds)-1]
	s.deeds = s.deeds[:len(s.deeds)-1]
	if d.back != nil {
		return s.takeBack(d)
	}
	s.unsure(!d.strike && (s.ask == nil || d.ask == nil || s.ask.sweep.ID != d.ask.sweep.ID), !d.strike)
	save := s.app.put(s.key, mapping.Entry{Strike: &mapping.Strike{Readings: d.ids, Reason: "undone", Undo: d.strike}})
	s.bench, s.spent = d.bench, d.spent
	if d.ask != nil {
		k := *d.ask
		if !d.strike {
			k.said, k.ids = k.said[:d.at], k.ids[:d.at]
		}
		s.ask = &k
	}
	if d.strike {
		s.app.say(mapping.Count(len(d.ids), "reading") + oneOr(len(d.ids), " stands", " stand") + " again")
	} else {
		s.app.say("undone: " + mapping.Count(len(d.ids), "answer") + " taken back; set all as shown")
	}
	return tea.Batch(save, s.rethink(s.ask == nil))
}

// takeBack undoes what is no reading.
func (s *session) takeBack(d deed) tea.Cmd {
	s.app.say("undone: " + d.what)
	s.ahead = nil // the number of the next reading has changed
	if pod := d.back.Describe; pod != nil {
		return s.describe(*pod)
	}
	again := s.lookAhead()
	if p, ok := s.app.top().(*pinout); ok {
		again = tea.Batch(again, p.load())
	}
	return tea.Batch(s.app.put(s.key, *d.back), again)
}
