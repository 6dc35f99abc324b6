package inference

import (
	"flag"
	"math/rand/v2"
	"strconv"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// law checks a property on so many draws.
func law(t *testing.T, draws int, property func(*rapid.T)) {
	t.Helper()
	old := flag.Lookup("rapid.checks").Value.String()
	if err := flag.Set("rapid.checks", strconv.Itoa(draws)); err != nil {
		t.Fatal(err)
	}
	defer func() { _ = flag.Set("rapid.checks", old) }()
	rapid.Check(t, property)
}

// drawWorld draws a small pod.
func drawWorld(t *rapid.T) *simbench.World {
	seed := rapid.Int64Range(0, 5000).Draw(t, "pod")
	return simbench.Generate(seed, simbench.Options{MinEnds: 3, MaxEnds: 7, MaxSwitches: 3})
}

// drawReadings plays random sweeps on a pod, by a person who errs or not.
func drawReadings(t *rapid.T, w *simbench.World, fallible bool) []mapping.Reading {
	person := &simbench.Person{World: w, Fallible: fallible, Leads: mapping.BunchLeads,
		Seed: rapid.Int64Range(0, 1000).Draw(t, "person")}
	r := rand.New(rand.NewPCG(uint64(rapid.Int64Range(0, 1000).Draw(t, "sweeps")), 6))
	var out []mapping.Reading
	for range rapid.IntRange(1, 10).Draw(t, "length") {
		rs, err := person.Answer(randomSweep(r, w.Pod))
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, rs...)
	}
	return out
}

// told is what of a result can be seen from outside.
func told(r Result) Result {
	r.state = nil
	return r
}

var seenOnly = cmp.Options{cmpopts.IgnoreUnexported(Result{}), cmpopts.EquateEmpty(), cmpopts.EquateNaNs()}

// TestLawOrder: the result depends on the set of readings, not on the order in
// which the slice holds them, nor on whether they came all at once.
func TestLawOrder(t *testing.T) {
	law(t, 12, func(t *rapid.T) {
		w := drawWorld(t)
		rs := drawReadings(t, w, true)
		want := told(Infer(w.Pod, rs))
		shuffled := rapid.Permutation(rs).Draw(t, "order")
		if d := cmp.Diff(want, told(Infer(w.Pod, shuffled)), seenOnly); d != "" {
			t.Fatalf("another order, another result:\n%s", d)
		}
		e := NewEngine(w.Pod, nil)
		for i := range shuffled {
			e.Add(shuffled[i])
			if rapid.IntRange(0, 9).Draw(t, "ask") == 0 {
				e.Result()
			}
		}
		if d := cmp.Diff(want, told(e.Result()), seenOnly); d != "" {
			t.Fatalf("one by one, another result:\n%s", d)
		}
	})
}

// TestLawRelabel: other flags on the same ends relabel the map and change
// nothing else.
func TestLawRelabel(t *testing.T) {
	law(t, 12, func(t *rapid.T) {
		w := drawWorld(t)
		rs := drawReadings(t, w, true)
		names := rapid.SliceOfNDistinct(rapid.StringMatching(`[A-Z][0-9]{1,3}`), len(w.Pod.Ends), len(w.Pod.Ends), rapid.ID[string]).Draw(t, "names")
		to := map[mapping.EndID]mapping.EndID{}
		pod := w.Pod
		pod.Ends = append([]mapping.End(nil), w.Pod.Ends...)
		for i := range pod.Ends {
			to[pod.Ends[i].ID] = mapping.EndID(names[i])
			pod.Ends[i].ID = mapping.EndID(names[i])
		}
		other := make([]mapping.Reading, len(rs))
		rename := func(ids []mapping.EndID) []mapping.EndID {
			var out []mapping.EndID
			for _, id := range ids {
				out = append(out, to[id])
			}
			return out
		}
		for i, r := range rs {
			r.Red, r.Black = rename(r.Red), rename(r.Black)
			other[i] = r
		}
		a, b := Infer(w.Pod, rs), Infer(pod, other)
		links := func(ls []mapping.Link) []mapping.Link {
			out := append([]mapping.Link(nil), ls...)
			for i := range out {
				out[i].A, out[i].B = to[out[i].A], to[out[i].B]
			}
			return out
		}
		want := mapping.Map{Links: links(a.Map.Links), Unresolved: links(a.Map.Unresolved)}
		if d := cmp.Diff(want, b.Map, seenOnly); d != "" {
			t.Fatalf("relabelled ends, another map:\n%s", d)
		}
		if a.Confidence != b.Confidence {
			t.Fatalf("relabelled ends, another confidence: %v, %v", a.Confidence, b.Confidence)
		}
	})
}

// eachClaim runs over every pair at rest and with one switch moved.
func eachClaim(w *simbench.World, f func(at mapping.Setting, a, b mapping.EndID)) {
	rest := w.Pod.Rest()
	settings := []mapping.Setting{rest}
	for _, sw := range w.Pod.Switches {
		for _, q := range sw.Positions {
			if q != sw.Rest {
				settings = append(settings, rest.With(sw.Name, q))
			}
		}
	}
	for _, at := range settings {
		for j, b := range w.Pod.Ends {
			for _, a := range w.Pod.Ends[:j] {
				f(at, a.ID, b.ID)
			}
		}
	}
}

