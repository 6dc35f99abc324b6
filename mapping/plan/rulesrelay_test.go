package plan

import (
	"slices"
	"strings"
	"testing"

	"bellout/mapping"
)

// A relay that names no contact rating is good for 30 A.
func TestStarterRelayRating(t *testing.T) {
	for _, c := range []struct {
		rating, motor float64
		found         bool
	}{{0, 25, false}, {0, 35, true}, {150, 100, false}, {90, 100, true}} {
		p := fresh(heron(t))
		for i := range p.Relays {
			if p.Relays[i].Name == "RS" {
				p.Relays[i].ContactAmps = c.rating
			}
		}
		for i := range p.Loads {
			if p.Loads[i].GroupOf() == Motor {
				p.Loads[i].Amps = c.motor
			}
		}
		got := slices.ContainsFunc(Check(p), func(f Finding) bool { return f.Kind == StarterPath && strings.HasSuffix(f.Where, "RS") })
		if got != c.found {
			t.Errorf("a relay of %v A and a motor of %v A: found %v", c.rating, c.motor, got)
		}
	}
}

// The metal of a pod is told by its kind, whatever it is called: its contacts are read
// before power as well.
func TestMetalByAnyName(t *testing.T) {
	p := Plan{Pods: []Pod{{Name: "kill", BodyTo: "E1", Desc: mapping.Pod{
		Name: "kill", Ends: []mapping.End{{ID: "1"}, {ID: "CASE", Kind: mapping.Body}},
		Switches: []mapping.Switch{{Name: "kill", Positions: []mapping.PositionID{"off", "run"}, Rest: "run"}},
	}, Map: mapping.Map{Links: []mapping.Link{{A: "1", B: "CASE", Grade: mapping.Proved,
		When: []mapping.Condition{{{Switch: "kill", Positions: []mapping.PositionID{"off"}}}}}}}}},
		Earths: []Earth{{Name: "E1", Main: true}},
		Wires:  []Wire{{Name: "w1", From: "kill.1", To: "box.+", MM2: 0.5, Length: 1}},
	}
	if !slices.ContainsFunc(ProofList(p), func(c ProofCheck) bool { return c.ID == "2-kill-1-CASE" }) {
		t.Error("the contact to the metal is not in the proof list")
	}
}
