package inference

import (
	"math"
	"math/rand/v2"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// Looks that go further than a change of one link.

// sidePod has a turn switch and a hazard switch that reach the same two lamps.
func sidePod() mapping.Pod {
	return mapping.Pod{Name: "side", Ends: []mapping.End{{ID: "feed"}, {ID: "left"}, {ID: "right"}, {ID: "a"}, {ID: "b"}},
		Switches: []mapping.Switch{
			{Name: "turn", Positions: []mapping.PositionID{"off", "left", "right"}, Rest: "off"},
			{Name: "hazard", Positions: []mapping.PositionID{"off", "on"}, Rest: "off"},
		}}
}

// readAll takes every pair in every setting as a map says, but for some.
func readAll(p *problem, h *hyp, but func(a, b int, s uint64) bool) []obs {
	var out []obs
	epoch := 0
	for b := range p.n {
		for a := range b {
			epoch++
			p.eachSetting(func(s uint64) {
				if but == nil || !but(a, b, s) {
					out = append(out, obs{red: 1 << a, black: 1 << b, s: s, closed: h.closed(1<<a, 1<<b, s), epoch: epoch, protected: true})
				}
			})
		}
	}
	return out
}

// TestBridgeMayBeTwoContacts: a bridge that could be two contacts side by side has
// that map among its rivals, at its price.
func TestBridgeMayBeTwoContacts(t *testing.T) {
	p := newProblem(sidePod(), nil)
	bridge := &hyp{atoms: []atom{newAtom(0, 1)}}
	want := &hyp{atoms: []atom{throw(0, 1, 0, 0b011), throw(0, 1, 1, 0b10<<3)}}
	// Never read: turn right with the hazard off, where the two maps differ.
	p.obs = readAll(p, want, func(_, _ int, s uint64) bool { return s == 0b100|0b01<<3 })
	p.score(bridge)
	p.score(want)
	if bridge.cost != 0 || want.cost != 0 {
		t.Fatalf("both maps are to fit: %v, %v", bridge.cost, want.cost)
	}
	found := false
	newVariations(p, bridge, bridge.energy+splitSearch, func(c *hyp) float64 {
		if drawing(c) == drawing(want) {
			found = math.Abs(c.energy-want.energy) < 1e-9
		}
		return bridge.energy + splitSearch
	}).eachSplit(bridge, 0)
	if !found {
		t.Error("the two contacts are not among the maps that could be the bridge")
	}
}

// TestClaimTurnedRound: a contact that was only heard while another explains the
// beep as well falls when it is turned round, three changes away.
func TestClaimTurnedRound(t *testing.T) {
	p := newProblem(sidePod(), nil)
	truth := &hyp{atoms: []atom{throw(0, 1, 0, 0b010), throw(0, 2, 0, 0b100), throw(0, 1, 1, 0b10<<3), throw(0, 2, 1, 0b10<<3)}}
	wrong := &hyp{atoms: []atom{throw(0, 1, 0, 0b010), throw(0, 2, 0, 0b101), throw(1, 2, 1, 0b10<<3)}}
	// Never read: feed to right at rest.
	p.obs = readAll(p, truth, func(a, b int, s uint64) bool { return s == p.restSet && a == 0 && b == 2 })
	p.score(truth)
	p.score(wrong)
	if wrong.cost != 0 || truth.cost != 0 {
		t.Fatalf("both maps are to fit: %v, %v", wrong.cost, truth.cost)
	}
	s := &state{p: p, best: wrong}
	found := s.turnRound(claim{wrong.atoms[1], 0b001})
	if found.closed(1<<0, 1<<2, p.restSet) {
		t.Fatal("the claim still stands")
	}
	p.score(found)
	if found.energy > truth.energy+1e-9 {
		t.Errorf("turned round it costs %.2f bits, the truth costs %.2f", found.energy, truth.energy)
	}
}

// TestRebuildLeavesValleys: with three ends of the map exchanged in a ring, going
// down by single changes seldom comes back; tearing and building anew does more
// often, and never ends up dearer.
func TestRebuildLeavesValleys(t *testing.T) {
	down, rebuilt, cases := 0, 0, 0
	for seed := int64(0); cases < 12; seed++ {
		w := simbench.Generate(seed, simbench.Options{MinEnds: 9, MaxEnds: 9, MinSwitches: 4, MaxSwitches: 4})
		if w.SettingCount() > 40 {
			continue
		}
		cases++
		s := beginState(w.Pod)
		truth := tellEngine(s.p, w.TrueLinks())
		s.raw = readAll(s.p, truth, func(a, b int, set uint64) bool { return (int(set)+a+b)%3 != 0 })
		s.hands = mapping.BunchLeads.MostHeld()
		s.courses = courses{taken: map[uint64]*course{}}
		s.further = nil
		rng := rand.New(rand.NewPCG(uint64(seed), 22))
		ring := rng.Perm(s.p.n)[:3]
		exchanged := truth.clone()
		for i := range exchanged.atoms {
			x := &exchanged.atoms[i]
			to := func(e int) int {
				for j, r := range ring {
					if r == e {
						return ring[(j+1)%3]
					}
				}
				return e
			}
			x.rewire(to(int(x.a)), to(int(x.b)))
		}
		_, goal := s.settle(truth)
		s.best, s.total = s.settle(exchanged)
		if s.total <= goal+1e-9 {
			down++
		}
		s.chains, s.stuck = s.chains[:0], nil
		s.compare()
		for range 6 {
			w := newWalker(s.p, s.raw, rng)
			before := s.total
			s.tear(w)
			if s.total > before+1e-9 {
				t.Fatalf("seed %d: rebuilt from %.2f to %.2f bits", seed, before, s.total)
			}
		}
		if s.total <= goal+1e-9 {
			rebuilt++
		}
	}
	t.Logf("of %d: %d by going down, %d by rebuilding", cases, down, rebuilt)
	if rebuilt <= down {
		t.Errorf("of %d maps with three ends exchanged %d came back by going down, %d by rebuilding", cases, down, rebuilt)
	}
}

// TestChaseNeedsWhatMatters: a link that a walk makes for a beep needs no switch in
// any of its positions; such a link is the same as one without, and looks cheaper.
func TestChaseNeedsWhatMatters(t *testing.T) {
	deep := 0
	for seed := range int64(10) {
		p, _ := shortcutCase(t, seed)
		w := newWalker(p, p.obs, rand.New(rand.NewPCG(uint64(seed), 22)))
		c := w.begin()
		for range 3000 {
			n := c.h.clone()
			if !w.chase(c, n, false) {
				continue
			}
			for _, x := range n.atoms {
				if x.n > 1 {
					deep++
				}
				for d := range int(x.n) {
					if x.t[d] == p.swMask[x.sw[d]] {
						t.Fatalf("seed %d: a link that needs a switch in any of its positions: %v", seed, x)
					}
				}
			}
		}
	}
	if deep < 100 {
		t.Errorf("%d links of several switches only", deep)
	}
}
