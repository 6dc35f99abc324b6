package inference

import (
	"fmt"
	"slices"
	"testing"

	"bellout/mapping"
)

// heldPod has two buttons that one hand cannot hold at once.
func heldPod() mapping.Pod {
	return mapping.Pod{Name: "held", Ends: []mapping.End{{ID: "a"}, {ID: "b"}, {ID: "c"}, {ID: "d"}, {ID: "metal", Kind: mapping.Body}},
		Switches: []mapping.Switch{
			{Name: "trip", Positions: []mapping.PositionID{"out", "in"}, Rest: "out", Momentary: true},
			{Name: "dip", Positions: []mapping.PositionID{"low", "main"}, Rest: "low"},
			{Name: "brake", Positions: []mapping.PositionID{"released", "pulled"}, Rest: "released", Momentary: true},
		}}
}

// TestUnresolvedSaysNoMoreThanItMust: where two maps differ only with both buttons
// held, that is what is not vouched for, and nothing else, though the links by which
// the maps differ hold in other settings as well.
func TestUnresolvedSaysNoMoreThanItMust(t *testing.T) {
	p := newProblem(heldPod(), nil)
	const out, in, released = 0b1, 0b10, 0b1 << 4
	best := &hyp{atoms: []atom{newAtom(0, 1), throw(1, 2, 2, released)}}
	rival := &hyp{atoms: []atom{throw(0, 1, 0, out), throw(0, 2, 0, in), throw(1, 2, 2, released)}}
	u := p.newUnresolved()
	u.add(&state{p: p, best: best}, doubtful{h: rival})
	got := fmt.Sprint(u.links)
	want := fmt.Sprint([]mapping.Link{
		{A: "a", B: "b", When: []mapping.Condition{{{Switch: "trip", Positions: []mapping.PositionID{"in"}}, {Switch: "brake", Positions: []mapping.PositionID{"pulled"}}}}},
		{A: "a", B: "c", When: []mapping.Condition{{{Switch: "trip", Positions: []mapping.PositionID{"in"}}, {Switch: "brake", Positions: []mapping.PositionID{"pulled"}}}}},
	})
	if got != want {
		t.Errorf("not vouched for:\n got %s\nwant %s", got, want)
	}
	// And all of it: every setting in which the two maps differ is covered.
	p.eachSetting(func(s uint64) {
		for b := range p.n {
			for a := range b {
				if best.closed(1<<a, 1<<b, s) != rival.closed(1<<a, 1<<b, s) && !covers(p, u.links, a, b, s) {
					t.Errorf("%v-%v differ in %v, which is not said", p.pod.Ends[a].ID, p.pod.Ends[b].ID, p.unsetting(s))
				}
			}
		}
	})
}

func covers(p *problem, links []mapping.Link, a, b int, s uint64) bool {
	at := p.unsetting(s)
	for _, l := range links {
		if l.A == p.pod.Ends[a].ID && l.B == p.pod.Ends[b].ID && l.Holds(p.pod, at) {
			return true
		}
	}
	return false
}

// TestLonelyEnds: a link of two buttons to an end that nothing reaches, or nothing
// but another such link, may be there though no hand can test it; one between ends
// that are reached is not in question, nor one to the metal, which often carries
// nothing.
func TestLonelyEnds(t *testing.T) {
	p := newProblem(heldPod(), nil)
	both := func(a, b int) atom {
		x := throw(a, b, 0, 0b10)
		x.n, x.sw[1], x.t[1] = 2, 2, 0b10<<4
		return x
	}
	s := &state{p: p, hands: mapping.PairLeads.MostHeld(), best: &hyp{atoms: []atom{newAtom(0, 1), throw(1, 2, 2, 0b1<<4)}}}
	for _, c := range []struct {
		a, b int
		want bool
	}{{0, 3, true}, {0, 2, false}, {0, 4, false}} {
		if got := s.lonely(doubtful{x: both(c.a, c.b)}, s.reached()); got != c.want {
			t.Errorf("%v-%v says otherwise of a lonely end: %v, want %v", p.pod.Ends[c.a].ID, p.pod.Ends[c.b].ID, got, c.want)
		}
	}
	guess := s.best.withAtom(both(2, 3))
	if !s.lonely(doubtful{h: guess}, s.reached()) {
		t.Error("a whole map that reaches the lonely end is not one that says otherwise of it")
	}
	s.best, guess = guess, s.best
	if !s.lonely(doubtful{h: guess}, s.reached()) {
		t.Error("an end that only a guess reaches is taken for reached")
	}
	if s.hands = mapping.BunchLeads.MostHeld(); s.lonely(doubtful{h: guess}, s.reached()) {
		t.Error("what two hands can test is taken for a guess")
	}
}

// TestUnresolvedSeesChains: two maps that differ in a chain of links alone, which takes
// four switches moved, are not vouched for there, though no setting in which maps
// are told apart otherwise moves so many.
func TestUnresolvedSeesChains(t *testing.T) {
	pod := heldPod()
	pod.Switches = append(pod.Switches,
		mapping.Switch{Name: "key", Positions: []mapping.PositionID{"off", "park", "on"}, Rest: "off"},
		mapping.Switch{Name: "lights", Positions: []mapping.PositionID{"off", "park", "on"}, Rest: "off"},
		mapping.Switch{Name: "turn", Positions: []mapping.PositionID{"left", "centre", "right"}, Rest: "centre"})
	p := newProblem(pod, nil)
	// d joins c, or its neighbour b while the brake is let go, in start and on; what
	// else reaches d is one link of the turn switch.
	best := &hyp{atoms: []atom{throw(1, 2, 2, 1<<p.base[2]), throw(0, 3, 5, 1<<p.base[5]), throw(0, 1, 4, 0b100<<p.base[4]).narrowed(0, 0b10)}}
	rival := &hyp{atoms: []atom{throw(1, 2, 2, 1<<p.base[2]), throw(0, 3, 5, 1<<p.base[5]), throw(0, 2, 4, 0b100<<p.base[4]).narrowed(0, 0b10)}}
	u := p.newUnresolved()
	u.add(&state{p: p, best: best}, doubtful{h: rival})
	beyond := 0
	p.eachSetting(func(s uint64) {
		for b := range p.n {
			for a := range b {
				if best.closed(1<<a, 1<<b, s) == rival.closed(1<<a, 1<<b, s) {
					continue
				}
				if !slices.Contains(p.telling, s) {
					beyond++
				}
				if !covers(p, u.links, a, b, s) {
					t.Errorf("%v-%v differ in %v, which is not said", p.pod.Ends[a].ID, p.pod.Ends[b].ID, p.unsetting(s))
				}
			}
		}
	})
	if beyond == 0 {
		t.Error("the maps differ in no setting that moves so many switches")
	}
}
