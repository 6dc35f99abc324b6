package simbench

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestGenerateIsWhatItSays holds the generator to its doc comment: valid pods
// within bounds, repeatable, dead ends and deep links about as often as stated.
func TestGenerateIsWhatItSays(t *testing.T) {
	const pods = 2000
	var ends, dead, deep2, deep3, two, three, body, none int
	kinds := map[string]int{}
	for seed := range int64(pods) {
		w := Generate(seed, Options{})
		if err := w.Pod.Validate(); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		n, s := len(w.Pod.Ends), len(w.Pod.Switches)
		if n < 4 || n > 24 || s > 10 {
			t.Fatalf("seed %d: %d ends, %d switches", seed, n, s)
		}
		touched := make([]bool, w.Points)
		for _, c := range w.Contacts {
			if c.A == c.B || c.A < 0 || c.B >= w.Points {
				t.Fatalf("seed %d: contact %+v of %d points", seed, c, w.Points)
			}
			if c.Switch >= 0 {
				all := uint32(1)<<uint(len(w.Pod.Switches[c.Switch].Positions)) - 1
				if c.Mask == 0 || c.Mask&^all != 0 || c.Mask == all {
					t.Fatalf("seed %d: contact %+v is never or always closed", seed, c)
				}
			}
			touched[c.A], touched[c.B] = true, true
		}
		for i := range n {
			ends++
			if !touched[i] {
				dead++
			}
		}
		if s == 0 {
			none++
		}
		if s >= 2 {
			two++
			if w.Depth == 2 {
				deep2++
				kinds[w.Kind]++
			}
		}
		if s >= 3 {
			three++
			if w.Depth == 3 {
				deep3++
			}
		}
		if w.Pod.Ends[n-1].ID == "BODY" {
			body++
		}
	}
	share := func(name string, k, of int, lo, hi float64) {
		got := float64(k) / float64(of)
		t.Logf("%s: %.3f", name, got)
		if got < lo || got > hi {
			t.Errorf("%s: %.3f, stated between %.3f and %.3f", name, got, lo, hi)
		}
	}
	share("dead ends", dead, ends, 0.03, 0.06)
	share("depth 2", deep2, two, 0.16, 0.23)
	share("depth 3", deep3, three, 0.012, 0.03)
	share("body", body, pods, 0.18, 0.28)
	share("no switch", none, pods, 0.01, 0.06)
	for _, k := range []string{"inner feed", "jobless partner", "two visible jobs"} {
		share(k, kinds[k], deep2, 0.10, 0.55)
	}
	a, b := Generate(7, Options{}), Generate(7, Options{})
	if d := cmp.Diff(a.Pod, b.Pod); d != "" {
		t.Errorf("the same seed gave another pod: %s", d)
	}
	if d := cmp.Diff(a.Contacts, b.Contacts); d != "" {
		t.Errorf("the same seed gave another network: %s", d)
	}
}

// TestGenerateKeepsBounds tries tight bounds, where ends run out.
func TestGenerateKeepsBounds(t *testing.T) {
	for seed := range int64(500) {
		w := Generate(seed, Options{MinEnds: 3, MaxEnds: 5, MinSwitches: 2, MaxSwitches: 3})
		if err := w.Pod.Validate(); err != nil {
			t.Fatal(err)
		}
		if n, s := len(w.Pod.Ends), len(w.Pod.Switches); n < 3 || n > 5 || s < 2 || s > 3 {
			t.Fatalf("seed %d: %d ends, %d switches", seed, n, s)
		}
	}
}

// TestDepthTwoTakesTwo checks the hidden junctions by what a meter would see:
// somewhere a pair is joined that no one-switch trial explains.
func TestDepthTwoTakesTwo(t *testing.T) {
	seen := 0
	for seed := int64(0); seen < 60; seed++ {
		w := Generate(seed, Options{MaxEnds: 12, MaxSwitches: 5})
		if w.Depth != 2 {
			continue
		}
		seen++
		if seen <= 2 {
			t.Log(w)
		}
		hidden := map[int]int{}
		for _, c := range w.Contacts {
			for _, p := range []int{c.A, c.B} {
				if p >= len(w.Pod.Ends) {
					hidden[p]++
				}
			}
		}
		if len(hidden) != 1 {
			t.Fatalf("seed %d has %d hidden junctions:\n%v", seed, len(hidden), w)
		}
		for p, k := range hidden {
			if k < 2 {
				t.Fatalf("seed %d: hidden junction %d has %d contacts:\n%v", seed, p, k, w)
			}
		}
	}
}
