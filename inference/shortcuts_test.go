package inference

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"bellout/inference/simbench"
)

// What is kept or left out for speed changes nothing: each shortcut is compared
// with the plain way round.

// shortcutCase is a pod with noisy readings and maps that could be of it.
func shortcutCase(t *testing.T, seed int64) (*problem, []*hyp) {
	t.Helper()
	w := simbench.Generate(seed, simbench.Options{MinEnds: 5, MaxEnds: 9, MinSwitches: 2, MaxSwitches: 4})
	p := newProblem(w.Pod, noisyReadings(t, w, seed, 20))
	r := rand.New(rand.NewPCG(uint64(seed), 20))
	return p, mapsOf(p, w, 3, func() *hyp { return tellEngine(p, randomMap(r, w.Pod, 2+r.IntN(6))) })
}

// mapsOf is the true map of a pod and so many others, ready to be compared.
func mapsOf(p *problem, w *simbench.World, others int, other func() *hyp) []*hyp {
	maps := []*hyp{tellEngine(p, w.TrueLinks())}
	for range others {
		maps = append(maps, other())
	}
	for _, h := range maps {
		p.tidy(h)
		p.score(h)
	}
	return maps
}

// TestCourseGoesOn: the price of a map with runs is the same whether a course was
// followed reading by reading or at once, and none is given up that is under the
// limit.
func TestCourseGoesOn(t *testing.T) {
	over := 0
	for seed := range int64(40) {
		p, maps := shortcutCase(t, seed)
		raw := slices.Clone(p.obs)
		for _, h := range maps {
			want := p.explain(h, raw, nil)
			for _, limit := range []float64{want + 5, want - 15} {
				s := &state{p: p, total: limit - rivalWindow + p.prior(h), courses: courses{taken: map[uint64]*course{}}}
				for n := 0; n < len(raw); n += 7 {
					s.raw = raw[:n]
					s.courses.known, s.courses.taken = s.courses.taken, map[uint64]*course{}
					s.dearer(h)
				}
				s.raw = raw
				s.courses.known, s.courses.taken = s.courses.taken, map[uint64]*course{}
				d, _ := s.dearer(h)
				switch got := d + s.total - p.prior(h); {
				case math.IsInf(got, 1) && limit < want:
					over++
				case math.Abs(got-want) > 1e-6:
					t.Fatalf("seed %d: %.6f bits in steps, %.6f at once, limit %.3f", seed, got, want, limit)
				}
			}
		}
	}
	if over == 0 {
		t.Error("no course was ever given up")
	}
}

// TestNetTablePrices: a reading costs the same from the table of nets.
func TestNetTablePrices(t *testing.T) {
	for seed := range int64(30) {
		p, maps := shortcutCase(t, seed)
		var r roll
		var table netTable
		for _, h := range maps {
			var numbers []numbered
			for i := range p.obs {
				numbers = append(numbers, r.numbersOf(&p.obs[i]))
			}
			table.begin(h, r.settings)
			for i := range p.obs {
				if o := &p.obs[i]; !o.control {
					if got, want := table.price(o, &numbers[i]), h.priceIn(o, o.s, 0); got != want {
						t.Fatalf("seed %d: %v from the table, %v from the map", seed, got, want)
					}
				}
			}
		}
	}
}

// TestPriorInParts: the prior that a walk carries along, each switch worked out
// only when it changes, is the map's.
func TestPriorInParts(t *testing.T) {
	for seed := range int64(20) {
		p, _ := shortcutCase(t, seed)
		w := newWalker(p, p.obs, rand.New(rand.NewPCG(uint64(seed), 21)))
		c := w.begin()
		for range 40 {
			w.walk(c, 25)
			if want := p.prior(c.h); math.Abs(c.prior-want) > 1e-9 {
				t.Fatalf("seed %d: the walk carries %.6f bits, the map has %.6f", seed, c.prior, want)
			}
		}
	}
}

// TestChangesUnder: maps with one link changed cost what they cost by themselves, and
// those under a limit are those of the whole list.
func TestChangesUnder(t *testing.T) {
	found, priced := 0, 0
	for seed := range int64(20) {
		p, maps := shortcutCase(t, seed)
		for _, h := range maps {
			under := map[uint64]float64{}
			p.eachChange(h, math.Inf(1), func(c *hyp) float64 {
				if c.energy < h.energy {
					under[drawing(c)] = c.energy
				}
				plain := c.clone()
				if p.score(plain); math.Abs(plain.energy-c.energy) > 1e-6 {
					t.Fatalf("seed %d: a map with one link changed is priced %.6f bits, by itself %.6f", seed, c.energy, plain.energy)
				}
				priced++
				return math.Inf(1)
			})
			found += len(under)
			p.eachChange(h, h.energy, func(c *hyp) float64 {
				delete(under, drawing(c))
				return h.energy
			})
			if len(under) > 0 {
				t.Fatalf("seed %d: %d maps cheaper than the one at hand were left out", seed, len(under))
			}
		}
	}
	if found == 0 {
		t.Error("no change ever made a map cheaper")
	}
	if priced < 10000 {
		t.Errorf("%d maps only were priced", priced)
	}
}

