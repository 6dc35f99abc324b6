package inference

import (
	"math"
	"slices"
	"testing"

	"bellout/inference/simbench"
	"bellout/mapping"
)

// offers tells whether a map is among those that differ from another by a change of
// one link.
func offers(p *problem, h, want *hyp) bool {
	p.score(h)
	found := false
	p.eachChange(h, 1e9, func(c *hyp) float64 {
		found = found || drawing(c) == drawing(want)
		return 1e9
	})
	return found
}

// TestContactMayHangOnAnother: of three ends that are joined in the half-way click, the
// contact that closes only there can be drawn from either of the other two; drawn
// the other way it may be the one that stays closed beyond.
func TestContactMayHangOnAnother(t *testing.T) {
	p := newProblem(sidePod(), nil)
	first, both := throw(0, 1, 0, 0b011), throw(0, 2, 0, 0b010)
	if !offers(p, &hyp{atoms: []atom{first, both}}, &hyp{atoms: []atom{first, throw(1, 2, 0, 0b110)}}) {
		t.Error("a changeover with a half-way click is not a rival of a chain of contacts")
	}
}

// TestIdleTermIsFreed: beside a contact that closes while the hazard is off, a link
// while turn is left and the hazard on is the same as one while turn is left. That
// drawing shows what the first contact might need besides.
func TestIdleTermIsFreed(t *testing.T) {
	p := newProblem(sidePod(), nil)
	off, on := uint64(0b01<<3), uint64(0b10<<3)
	left, notLeft := uint64(0b010), uint64(0b101)
	contact := throw(0, 1, 1, off)
	h := &hyp{atoms: []atom{contact, throw(0, 1, 0, left).narrowed(1, on)}}
	drawn := p.redrawn(h, 0)
	if len(drawn) != 1 || drawn[0][1] != throw(0, 1, 0, left) {
		t.Fatalf("drawn as %v", drawn)
	}
	p.eachSetting(func(s uint64) {
		if (&hyp{atoms: drawn[0]}).closed(1, 2, s) != h.closed(1, 2, s) {
			t.Errorf("the drawing is another map in %b", s)
		}
	})
	if !offers(p, h, &hyp{atoms: []atom{contact.narrowed(0, notLeft), throw(0, 1, 0, left)}}) {
		t.Error("the contact that needs turn off as well is no rival")
	}
	for _, other := range []atom{throw(0, 2, 1, off), throw(0, 1, 1, on), throw(0, 1, 0, left)} {
		if d := p.idleTerm(&h.atoms[1], &other); d >= 0 {
			t.Errorf("term %d says nothing beside %v", d, other)
		}
	}
}

// TestClaimsAreTurnedAgain: what was the cheapest map without a claim need not be so
// after further readings, so none is taken for turned round for good.
func TestClaimsAreTurnedAgain(t *testing.T) {
	w := simbench.Generate(5, simbench.Options{MinEnds: 5, MaxEnds: 6, MinSwitches: 2, MaxSwitches: 2})
	solver := newEngineSolver(w.Pod)
	simbench.Play(w, &simbench.Person{World: w, Leads: mapping.BunchLeads}, solver, simbench.Limits{})
	s := solver.e.now()
	if len(s.raw) <= lookAgain || len(s.claims()) == 0 {
		t.Fatalf("%d readings, %d claims", len(s.raw), len(s.claims()))
	}
	s.challenge(allLooks.claims)
	if s.challenge(allLooks.claims) {
		t.Error("claims are turned round for the first time twice")
	}
	stale := s.claims()[0]
	s.looks.turned[stale] = len(s.raw) - lookAgain
	s.challenge(1)
	if at := s.looks.turned[stale]; at != len(s.raw) {
		t.Errorf("a claim turned round %d readings ago is left at that", lookAgain)
	}
}

