package inference

import (
	"testing"
	"time"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// bytesOf hands out a fuzzer's bytes, zeros once they are used up.
type bytesOf struct{ left []byte }

func (b *bytesOf) upTo(n int) int {
	if len(b.left) == 0 {
		return 0
	}
	v := int(b.left[0])
	b.left = b.left[1:]
	return v % n
}

// fuzzPod makes a valid pod of any kind.
func fuzzPod(b *bytesOf) mapping.Pod {
	p := mapping.Pod{Name: "fuzz"}
	for i := range 2 + b.upTo(7) {
		p.Ends = append(p.Ends, mapping.End{ID: mapping.EndID(rune('1' + i)), Kind: mapping.EndKind(b.upTo(2))})
	}
	for i := range b.upTo(5) {
		sw := mapping.Switch{Name: mapping.SwitchID(rune('a' + i)), Momentary: b.upTo(2) == 1}
		for q := range 2 + b.upTo(4) {
			sw.Positions = append(sw.Positions, mapping.PositionID(rune('p'+q)))
		}
		sw.Rest = sw.Positions[b.upTo(len(sw.Positions))]
		p.Switches = append(p.Switches, sw)
	}
	return p
}

// fuzzReading makes any reading: ends and positions that the pod has not, a
// side without ends, an end on both sides, every mode and outcome.
func fuzzReading(b *bytesOf, p mapping.Pod, i int) mapping.Reading {
	r := mapping.Reading{ID: mapping.ReadingID(b.upTo(40)), Session: b.upTo(3), Sweep: mapping.SweepID(b.upTo(6)), Step: b.upTo(4),
		Mode: mapping.Mode(b.upTo(4)), Outcome: mapping.Outcome(b.upTo(9)), Value: float64(b.upTo(200)) - 10, Control: b.upTo(8) == 0}
	if b.upTo(4) > 0 {
		r.ID = mapping.ReadingID(i + 1)
		r.Mode, r.Outcome = mapping.Beep, mapping.Sounded+mapping.Outcome(b.upTo(2))
	}
	for _, side := range []*[]mapping.EndID{&r.Red, &r.Black} {
		for range b.upTo(4) {
			*side = append(*side, mapping.EndID(rune('1'+b.upTo(len(p.Ends)+1))))
		}
	}
	r.Setting = mapping.Setting{}
	for _, sw := range p.Switches {
		if b.upTo(6) > 0 {
			r.Setting[sw.Name] = mapping.PositionID(rune('p' + b.upTo(len(sw.Positions)+b.upTo(2))))
		}
	}
	if b.upTo(30) == 29 {
		r.Setting["no such switch"] = "p"
	}
	return r
}

// FuzzEngine: whatever the readings, the engine answers, soon, with grades and
// certainty in range and a next sweep that can be done.
func FuzzEngine(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte{4, 0, 0, 1, 0, 0, 0, 3, 1, 0, 1, 2, 2, 0, 1, 1, 0})
	f.Add([]byte("every wire is red, every switch is on, and the meter always beeps, twice over"))
	f.Add([]byte{6, 1, 1, 1, 1, 1, 1, 1, 1, 4, 1, 3, 2, 1, 0, 0, 1, 2, 1, 9, 2, 1, 1, 3, 1, 2, 3, 3, 4, 5, 6, 3, 3, 3, 1, 2, 1, 1, 2, 4, 1, 8, 8, 8})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1500 {
			t.Skip()
		}
		b := &bytesOf{data}
		pod := fuzzPod(b)
		if err := pod.Validate(); err != nil {
			t.Fatal(err)
		}
		var rs []mapping.Reading
		for i := 0; len(b.left) > 0; i++ {
			rs = append(rs, fuzzReading(b, pod, i))
		}
		began := time.Now()
		e := NewEngine(pod, rs)
		r := e.Result()
		if !(r.Confidence >= 0 && r.Confidence <= 1) {
			t.Errorf("confidence %v", r.Confidence)
		}
		for _, l := range append(append([]mapping.Link(nil), r.Map.Links...), r.Map.Unresolved...) {
			if _, ok := pod.End(l.A); !ok {
				t.Errorf("link names an end %q that the pod has not", l.A)
			}
			if _, ok := pod.End(l.B); !ok || l.A == l.B {
				t.Errorf("link names an end %q that the pod has not, or one end twice", l.B)
			}
		}
		for _, leads := range []mapping.Leads{mapping.PairLeads, mapping.BunchLeads} {
			if next, ok := e.Next(mapping.Bench{Leads: leads}); ok {
				if err := simbench.Doable(pod, leads, next.Sweep); err != nil {
					t.Errorf("next sweep with %s leads: %v", leads, err)
				}
			}
		}
		if took := time.Since(began); took > 20*time.Second {
			t.Errorf("%d readings took %v", len(rs), took)
		}
	})
}
