package inference

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// tellEngine writes an oracle map in the engine's terms.
func tellEngine(p *problem, m simbench.ModelMap) *hyp {
	h := &hyp{}
	for _, l := range m {
		x := newAtom(l.A, l.B)
		for _, t := range l.Terms {
			x.sw[x.n], x.t[x.n] = int8(t.Switch), uint64(t.Mask)<<p.base[t.Switch]
			x.n++
		}
		h.atoms = append(h.atoms, x)
	}
	return h
}

// randomMap draws a map of a few links of depth 0 to 3, no two of one site.
func randomMap(r *rand.Rand, pod mapping.Pod, links int) simbench.ModelMap {
	var m simbench.ModelMap
	n, k := len(pod.Ends), len(pod.Switches)
	for range links {
		a := r.IntN(n)
		b := (a + 1 + r.IntN(n-1)) % n
		l := simbench.ModelLink{A: min(a, b), B: max(a, b)}
		depth := []int{0, 1, 1, 1, 1, 2, 2, 3}[r.IntN(8)]
		if depth > k {
			depth = k
		}
		sws := r.Perm(k)[:depth]
		slices.Sort(sws)
		for _, s := range sws {
			all := uint32(1)<<len(pod.Switches[s].Positions) - 1
			l.Terms = append(l.Terms, simbench.ModelTerm{Switch: s, Mask: 1 + r.Uint32N(all-1)})
		}
		same := func(x simbench.ModelLink) bool {
			if x.A != l.A || x.B != l.B || len(x.Terms) != len(l.Terms) {
				return false
			}
			for i := range x.Terms {
				if x.Terms[i].Switch != l.Terms[i].Switch {
					return false
				}
			}
			return true
		}
		if !slices.ContainsFunc(m, same) {
			m = append(m, l)
		}
	}
	return m
}

// TestOraclePrior: the price of a map before any reading, told twice.
func TestOraclePrior(t *testing.T) {
	for seed := range int64(400) {
		w := simbench.Generate(seed, simbench.Options{MaxEnds: 12, MaxSwitches: 5})
		r := rand.New(rand.NewPCG(uint64(seed), 2))
		p, o := newProblem(w.Pod, nil), simbench.NewModel(w.Pod)
		o.Needle = seed%2 == 0
		p.bothAct = bothActs(o.Needle)
		for range 5 {
			m := randomMap(r, w.Pod, r.IntN(9))
			got, want := p.prior(tellEngine(p, m)), o.Prior(m)
			if math.Abs(got-want) > 1e-9 {
				t.Fatalf("seed %d: engine prices the map at %.3f bits, the oracle at %.3f\n%+v\n%v", seed, got, want, m, w.Pod)
			}
		}
	}
}

// noisyReadings plays random sweeps with a person who errs ten times as often.
func noisyReadings(t testing.TB, w *simbench.World, seed int64, sweeps int) []mapping.Reading {
	t.Helper()
	rates := simbench.DefaultRates()
	rates.ClipSlip, rates.WrongLever, rates.FalseBeep = 0.05, 0.15, 0.03
	person := &simbench.Person{World: w, Fallible: true, Seed: seed, Leads: mapping.BunchLeads, Rates: rates}
	r := rand.New(rand.NewPCG(uint64(seed), 3))
	var out []mapping.Reading
	sitting := 1
	for range sweeps {
		rs, err := person.Answer(randomSweep(r, w.Pod))
		if err != nil {
			t.Fatal(err)
		}
		if r.IntN(6) == 0 {
			sitting++
		}
		for i := range rs {
			rs[i].Session = sitting
		}
		out = append(out, rs...)
	}
	return out
}

// randomSweep draws a sweep that can be done with both leads clipped.
func randomSweep(r *rand.Rand, pod mapping.Pod) mapping.Sweep {
	n := len(pod.Ends)
	if r.IntN(5) == 0 {
		e := []mapping.EndID{pod.Ends[r.IntN(n)].ID}
		return mapping.Sweep{Control: true, Red: e, Black: e}
	}
	perm := r.Perm(n)
	red := 1
	if n > 2 && r.IntN(3) == 0 {
		red = 2
	}
	black := 1 + r.IntN(n-red)
	var s mapping.Sweep
	for _, i := range perm[:red] {
		s.Red = append(s.Red, pod.Ends[i].ID)
	}
	for _, i := range perm[red : red+black] {
		s.Black = append(s.Black, pod.Ends[i].ID)
	}
	at := pod.Rest()
	for range 1 + r.IntN(4) {
		held := 0
		at = at.Clone()
		for _, sw := range pod.Switches {
			if r.IntN(2) == 0 || sw.Momentary {
				at[sw.Name] = sw.Positions[r.IntN(len(sw.Positions))]
			}
			if sw.Momentary && at[sw.Name] != sw.Rest {
				if held++; held > 2 {
					at[sw.Name] = sw.Rest
				}
			}
		}
		s.Steps = append(s.Steps, at)
	}
	return s
}

// TestOracleExplain: the cheapest course of events under a given map, told
// twice, with slipped clips, wrong levers, half-pressed buttons and all.
func TestOracleExplain(t *testing.T) {
	runs := 0
	for seed := range int64(300) {
		w := simbench.Generate(seed, simbench.Options{MinEnds: 3, MaxEnds: 6, MaxSwitches: 3})
		readings := noisyReadings(t, w, seed, 8)
		p, o := newProblem(w.Pod, readings), simbench.NewModel(w.Pod)
		raw := slices.Clone(p.obs)
		r := rand.New(rand.NewPCG(uint64(seed), 4))
		for range 3 {
			m := randomMap(r, w.Pod, 1+r.IntN(4))
			faults := make([]fault, len(raw))
			got, want := p.explain(tellEngine(p, m), raw, faults), o.Explain(m, o.Readings(readings))
			if math.Abs(got-want) > 1e-9 {
				t.Fatalf("seed %d: engine explains at %.3f bits, the oracle at %.3f\n%+v\n%v", seed, got, want, m, w)
			}
			for _, f := range faults {
				if f != noFault {
					runs++
					break
				}
			}
		}
	}
	if runs < 100 {
		t.Errorf("only %d explanations needed a slipped clip or a wrong lever", runs)
	}
}