// TestSignatureByHands: fingerprints for so many hands differ when, and only when,
// the nets differ in a setting that so many hold.
func TestSignatureByHands(t *testing.T) {
	told := map[int]int{}
	for seed := range int64(40) {
		p, maps := shortcutCase(t, seed)
		for i, a := range maps {
			for _, b := range maps[:i] {
				want, differ := 0, false
				for _, s := range p.telling {
					x, y := a.nets(s, nil), b.nets(s, nil)
					slices.Sort(x)
					slices.Sort(y)
					if !slices.Equal(x, y) {
						want, differ = min(p.buttons(s), handsAny), true
						break
					}
				}
				if got := p.handsToTell(a, b); got != want {
					t.Fatalf("seed %d: told apart with %d buttons held, the settings say %d", seed, got, want)
				}
				if (p.signature(a) != p.signature(b)) != differ {
					t.Fatalf("seed %d: the fingerprints do not tell whether the maps differ", seed)
				}
				told[want]++
			}
		}
	}
	if told[1] == 0 {
		t.Errorf("no two maps needed a button held: %v", told)
	}
}

// TestEarlierStatesAreKept: an engine that has let go of most of its earlier states
// says the same as a new one once a reading turns up that belongs far back.
func TestEarlierStatesAreKept(t *testing.T) {
	w := simbench.Generate(5, simbench.Options{MinEnds: 5, MaxEnds: 5, MinSwitches: 2, MaxSwitches: 2})
	readings := noisyReadings(t, w, 5, 20)
	late := len(readings) / 3
	e := NewEngine(w.Pod, nil)
	for i := 0; i < len(readings); {
		j := i + 1
		for j < len(readings) && readings[j].Sweep == readings[i].Sweep {
			j++
		}
		for k := i; k < j; k++ {
			if k != late {
				e.Add(readings[k])
			}
		}
		e.now()
		i = j
	}
	if steps := e.steps[len(e.steps)-1].number; len(e.steps) > steps/2 {
		t.Fatalf("%d states are kept after %d steps", len(e.steps), steps)
	}
	e.Add(readings[late])
	got, want := e.Result(), Infer(w.Pod, readings)
	if !reflect.DeepEqual(got.Map, want.Map) || got.Confidence != want.Confidence {
		t.Errorf("the engine says %v at %v, a new one %v at %v", got.Map, got.Confidence, want.Map, want.Confidence)
	}
}

// TestPriorWithOneMore: the prior of a map with another link in the place of one is
// known without it.
func TestPriorWithOneMore(t *testing.T) {
	known := 0
	for seed := range int64(20) {
		p, maps := shortcutCase(t, seed)
		p.bothAct = bothActs(seed%2 == 1)
		for _, h := range maps {
			v := newVariations(p, h, math.Inf(1), func(*hyp) float64 { return math.Inf(1) })
			for i := range h.atoms {
				v.leave(h.atoms, i)
				p.eachCondition(h.atoms[i], func(y atom) {
					for e := range p.n {
						z := y
						if z.ends>>e&1 == 0 {
							z.rewire(int(y.a), e)
						}
						got := v.priorWith(&z)
						if got == v.least {
							continue
						}
						known++
						c := v.bare.clone()
						c.add(z)
						p.tidy(c)
						if want := p.prior(c); math.Abs(got+rounding-want) > 1e-9 {
							t.Fatalf("seed %d: %v in the place of %v: %.6f bits, the map has %.6f", seed, z, h.atoms[i], got+rounding, want)
						}
					}
				})
			}
		}
	}
	if known < 10000 {
		t.Errorf("known of %d maps only", known)
	}
}

// TestJoined: the further link that makes a map cheapest is that of the whole table.
func TestJoined(t *testing.T) {
	helped := map[int]int{} // by how many switches the link needs
	for seed := range int64(60) {
		p, maps := shortcutCase(t, seed)
		for _, h := range maps {
			var ev evidence
			p.weigh(h, &ev)
			least := 0.0
			p.eachAddition(h, &ev, math.Inf(1), func(_, _, _, _ int, d float64) { least = min(least, d) })
			j := p.newJoiner(h)
			x, ok := j.cheapest()
			if ok != (least < -1e-9) {
				t.Fatalf("seed %d: one more link saves %.6f bits, found %v", seed, -least, ok)
			}
			if !ok {
				continue
			}
			got := math.Inf(1)
			p.eachAddition(h, &ev, math.Inf(1), func(a, b, c, _ int, d float64) {
				if p.conds.atom(a, b, c) == x {
					got = d
				}
			})
			if math.Abs(got-least) > 1e-6 {
				t.Fatalf("seed %d: one more link saves %.6f bits, the one found %.6f", seed, -least, -got)
			}
			helped[int(x.n)]++
		}
	}
	if helped[0] == 0 || helped[1] == 0 || helped[2] == 0 {
		t.Errorf("a further link helped so often, by how many switches it needs: %v", helped)
	}
}
