package simbench

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"bellout/mapping"
)

// TestTrueMapIsTrue: the network with its hidden junctions taken out predicts
// the nets of every setting, and the judge agrees.
func TestTrueMapIsTrue(t *testing.T) {
	deep := 0
	for seed := range int64(300) {
		w := Generate(seed, Options{MaxEnds: 14, MaxSwitches: 6})
		if w.Depth >= 2 {
			deep++
		}
		if s := Judge(w, mapping.BunchLeads, &said{w, w.TrueMap(), mapping.Likely}); s.Wrong() || s.WrongSure > 0 {
			t.Fatalf("seed %d: the true map is judged wrong: %s\n%v", seed, s.FirstWrong, w)
		}
	}
	if deep < 30 {
		t.Errorf("only %d of the pods had hidden junctions", deep)
	}
}

// TestFloorHolds: the proof found is cheaper than its start, proves enough by
// the search's own doubt, costs what the judge's hand says, and is not under
// the bound.
func TestFloorHolds(t *testing.T) {
	for seed := range int64(3) {
		for _, leads := range []mapping.Leads{mapping.BunchLeads, mapping.PairLeads} {
			floorHolds(t, seed, leads)
		}
	}
}

func floorHolds(t *testing.T, seed int64, leads mapping.Leads) {
	t.Helper()
	w := Generate(seed, Options{MinEnds: 4, MaxEnds: 7, MaxSwitches: 3})
	p := newProver(w, w.TrueLinks(), leads)
	start := p.sweeps(p.halves(rand.New(rand.NewPCG(1, uint64(seed)))))
	if leads == mapping.PairLeads {
		start = slices.Concat(Grid(w.Pod), Grid(w.Pod), Grid(w.Pod))
	}
	grant := func(s []mapping.Sweep) (bool, []mapping.Map) { return p.doubt(p.plansOf(s)) <= stopDoubt, nil }
	f, err := FloorOf(w, w.TrueMap(), nil, leads, start, grant, Effort{Seed: seed, Starts: 2, Moves: 15000})
	if err != nil {
		t.Fatal(err)
	}
	first := p.seconds(p.plansOf(start))
	plans := p.plansOf(f.Sweeps)
	t.Logf("seed %d %s: %d ends %d switches, %d rivals: start %.0f s, found %.0f s in %d sweeps, bound %.0f s, doubt %.4f",
		seed, leads, len(w.Pod.Ends), len(w.Pod.Switches), f.Rivals, first, f.Found, len(f.Sweeps), f.Bound, p.doubt(plans))
	if f.Found >= first || f.Found < f.Bound {
		t.Errorf("seed %d %s: found %.1f s from %.1f s, bound %.1f s", seed, leads, f.Found, first, f.Bound)
	}
	if d := p.doubt(plans); d > stopDoubt*(1+1e-6) {
		t.Errorf("seed %d %s: the proof found leaves a doubt of %.4f", seed, leads, d)
	}
	h := NewHand(w.Pod, leads)
	for _, s := range f.Sweeps {
		if err := Doable(w.Pod, leads, s); err != nil {
			t.Errorf("seed %d %s: %v", seed, leads, err)
		}
		h.Do(s)
	}
	if math.Abs(h.Seconds-f.Found) > 1e-6 {
		t.Errorf("seed %d %s: the hand needs %.1f s, the search says %.1f s", seed, leads, h.Seconds, f.Found)
	}
}

// TestBunchings holds the least number of splits against Kautz's ceil(log2 q)
// (published: 5 nets 3, 8 nets 3, 12 nets 4, 16 nets 4, 20 nets 5).
func TestBunchings(t *testing.T) {
	for q, want := range map[int]int{5: 3, 8: 3, 12: 4, 16: 4, 20: 5} {
		if got := bunchings(q, 0); got != want {
			t.Errorf("%d nets: %d splits, published %d", q, got, want)
		}
	}
}
