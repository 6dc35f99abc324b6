package inference

import (
	"fmt"
	"math/bits"
	"strings"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// apart is a pod of q ends that are all apart and no switch.
func apart(t *testing.T, q int) *simbench.World {
	t.Helper()
	var names []string
	for i := range q {
		names = append(names, fmt.Sprintf("%d BU", i+1))
	}
	w, err := simbench.ReadPod("pod K\nwires " + strings.Join(names, ", "))
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// apartMetal is the same with ends of metal: wires that nothing has reached yet
// are themselves a sign of joins to look for, metal is not.
func apartMetal(t *testing.T, q int) *simbench.World {
	w := apart(t, q)
	for i := range w.Pod.Ends {
		w.Pod.Ends[i].Kind = mapping.Body
	}
	return w
}

// halved is the bunching that parts ends by one digit of their number.
func halved(w *simbench.World, digit int) (red, black []mapping.EndID) {
	for i, e := range w.Pod.Ends {
		if i>>digit&1 == 0 {
			red = append(red, e.ID)
		} else {
			black = append(black, e.ID)
		}
	}
	return red, black
}

// TestKautzLeft: where all that is left to prove is that nets of one end each
// are apart, and ceil(log2 q) - 1 bunchings have been read, the planner asks for
// the one bunching that completes ceil(log2 q): it crosses every pair that is
// left. Source of the bound: probe_count_bounds.csv (Kautz 1974).
func TestKautzLeft(t *testing.T) {
	for _, q := range []int{4, 5, 8, 12, 16} {
		w := apartMetal(t, q)
		person := &simbench.Person{World: w, Leads: mapping.BunchLeads}
		digits := bits.Len(uint(q - 1))
		e := NewEngine(w.Pod, nil)
		bench := mapping.Bench{Leads: mapping.BunchLeads}
		for d := range digits - 1 {
			red, black := halved(w, d)
			var readings []mapping.Reading
			for range 6 {
				for _, s := range []mapping.Sweep{
					{Red: red, Black: black, Steps: []mapping.Setting{{}}},
					{Control: true, Red: red[:1], Black: red[:1]},
				} {
					rs, err := person.Answer(s)
					if err != nil {
						t.Fatal(err)
					}
					readings = append(readings, rs...)
				}
			}
			e.Add(readings...)
			bench.Red, bench.Black = red, black
		}
		next, ok := e.Next(bench)
		if !ok {
			t.Errorf("%d nets: stopped with pairs that were never crossed", q)
			continue
		}
		side := map[mapping.EndID]int{}
		for _, id := range next.Sweep.Red {
			side[id] = 1
		}
		for _, id := range next.Sweep.Black {
			side[id] = 2
		}
		low := 1<<(digits-1) - 1 // the digits that have been read
		for i, a := range w.Pod.Ends {
			for j, b := range w.Pod.Ends[:i] {
				if i&low == j&low && side[a.ID]+side[b.ID] != 3 {
					t.Errorf("%d nets: the bunching %v against %v leaves %s and %s uncrossed, one that crosses all is enough",
						q, next.Sweep.Red, next.Sweep.Black, a.ID, b.ID)
				}
			}
		}
	}
}

// TestKautzPlay: a whole play on ends that are all apart crosses every pair, so
// it takes no fewer bunchings than ceil(log2 q); it never puts the same question
// without a control beep more than six times in a row (6 silences are 28 bits,
// and those after a slipped clip are worth nothing), and it ends.
func TestKautzPlay(t *testing.T) {
	for _, q := range []int{4, 5, 8} {
		w := apart(t, q)
		seen := map[string]bool{}
		last, run := "", 0
		limits := simbench.Limits{Watch: func(s mapping.Sweep, rs []mapping.Reading) {
			if s.Control {
				run = 0
				return
			}
			key := fmt.Sprint(s.Red, s.Black)
			seen[key] = true
			if key != last {
				last, run = key, 0
			}
			if run += len(rs); run > 6 && run-len(rs) <= 6 {
				t.Errorf("%d nets: %v against %v read %d times running with no control beep", q, s.Red, s.Black, run)
			}
		}}
		s := simbench.Play(w, &simbench.Person{World: w, Leads: mapping.BunchLeads}, newEngineSolver(w.Pod), limits)
		hardLaws(t, w, mapping.BunchLeads, s)
		least := bits.Len(uint(q - 1))
		t.Logf("%d nets: %d bunchings, Kautz's least is %d; %s", q, len(seen), least, line(s))
		if len(seen) < least {
			t.Errorf("%d nets: said apart after %d bunchings, the least that can show it is %d", q, len(seen), least)
		}
	}
}
