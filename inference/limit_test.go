package inference

import (
	"fmt"
	"testing"

	"bellout/mapping"
)

// TestAllPositionsFillTheWord: the largest pod that may be described takes the
// last bit of the word of slots, and the engine still reads, asks and concludes.
func TestAllPositionsFillTheWord(t *testing.T) {
	pod := mapping.Pod{Name: "full", Ends: []mapping.End{{ID: "1"}, {ID: "2"}}}
	for i := range mapping.MaxSwitches {
		sw := mapping.Switch{Name: mapping.SwitchID(fmt.Sprint("s", i)), Rest: "a"}
		for q := range mapping.MaxAllPositions / mapping.MaxSwitches {
			sw.Positions = append(sw.Positions, mapping.PositionID(rune('a'+q)))
		}
		pod.Switches = append(pod.Switches, sw)
	}
	if err := pod.Validate(); err != nil {
		t.Fatal(err)
	}
	p := newProblem(pod, nil)
	last := pod.Rest().With("s15", "d")
	if s, ok := p.setting(last); !ok || s>>63 != 1 || p.unsetting(s)["s15"] != "d" || p.allSlots() != ^uint64(0) {
		t.Fatalf("the last position is slots %x of %x", s, p.allSlots())
	}
	if testing.Short() {
		return
	}
	var readings []mapping.Reading
	for i, at := range []mapping.PositionID{"a", "d", "b", "d", "c", "d"} {
		r := mapping.Reading{
			ID: mapping.ReadingID(i + 1), Session: 1, Step: i, Red: []mapping.EndID{"1"}, Black: []mapping.EndID{"2"},
			Setting: pod.Rest().With("s15", at), Outcome: mapping.Silent,
		}
		if at == "d" {
			r.Outcome = mapping.Sounded
		}
		readings = append(readings, r)
	}
	e := NewEngine(pod, readings)
	if _, more := e.Next(mapping.Bench{Leads: mapping.PairLeads, Levers: last}); !more {
		t.Error("nothing is left to ask after six readings")
	}
	if m := e.Result().Map; !m.Joined(pod, last, "1", "2") || m.Joined(pod, pod.Rest(), "1", "2") {
		t.Errorf("not the link that was heard: %+v", m.Links)
	}
}
