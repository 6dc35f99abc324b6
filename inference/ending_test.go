package inference

import (
	"slices"
	"testing"

	"bellout/mapping"
)

func twoWires() mapping.Pod {
	return mapping.Pod{Name: "two wires", Ends: []mapping.End{{ID: "1"}, {ID: "2", Kind: mapping.Body}}}
}

// takenAs is reading number n, a sweep of its own; a control beep where both sides are
// one end.
func takenAs(n int, red, black []mapping.EndID, at mapping.Setting, o mapping.Outcome) mapping.Reading {
	return mapping.Reading{ID: mapping.ReadingID(n), Session: 1, Sweep: mapping.SweepID(n),
		Red: red, Black: black, Setting: at, Outcome: o, Control: slices.Equal(red, black)}
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
			if p.Sweep.Control {
				n++
				e.Add(takenAs(n, p.Sweep.Red, p.Sweep.Black, nil, mapping.Sounded))
				continue
			}
			for _, step := range p.Sweep.Steps {
				o := mapping.Sounded
				if n < len(first) {
					o = first[n]
				}
				n++
				e.Add(takenAs(n, p.Sweep.Red, p.Sweep.Black, step, o))
			}
			bench.Red, bench.Black = p.Sweep.Red, p.Sweep.Black
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
		rs = append(rs, takenAs(i+1, []mapping.EndID{pod.Ends[0].ID}, []mapping.EndID{pod.Ends[1+i%2].ID}, nil, mapping.Silent))
	}
	bench := mapping.Bench{Leads: mapping.PairLeads, Red: rs[len(rs)-1].Red, Black: rs[len(rs)-1].Black}
	p, ok := Next(pod, rs, bench)
	if !ok || !p.Sweep.Control {
		t.Fatalf("after %d silences %+v is asked, no control beep", len(rs), p.Sweep)
	}
	rs = append(rs, takenAs(len(rs)+1, p.Sweep.Red, p.Sweep.Black, nil, mapping.NotSure))
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
