package tui

import (
	"strings"
	"time"

	"bellout/mapping"
	"bellout/tui/ears"
)

// secondsWord is how long a word of a step takes to read from the screen: 200
// words a minute (common practice).
const secondsWord = 0.3

// hands is what the step in hand asks of the hands, by the prices of the bench.
// Where nobody vouches for a lever it may have its whole travel before it.
func (s *session) hands() ears.Hands {
	sec, moves := 0.0, 0
	if s.ask.sweep.Control {
		sec, moves = mapping.SecondsMoveRed, 1
	} else {
		to := s.ask.setting(len(s.ask.said), s.work.Pod)
		levers, hold, free := s.todo(to)
		for _, m := range levers {
			clicks := len(m.sw.Positions) - 1
			if m.from != "" {
				d := m.sw.Index(m.to) - m.sw.Index(m.from)
				clicks = max(d, -d)
			}
			sec, moves = sec+mapping.SecondsLeverStep*float64(clicks), moves+clicks
		}
		standing := s.standing()
		for _, m := range hold {
			if standing == nil || standing.At(m.sw) != m.to {
				sec, moves = sec+s.bench.Leads.HoldSeconds(), moves+1
			}
		}
		sec, moves = sec+mapping.SecondsLeverStep*float64(len(free)), moves+len(free)
	}
	if s.app.o.Speak == nil {
		sec += secondsWord * float64(len(strings.Fields(s.stepAloud())))
	}
	return ears.Hands{Time: time.Duration(sec * float64(time.Second)), Moves: moves}
}
