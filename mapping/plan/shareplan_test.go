package plan

import (
	"slices"
	"strings"
	"testing"
)

// TestBestIsNeverWorseThanPlanned: by the plan's own rules and amps, whatever the plan.
func TestBestIsNeverWorseThanPlanned(t *testing.T) {
	sound := heron(t)
	plans := []Plan{sound}
	for i := range sound.Block.Ways { // each way's loads hung on another way too
		p := fresh(sound)
		p.rename(sound.Block.Ways[i].Name, sound.Block.Ways[(i+3)%len(sound.Block.Ways)].Name)
		plans = append(plans, p)
	}
	p := fresh(sound) // main and dip beam straight from the pod: never on together
	p.drop(func(w Wire) bool { return !strings.HasPrefix(w.From, "W3") })
	p.rename("RM.30", "RD.30")
	plans = append(plans, p)
	for i, p := range plans {
		for _, s := range ShareOut(p) {
			if len(s.Best.Broken) > s.Broken || len(s.Best.Broken) == s.Broken && round(s.Best.Fullest, 1) > round(s.Fullest, 1) {
				t.Errorf("plan %d: best breaks %v at %v A, planned %d at %v A", i, s.Best.Broken, s.Best.Fullest, s.Broken, s.Fullest)
			}
		}
	}
}

// TestCoilBesideIgnition: a relay's coil in the ignition's own circuit breaks no rule, in the
// search as in the check.
func TestCoilBesideIgnition(t *testing.T) {
	p := fresh(heron(t))
	p.Relays = append(p.Relays, Relay{Name: "RK", Suppressed: true})
	p.link("PE.1", "RK.86", Loom) // 15 behind the kill contact
	p.link("RK.85", "E1", Loom)
	s := ShareOut(p)[0]
	if s.Broken != 0 || len(s.Best.Broken) != 0 {
		t.Errorf("planned %d broken, best %v", s.Broken, s.Best.Broken)
	}
	i := slices.IndexFunc(s.Loads, func(l ShareLoad) bool { return l.Name == "RK coil" })
	if i < 0 || s.Loads[i].Circuit != "right.1" {
		t.Errorf("%+v", s.Loads)
	}
}

// TestBehindOneRelay: what hangs behind one relay's output goes together.
func TestBehindOneRelay(t *testing.T) {
	s := ShareOut(heron(t))[0]
	circuit := map[string]string{}
	for _, l := range s.Loads {
		circuit[l.Name] = l.Circuit
	}
	if circuit["headlamp main"] != "RM.30" || circuit["main telltale"] != "RM.30" || circuit["headlamp dip"] != "RD.30" || circuit["left front"] != "FL.49" || circuit["instruments"] != "" {
		t.Errorf("%v", circuit)
	}
}
