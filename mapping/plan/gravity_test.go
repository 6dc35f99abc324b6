package plan

import (
	"slices"
	"testing"
)

// A dead short stands before what follows from it, and no rule about amps or volts speaks of
// what flows into it.
func TestShortsComeFirst(t *testing.T) {
	for name, change := range map[string]func(p *Plan){
		"behind a contact": func(p *Plan) { p.link("PR.2", "E1", Loom) },
		"at a way":         func(p *Plan) { p.link("W1", "E1", Loom) },
		"at a feed":        func(p *Plan) { p.link("block.15", "E1", Loom) },
		"at the battery":   func(p *Plan) { p.link("battery.+", "E1", Loom) },
	} {
		p := fresh(heron(t))
		change(&p)
		found := Check(p)
		if len(found) == 0 || found[0].Kind != ShortToGnd {
			t.Errorf("%s: %v", name, briefly(found))
		}
		for _, f := range found {
			switch f.Kind {
			case UnfusedWire: // the starter's cables, since the short keeps it from turning
				if slices.Contains(starterCables, f.Where) {
					t.Errorf("%s: %s at %s: %s", name, f.Kind, f.Where, f.Say)
				}
			case DropHigh, EarthDrop, WireThin, WeakContact, MissingRelay, Overloaded:
				t.Errorf("%s: %s at %s: %s", name, f.Kind, f.Where, f.Say)
			}
		}
	}
}

// The order depends on the findings only.
func TestOrderOfFindings(t *testing.T) {
	p := fresh(heron(t))
	p.link("PR.2", "E1", Loom)
	p.link("W2", "W3", Loom)
	p.link("W4", "block.15", Loom)
	found := Check(p)
	var kinds []string
	for i, f := range found {
		if i > 0 && byGravity(found[i-1], f) >= 0 {
			t.Errorf("%v before %v", found[i-1], f)
		}
		kinds = append(kinds, f.Kind)
	}
	kinds = slices.Compact(kinds)
	if want := []string{ShortToGnd, TiedWays, Bypassed}; !slices.Equal(kinds[:3], want) {
		t.Errorf("%v", kinds)
	}
	slices.Sort(kinds)
	if len(slices.Compact(kinds)) != len(kinds) {
		t.Errorf("a kind comes twice: %v", kinds)
	}
}
