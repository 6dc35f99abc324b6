package inference

import (
	"testing"

	"bellout/mapping"
)

func twoWires() mapping.Pod {
	return mapping.Pod{Name: "two wires", Ends: []mapping.End{{ID: "1"}, {ID: "2", Kind: mapping.Body}}}
}

// TestNothingReadIsNotEnough: however plain two wires look, one reading is taken before
// the work may be called done.
func TestNothingReadIsNotEnough(t *testing.T) {
	pod := twoWires()
	pod.Ends[1].Kind = mapping.Wire
	if r := Infer(pod, nil); r.Done {
		t.Errorf("done without a reading, confidence %.4f", r.Confidence)
	}
	if _, ok := Next(pod, nil, mapping.Bench{Leads: mapping.PairLeads}); !ok {
		t.Error("nothing is asked of two wires")
	}
}

// TestOnlyOnePair: where nothing but the clips can be moved, readings that contradict each
// other are followed by more until little doubt is left.
func TestOnlyOnePair(t *testing.T) {
	for _, first := range [][]mapping.Outcome{
		{mapping.Sounded}, {mapping.Silent}, {mapping.Silent, mapping.Sounded}, {mapping.Sounded, mapping.Silent},
		{mapping.Silent, mapping.Silent, mapping.Sounded},
	} {
		e := NewEngine(twoWires(), nil)
		bench := mapping.Bench{Leads: mapping.PairLeads, Levers: mapping.Setting{}}
		n := 0
		for {
			p, ok := e.Next(bench)
			if !ok {
				break
			}
			for _, step := range append(p.Sweep.Steps, make([]mapping.Setting, 1)...)[:max(1, len(p.Sweep.Steps))] {
				o := mapping.Sounded
				if n < len(first) && !p.Sweep.Control {
					o = first[n]
				}
				n++
				e.Add(mapping.Reading{ID: mapping.ReadingID(n), Session: 1, Sweep: mapping.SweepID(n), Red: p.Sweep.Red,
					Black: p.Sweep.Black, Setting: step, Outcome: o, Control: p.Sweep.Control})
			}
			if !p.Sweep.Control {
				bench.Red, bench.Black = p.Sweep.Red, p.Sweep.Black
			}
		}
		if r := e.Result(); !r.Done {
			t.Errorf("%v and beeps: asked %d times and no more, confidence %.4f", first, n, r.Confidence)
		}
	}
}

// TestUnansweredBeep: a control beep that brought no answer is not asked again at once.
func TestUnansweredBeep(t *testing.T) {
	pod := sidePod()
	var rs []mapping.Reading
	for i := range tailForBite {
		rs = append(rs, mapping.Reading{ID: mapping.ReadingID(i + 1), Session: 1, Sweep: mapping.SweepID(i + 1),
			Red: []mapping.EndID{pod.Ends[0].ID}, Black: []mapping.EndID{pod.Ends[1+i%2].ID}, Outcome: mapping.Silent})
	}
	bench := mapping.Bench{Leads: mapping.PairLeads, Red: rs[len(rs)-1].Red, Black: rs[len(rs)-1].Black}
	p, ok := Next(pod, rs, bench)
	if !ok || !p.Sweep.Control {
		t.Fatalf("after %d silences %+v is asked, no control beep", len(rs), p.Sweep)
	}
	n := len(rs) + 1
	rs = append(rs, mapping.Reading{ID: mapping.ReadingID(n), Session: 1, Sweep: mapping.SweepID(n), Red: p.Sweep.Red,
		Black: p.Sweep.Black, Outcome: mapping.NotSure, Control: true})
	if p, ok = Next(pod, rs, bench); !ok || p.Sweep.Control {
		t.Error("a control beep without an answer is asked again")
	}
}

// TestFewerThanTwoEnds: nothing can be asked.
func TestFewerThanTwoEnds(t *testing.T) {
	for n := range 2 {
		pod := mapping.Pod{Name: "few", Ends: twoWires().Ends[:n],
			Switches: []mapping.Switch{{Name: "horn", Positions: []mapping.PositionID{"out", "in"}, Rest: "out", Momentary: true}}}
		if _, ok := Next(pod, nil, mapping.Bench{Leads: mapping.PairLeads}); ok {
			t.Errorf("something is asked of %d ends", n)
		}
	}
}
