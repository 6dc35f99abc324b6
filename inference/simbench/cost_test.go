package simbench

import (
	"math"
	"math/rand/v2"
	"testing"

	"bellout/mapping"
)

// randomSweep draws a sweep that can be done, for pricing.
func randomSweep(r *rand.Rand, w *World, leads mapping.Leads) mapping.Sweep {
	n := len(w.Pod.Ends)
	if r.IntN(8) == 0 {
		e := []mapping.EndID{w.Pod.Ends[r.IntN(n)].ID}
		return mapping.Sweep{Control: true, Red: e, Black: e}
	}
	perm := r.Perm(n)
	red, black := 1, 1
	if leads == mapping.BunchLeads {
		red = 1 + r.IntN(n-1)
		black = 1 + r.IntN(n-red)
	}
	var s mapping.Sweep
	for _, i := range perm[:red] {
		s.Red = append(s.Red, w.Pod.Ends[i].ID)
	}
	for _, i := range perm[red : red+black] {
		s.Black = append(s.Black, w.Pod.Ends[i].ID)
	}
	hold := 1
	if leads == mapping.BunchLeads {
		hold = 2
	}
	for range 1 + r.IntN(6) {
		lever := w.Lever(nil)
		held := 0
		for k, sw := range w.Pod.Switches {
			q := r.IntN(len(sw.Positions))
			if sw.Momentary && q != lever[k] {
				if held == hold {
					continue
				}
				held++
			}
			lever[k] = q
		}
		s.Steps = append(s.Steps, w.Setting(lever))
	}
	return s
}

// TestCostAgrees holds this package's arithmetic and mapping's, written apart
// from the same table, against each other over random plays.
func TestCostAgrees(t *testing.T) {
	for seed := range int64(300) {
		w := Generate(seed, Options{})
		r := rand.New(rand.NewPCG(uint64(seed), 1))
		leads := mapping.Leads(seed % 2)
		hand := NewHand(w.Pod, leads)
		bench := mapping.Bench{Leads: leads, Levers: w.Pod.Rest()}
		sum := 0.0
		for i := range 12 {
			s := randomSweep(r, w, leads)
			if err := Doable(w.Pod, leads, s); err != nil {
				t.Fatal(err)
			}
			hand.Do(s)
			sum += mapping.SweepSeconds(w.Pod, bench, s)
			bench = bench.After(w.Pod, s)
			if math.Abs(sum-hand.Seconds) > 1e-6 {
				t.Fatalf("seed %d sweep %d: mapping says %.2f s, the judge %.2f s\n%+v", seed, i, sum, hand.Seconds, s)
			}
		}
		if a, b := mapping.GridSeconds(w.Pod), GridSeconds(w.Pod); math.Abs(a-b) > 1e-6 {
			t.Fatalf("seed %d: the grid takes %.2f s by mapping, %.2f s by the judge", seed, a, b)
		}
	}
}

// TestCostByHand prices one sweep by the design's table with pencil and paper.
func TestCostByHand(t *testing.T) {
	pod := mapping.Pod{Name: "p", Ends: []mapping.End{{ID: "1"}, {ID: "2"}, {ID: "3"}, {ID: "4"}},
		Switches: []mapping.Switch{
			{Name: "turn", Positions: []mapping.PositionID{"left", "off", "right"}, Rest: "off"},
			{Name: "horn", Positions: []mapping.PositionID{"out", "in"}, Rest: "out", Momentary: true},
		}}
	steps := []mapping.Setting{
		{"turn": "off", "horn": "out"}, {"turn": "left", "horn": "out"}, {"turn": "right", "horn": "in"},
	}
	// 2 instruction, 3 red, 6 black, 3 x 1.2 readings, 1 + 2 clicks x 2, 5 held.
	h := NewHand(pod, mapping.PairLeads)
	h.Do(mapping.Sweep{Red: []mapping.EndID{"1"}, Black: []mapping.EndID{"2"}, Steps: steps})
	if want := 2 + 3 + 6 + 3*1.2 + 3*2 + 5.0; math.Abs(h.Seconds-want) > 1e-9 {
		t.Errorf("pair sweep: %.2f s, want %.2f", h.Seconds, want)
	}
	// Bunch: 2, red clip 6, black clip 6 and one more end 5, readings, clicks, 3 held;
	// then red 1 changed for 4 at 6, black 3 taken out at 4, one reading, one click.
	h = NewHand(pod, mapping.BunchLeads)
	h.Do(mapping.Sweep{Red: []mapping.EndID{"1"}, Black: []mapping.EndID{"2", "3"}, Steps: steps})
	h.Do(mapping.Sweep{Red: []mapping.EndID{"4"}, Black: []mapping.EndID{"2"}, Steps: steps[:1]})
	if want := (2 + 6 + 11 + 3*1.2 + 3*2 + 3.0) + (2 + 6 + 4 + 1.2 + 2); math.Abs(h.Seconds-want) > 1e-9 {
		t.Errorf("bunch sweeps: %.2f s, want %.2f", h.Seconds, want)
	}
}
