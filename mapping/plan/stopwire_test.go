package plan

import (
	"slices"
	"strings"
	"testing"
)

// magnetoOn gives the plan an ignition that makes its own current, stopped by a button that
// earths it.
func magnetoOn(p Plan) Plan {
	p = fresh(p)
	p.Pods = append(p.Pods, Pod{Name: "stop", Module: "left pod", BodyTo: "E1",
		Switches: []InlineSwitch{{Name: "kill", Positions: []string{"out", "in"}, Rest: "out", Momentary: true}},
		Contacts: []InlineContact{{Join: []string{"1", "BODY"}, When: "kill=in", Grade: "proved"}}, Ends: []string{"1", "BODY"}, WireMM2: 0.5})
	pod := &p.Pods[len(p.Pods)-1]
	pod.Desc, pod.Map, _ = pod.inline()
	p.Loads = append(p.Loads, Load{Name: "magneto", Module: "engine", Kind: magneto, Works: []string{"stop.kill=out"}})
	p.link("magneto.+", "PE.5", "engine")
	p.link("magneto.-", "PE.8", "engine")
	p.link("PE.8", "E2", Loom)
	p.link("PE.5", "PL.6", Loom)
	p.link("PL.6", "stop.1", "left pod")
	return p
}

// TestStopWire: an ignition that earthing stops is fed by nothing and runs unless the kill
// contact is closed; a stop wire that is fed, missing or at earth for good is found.
func TestStopWire(t *testing.T) {
	sound := magnetoOn(heron(t))
	about := func(p Plan) (out []string) {
		for _, f := range Check(p) {
			if f.Where == "magneto" {
				out = append(out, f.Kind+": "+f.Setting)
			}
		}
		return out
	}
	if got := about(sound); len(got) != 0 {
		t.Errorf("of a sound stop wire: %q", got)
	}
	for name, c := range map[string]struct {
		change func(*Plan)
		want   []string
	}{
		"fed":      {func(p *Plan) { p.link("W8", "PE.5", Loom) }, []string{"stop-wire-fed: barrel.key=on"}},
		"missing":  {func(p *Plan) { p.drop(func(w Wire) bool { return w.To != "stop.1" }) }, []string{"not-as-meant: stop.kill=in"}},
		"at earth": {func(p *Plan) { p.link("PE.5", "E1", Loom) }, []string{"not-as-meant: stop.kill=out"}},
		"unsaid":   {func(p *Plan) { p.Loads[len(p.Loads)-1].Works = nil }, []string{"no-purpose: "}},
	} {
		p := fresh(sound)
		c.change(&p)
		if got := about(p); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
	if !slices.ContainsFunc(ProofList(sound), func(c ProofCheck) bool { return c.ID == "3-magneto" && c.Set == "stop.kill=out" }) {
		t.Error("the stop wire is not read")
	}
	if slices.ContainsFunc(FirstPower(sound), func(s PowerStep) bool { return strings.Contains(s.Do, "magneto") }) {
		t.Error("volts are asked for at a stop wire")
	}
}

// TestNoBattery: one finding says that nothing is checked, in place of one for every load.
func TestNoBattery(t *testing.T) {
	p := fresh(heron(t))
	p.drop(func(w Wire) bool { return w.From != "battery.+" && w.To != "battery.+" })
	if fs := Check(p); len(fs) != 1 || fs[0].Kind != NoBattery {
		t.Errorf("%v", fs)
	}
	text := strings.Replace(string(Write(heron(t))), `battery = "lead"`, `battery = "none"`, 1)
	if _, err := Read("plan.toml", []byte(text), openExample); err == nil || !strings.Contains(err.Error(), "draw one where the capacitor is") {
		t.Errorf("%v", err)
	}
}
