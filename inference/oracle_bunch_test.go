package inference

import (
	"math/rand/v2"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"

	"pgregory.net/rapid"
)

// TestLawBunch: a bunch reads as the pairs that it stands for: it beeps exactly
// when one of them would, under every map, and a true silence of a bunch leaves
// the same verdicts as the true silences of its pairs.
func TestLawBunch(t *testing.T) {
	for seed := range int64(200) {
		w := simbench.Generate(seed, simbench.Options{MinEnds: 4, MaxEnds: 10, MaxSwitches: 4})
		r := rand.New(rand.NewPCG(uint64(seed), 8))
		p := newProblem(w.Pod, nil)
		h := tellEngine(p, randomMap(r, w.Pod, 6))
		s := randomSweep(r, w.Pod)
		red, _ := p.ends(s.Red)
		black, _ := p.ends(s.Black)
		for _, at := range s.Steps {
			set, _ := p.setting(at)
			any := false
			for _, a := range s.Red {
				for _, b := range s.Black {
					one, _ := p.ends([]mapping.EndID{a})
					two, _ := p.ends([]mapping.EndID{b})
					any = any || h.closed(one, two, set)
				}
			}
			if got := h.closed(red, black, set); got != any {
				t.Fatalf("seed %d: bunch %v against %v beeps %v, its pairs %v", seed, s.Red, s.Black, got, any)
			}
		}
	}
	law(t, 8, func(t *rapid.T) {
		w := drawWorld(t)
		w.Pod.Switches = nil // a lever never moved would be one and the same doubt in all readings
		rest := mapping.Setting{}
		n := len(w.Pod.Ends)
		cut := rapid.IntRange(1, n-1).Draw(t, "cut")
		var red, black []mapping.EndID
		for i, e := range w.Pod.Ends {
			if i < cut {
				red = append(red, e.ID)
			} else {
				black = append(black, e.ID)
			}
		}
		var asBunch, asPairs []mapping.Reading
		id := mapping.ReadingID(0)
		take := func(list *[]mapping.Reading, sweep int, red, black []mapping.EndID) {
			id++
			*list = append(*list, mapping.Reading{ID: id, Session: 1, Sweep: mapping.SweepID(sweep), Red: red, Black: black,
				Setting: rest, Mode: mapping.Beep, Outcome: mapping.Silent})
			id++
			*list = append(*list, mapping.Reading{ID: id, Session: 1, Sweep: mapping.SweepID(sweep + 1), Red: red[:1], Black: red[:1],
				Setting: rest, Mode: mapping.Beep, Outcome: mapping.Sounded, Control: true})
		}
		for k := range 4 {
			take(&asBunch, 2*k+1, red, black)
		}
		k := 0
		for _, a := range red {
			for _, b := range black {
				for range 4 {
					k += 2
					take(&asPairs, k, []mapping.EndID{a}, []mapping.EndID{b})
				}
			}
		}
		x, y := Infer(w.Pod, asBunch), Infer(w.Pod, asPairs)
		for _, a := range red {
			for _, b := range black {
				u, v := x.Joined(rest, a, b), y.Joined(rest, a, b)
				if u.Joined || v.Joined || u.Grade != v.Grade {
					t.Fatalf("%s-%s at rest, silent four times: by bunch %v %s (%.1f bits), by pair %v %s (%.1f bits)",
						a, b, u.Joined, u.Grade, u.Bits, v.Joined, v.Grade, v.Bits)
				}
			}
		}
	})
}
