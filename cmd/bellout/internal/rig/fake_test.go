package rig

import (
	"bytes"
	"errors"
	"testing"

	"bellout/inference"
	"bellout/mapping"
)

// script is an engine that asks a fixed list of sweeps, whatever is answered.
type script struct {
	sweeps []mapping.Sweep
	heard  []mapping.Reading
	result inference.Result
	bench  []mapping.Bench
}

func (s *script) Add(r ...mapping.Reading) { s.heard = append(s.heard, r...) }

func (s *script) Next(b mapping.Bench) (inference.Proposal, bool) {
	s.bench = append(s.bench, b)
	if len(s.sweeps) == 0 {
		return inference.Proposal{}, false
	}
	p := inference.Proposal{Sweep: s.sweeps[0]}
	s.sweeps = s.sweeps[1:]
	return p, true
}

func (s *script) Result() inference.Result { return s.result }

// memory is a journal that notes how much had been written out when each
// answer was kept.
type memory struct {
	entries []mapping.Entry
	out     *bytes.Buffer
	linesAt []int // lines of output at the moment an answer was kept
	fullAt  int   // fails from this many entries on, 0: never
}

var errFull = errors.New("disk full")

func (m *memory) Append(entries ...mapping.Entry) ([]mapping.Entry, error) {
	if m.fullAt > 0 && len(m.entries)+len(entries) > m.fullAt {
		return nil, errFull
	}
	var kept []mapping.Entry
	for _, e := range entries {
		e.Seq = uint64(len(m.entries) + 1)
		m.entries = append(m.entries, e)
		kept = append(kept, e)
	}
	if entries[0].Reading != nil && m.out != nil {
		m.linesAt = append(m.linesAt, bytes.Count(m.out.Bytes(), []byte("\n")))
	}
	return kept, nil
}

func testPod(t *testing.T) mapping.Pod {
	t.Helper()
	p := mapping.Pod{
		Name: "test",
		Ends: []mapping.End{{ID: "1"}, {ID: "2"}, {ID: "3"}},
		Switches: []mapping.Switch{
			{Name: "turn", Positions: []mapping.PositionID{"left", "off", "right"}, Rest: "off"},
			{Name: "horn", Positions: []mapping.PositionID{"out", "in"}, Rest: "out", Momentary: true},
		},
	}
	if err := p.Validate(); err != nil {
		t.Fatal(err)
	}
	return p
}

// beepSweep has two steps, the first of which leaves a switch unnamed.
func beepSweep() mapping.Sweep {
	return mapping.Sweep{
		Red: []mapping.EndID{"3"}, Black: []mapping.EndID{"1", "2"}, Mode: mapping.Beep,
		Steps: []mapping.Setting{{"turn": "left"}, {"turn": "right", "horn": "in"}},
		Why:   mapping.Why{Reason: mapping.Separate, Maps: 12},
	}
}

func controlSweep() mapping.Sweep {
	return mapping.Sweep{Red: []mapping.EndID{"3"}, Black: []mapping.EndID{"3"}, Control: true}
}
