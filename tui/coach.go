package tui

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bellout/mapping"
)

// play answers the step in hand as the practice meter shows it.
func (p *probe) play() tea.Cmd {
	s := p.app.ses
	if p.app.o.Player == nil {
		p.app.lookAt("there is no practice meter here: answer by what your own meter does")
		return nil
	}
	if s.ask == nil {
		return s.answer()
	}
	return s.answer(s.meterShows())
}

// meterShows is what the practice meter shows at the step in hand. It is asked
// once for each time a step comes up, since it errs by chance.
func (s *session) meterShows() said {
	step := len(s.ask.said)
	if s.shows.ask != s.ask || s.shows.step != step {
		o, v := s.app.o.Player.Meter(s.ask.sweep, step)
		shown := said{outcome: o, value: v}
		if o == mapping.Value || o == mapping.OverRange {
			shown.mode = max(s.ask.sweep.Mode, mapping.Ohms)
		}
		s.shows.ask, s.shows.step, s.shows.said = s.ask, step, shown
		s.shows.hint = mapping.Clean(s.app.o.Player.Coach(s.ask.sweep, step), mapping.MaxText)
	}
	return s.shows.said
}

// coach is what an old hand would say now, and the score: bench minutes so far
// against the grid's. Only in practice. A foot that gives way keeps the meter.
func (p *probe) coach(w, cut int) []string {
	s := p.app.ses
	if p.app.o.Player == nil {
		return nil
	}
	say := ""
	if s.ask != nil {
		say = "the meter: " + s.meterShows().words() + " (" + p.app.key(onProbe, actMeter) + " enters it). "
		switch {
		case cut > 1:
		case s.shows.hint != "":
			say += "Old hand: " + s.shows.hint
		default:
			say += "Old hand: " + s.oldHand()
		}
	}
	lines := wrap(strings.TrimSpace(say), w)
	if most := 2 + max(0, 60-w)/10; len(lines) > most {
		lines = append(lines[:most-1:most-1], more(lines[most-1], w))
	}
	if cut > 0 {
		return lines
	}
	return append(lines, wrap(s.score(), w)...)
}

// score is bench time beside the grid's; at the end also how right the map is.
func (s *session) score() string {
	if s.ask != nil || s.thinking || s.th.find == nil {
		return fmt.Sprintf("score: %s at the bench so far, the grid takes %s", mapping.Minutes(s.spent+s.spentOn(s.ask)), mapping.Minutes(s.grid))
	}
	say := fmt.Sprintf("score: %s at the bench, the grid takes %s", mapping.Minutes(s.spent), mapping.Minutes(s.grid))
	if j, ok := s.app.o.Player.(Judge); ok {
		right, all := j.Right(s.th.sum.Map)
		say += fmt.Sprintf("; the map is right in %d of %d settings", right, all)
		if n := len(s.openDoubts()); n > 0 && right < all {
			say += ". " + mapping.Count(n, "doubt") + " left standing: " + s.app.key(onProbe, actDoubts) + " shows the re-test"
		}
	}
	return say
}

// spentOn is the bench time of the steps of a sweep that were answered so far, by
// the cost table.
func (s *session) spentOn(k *asked) float64 {
	if k == nil || len(k.said) == 0 {
		return 0
	}
	sw := k.sweep
	if !sw.Control {
		sw.Steps = sw.Steps[:len(k.said)]
	}
	return mapping.SweepSeconds(s.work.Pod, k.from, sw)
}

// oldHand says what somebody who has done this for years would do here.
func (s *session) oldHand() string {
	k := s.ask
	switch {
	case k.sweep.Control:
		return "ten silences through a slipped clip are worth nothing; this costs two seconds."
	case len(s.openDoubts()) > 0:
		return "readings clash; suspect the clip first, then the lever, then the single reading."
	case s.quietRun >= 8:
		return "that was a long silence: a control beep (" + s.app.key(onProbe, actControl) + ") would protect it."
	case len(k.said) > 0 && k.said[len(k.said)-1].outcome == mapping.Sounded:
		return "never take a bare beep: work the lever while it sounds, it should stop with the click."
	}
	for _, m := range s.heldNow() {
		return "hold " + string(m.sw.Name) + " for two full seconds, a half-pressed button is silent too."
	}
	return "say the levers aloud before you listen; a lever not where you think is the dearest mistake."
}

func (s *session) heldNow() []move {
	_, hold, _ := moves(s.work.Pod, nil, s.ask.setting(len(s.ask.said), s.work.Pod))
	return hold
}