// TestLinksExchangeEnds: two switches whose outputs may be the other way round, where
// nothing was read that tells, are a rival as cheap as the best map.
func TestLinksExchangeEnds(t *testing.T) {
	seen := map[uint64]bool{}
	x, y := throw(0, 1, 0, 0b010), throw(2, 1, 1, 0b10<<3)
	eachExchange(x, y, func(x, y atom) { seen[drawing(&hyp{atoms: []atom{x, y}})] = true })
	if want := drawing(&hyp{atoms: []atom{throw(2, 1, 0, 0b010), throw(0, 1, 1, 0b10<<3)}}); len(seen) != 1 || !seen[want] {
		t.Errorf("links that share an end exchange to %v", seen)
	}
	clear(seen)
	eachExchange(x, throw(2, 3, 1, 0b10<<3), func(x, y atom) { seen[drawing(&hyp{atoms: []atom{x, y}})] = true })
	if len(seen) != 5 {
		t.Errorf("links that share no end exchange in %d ways, want each of four and both: %v", len(seen), seen)
	}
}

// TestLinksTradePositions: a bridge that may open in lights on, where another wire may
// take its place, is a rival: one bunch holds both ends. That wire may hang on either end
// of it.
func TestLinksTradePositions(t *testing.T) {
	p := newProblem(sidePod(), nil)
	bridge, contact := newAtom(0, 1), throw(1, 2, 0, 0b010)
	var got []uint64
	p.eachTrade(bridge, contact, func(x, y atom) { got = append(got, drawing(&hyp{atoms: []atom{x, y}})) })
	want := []uint64{
		drawing(&hyp{atoms: []atom{throw(0, 1, 0, 0b110), throw(1, 2, 0, 0b011)}}),
		drawing(&hyp{atoms: []atom{throw(0, 1, 0, 0b110), throw(0, 2, 0, 0b011)}}),
		drawing(&hyp{atoms: []atom{throw(0, 1, 0, 0b011), throw(1, 2, 0, 0b110)}}),
		drawing(&hyp{atoms: []atom{throw(0, 1, 0, 0b011), throw(0, 2, 0, 0b110)}}),
	}
	if !slices.Equal(got, want) {
		t.Errorf("a bridge trades with a contact in %d ways, want 4 others", len(got))
	}
	p.eachTrade(contact, bridge, func(atom, atom) { t.Error("a bridge took a position that it has") })
	p.eachTrade(contact, throw(0, 2, 0, 0b100), func(x, y atom) { t.Errorf("a contact was left nowhere: %v %v", x, y) })
}

// TestFreedAndElsewhere: a link that is drawn at the wrong end needs a switch more than
// the one that is there, and both are put right at once.
func TestFreedAndElsewhere(t *testing.T) {
	p := newProblem(sidePod(), nil)
	x := throw(0, 1, 0, 0b100)
	deep := x.narrowed(1, 0b10<<3)
	h := &hyp{atoms: []atom{deep}}
	p.score(h)
	want := drawing(&hyp{atoms: []atom{throw(0, 2, 0, 0b100)}})
	found := false
	p.eachChange(h, math.Inf(1), func(c *hyp) float64 {
		found = found || drawing(c) == want
		return math.Inf(1)
	})
	if !found {
		t.Error("a link of two switches did not become a contact at another end")
	}
}

// TestBridgeParts: a bridge may be a changeover of which one contact was missed.
func TestBridgeParts(t *testing.T) {
	p := newProblem(sidePod(), nil)
	off, on := uint64(0b01<<3), uint64(0b10<<3)
	for _, c := range []struct {
		from    atom
		x, more atom
	}{
		{newAtom(0, 1), throw(0, 1, 1, off), throw(0, 2, 1, on)},
		{newAtom(0, 1), throw(0, 1, 1, on), throw(1, 4, 1, off)},
		{newAtom(0, 1), throw(0, 1, 0, 0b101), throw(1, 2, 0, 0b010)},
		{throw(0, 1, 0, 0b110), throw(0, 1, 0, 0b100), throw(0, 3, 0, 0b010)},
	} {
		found := false
		p.eachParting(c.from, func(x, more atom) {
			found = found || x == c.x && more == c.more
			if x.ends != c.from.ends || more.ends&c.from.ends == 0 || more.ends == c.from.ends {
				t.Fatalf("%v parts into %v and %v", c.from, x, more)
			}
		})
		if !found {
			t.Errorf("%v does not part into %v and %v", c.from, c.x, c.more)
		}
	}
	p.eachParting(throw(0, 1, 1, on), func(x, more atom) { t.Errorf("a contact of one position parts into %v and %v", x, more) })
}