// TestLawNeverForgets: one more true reading never turns a right claim into
// one that is not tested.
func TestLawNeverForgets(t *testing.T) {
	law(t, 12, func(t *rapid.T) {
		w := drawWorld(t)
		rs := drawReadings(t, w, false)
		cut := rapid.IntRange(0, len(rs)-1).Draw(t, "cut")
		before, after := Infer(w.Pod, rs[:cut]), Infer(w.Pod, rs[:cut+1])
		eachClaim(w, func(at mapping.Setting, a, b mapping.EndID) {
			v, u := before.Joined(at, a, b), after.Joined(at, a, b)
			if v.Joined == w.Joined(at, a, b) && v.Grade > mapping.NotTested && u.Grade == mapping.NotTested {
				t.Fatalf("%s-%s in %v was %s and is not tested after one true reading more:\n%+v", a, b, at, v.Grade, rs[cut])
			}
		})
	})
}

// TestLawDoubts: the readings of every doubt cannot all be right, and any of
// them dropped the others can. Judged by counting every map of tiny pods: some
// readings clash when the cheapest map for them alone, every odd reading priced
// by itself, calls one of them wrong.
func TestLawDoubts(t *testing.T) {
	doubts := 0
	for seed := int64(1); seed < 400 && doubts < 12; seed += 2 {
		w := tinyWorld(seed)
		o, _, ok := countable(w)
		if !ok || len(w.Pod.Switches[0].Positions) > 2 {
			continue
		}
		o.Plain = true
		clash := func(rs []mapping.Reading) bool {
			of := o.Readings(rs)
			return o.Explain(o.Enumerate(of, 4).BestMap, of) > 0
		}
		readings := tinyReadings(t, w, true, false)
		o.Needle = simbench.WithNeedle(w.Pod, readings)
		byID := map[mapping.ReadingID]mapping.Reading{}
		for _, r := range readings {
			byID[r.ID] = r
		}
		for _, d := range Infer(w.Pod, readings).Doubts {
			doubts++
			var set []mapping.Reading
			for _, id := range d.Readings {
				r, ok := byID[id]
				if !ok {
					t.Fatalf("seed %d: a doubt names reading %d, which was never taken", seed, id)
				}
				set = append(set, r)
			}
			if len(d.Culprits) == 0 {
				t.Errorf("seed %d: a doubt about %v blames nothing", seed, d.Readings)
			}
			if !clash(set) {
				t.Errorf("seed %d: readings %v are called a doubt, but one map gives them all", seed, d.Readings)
				continue
			}
			for i := range set {
				rest := append(append([]mapping.Reading(nil), set[:i]...), set[i+1:]...)
				if clash(rest) {
					t.Errorf("seed %d: readings %v clash without reading %d as well", seed, d.Readings, set[i].ID)
				}
			}
		}
	}
	if doubts < 6 {
		t.Errorf("only %d doubts were met", doubts)
	}
}

// TestLawNothingImplied: a sweep always holds a reading whose answer does not
// follow from what is known: one pair known joined, or all pairs across known
// open, by 20 bits (1 in a million) or more.
func TestLawNothingImplied(t *testing.T) {
	const known = 20.0
	sweeps := 0
	for seed := range int64(6) {
		w := simbench.Generate(seed, simbench.Options{MinEnds: 4, MaxEnds: 7, MaxSwitches: 3})
		e := NewEngine(w.Pod, nil)
		solver := &engineSolver{e: e}
		watch := &watching{Solver: solver, before: func(s mapping.Sweep) {
			if s.Control {
				return
			}
			sweeps++
			r := solver.now()
			for _, at := range s.Steps {
				open, joined := true, false
				for _, a := range s.Red {
					for _, b := range s.Black {
						v := r.Joined(at, a, b)
						joined = joined || v.Joined && v.Bits >= known
						open = open && !v.Joined && v.Bits >= known
					}
				}
				if !open && !joined {
					return
				}
			}
			t.Errorf("seed %d: every answer to %v against %v follows from what is known", seed, s.Red, s.Black)
		}}
		simbench.Play(w, &simbench.Person{World: w, Leads: mapping.BunchLeads}, watch, simbench.Limits{})
	}
	if sweeps < 20 {
		t.Errorf("only %d sweeps were asked", sweeps)
	}
}

// watching shows each sweep before it is done.
type watching struct {
	simbench.Solver
	before func(mapping.Sweep)
}

func (w *watching) Next(b mapping.Bench) (mapping.Sweep, bool) {
	s, ok := w.Solver.Next(b)
	if ok {
		w.before(s)
	}
	return s, ok
}

// TestLawEnds: probing ends by itself, whoever answers and however wrongly:
// a person without error, a fallible one, one three times as tired, one whose
// meter is dead, and one whose meter always beeps.
func TestLawEnds(t *testing.T) {
	tired := simbench.DefaultRates()
	tired.FalseSilence, tired.FalseBeep, tired.ClipSlip, tired.WrongLever = 0.12, 0.015, 0.009, 0.06
	people := map[string]*simbench.Person{
		"perfect": {}, "fallible": {Fallible: true}, "tired": {Fallible: true, Rates: tired},
		"dead meter":   {Fallible: true, Rates: simbench.Rates{FalseSilence: 1}},
		"always beeps": {Fallible: true, Rates: simbench.Rates{FalseBeep: 1}},
	}
	for name, who := range people {
		for seed := range int64(3) {
			w := simbench.Generate(seed+40, simbench.Options{MinEnds: 4, MaxEnds: 7, MaxSwitches: 3})
			who := *who
			who.World, who.Seed, who.Leads = w, seed, mapping.Leads(seed%2)
			s := simbench.Play(w, &who, newEngineSolver(w.Pod), simbench.Limits{})
			if !s.Stopped || s.Err != nil {
				t.Errorf("%s, seed %d: still asking after %d readings, %.0f s (%v)", name, seed+40, s.Cost.Readings, s.Cost.Seconds, s.Err)
			}
		}
	}
}
