package plan

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// stepOf is the step of first power that puts a way's fuse in.
func stepOf(t *testing.T, p Plan, way string) PowerStep {
	t.Helper()
	for _, s := range FirstPower(p) {
		if strings.HasPrefix(s.Do, "Fuse of "+way+" (") {
			return s
		}
	}
	t.Fatalf("no step for %s", way)
	return PowerStep{}
}

// TestFirstPowerLeavesInWhatItNeeds: the way that works the ignition relay stays in while the
// ignition's ways are tried, and a way that works a relay's coil with it.
func TestFirstPowerLeavesInWhatItNeeds(t *testing.T) {
	p := heron(t)
	for _, w := range p.Block.Ways {
		s := stepOf(t, p, w.Name)
		if left := strings.Contains(s.Do, "leave in W9") || strings.Contains(s.Do, "leave in W2 and W9"); left != (w.Feed == FromIgnition) {
			t.Errorf("%s: %s", w.Name, s.Do)
		}
	}
	if s := stepOf(t, p, "W3"); !strings.Contains(s.Do, "leave in W2 and W9") {
		t.Errorf("W3 works by a relay whose coil hangs on W2: %s", s.Do)
	}
	if !slices.ContainsFunc(FirstPower(p), func(s PowerStep) bool { return s.Do == "Fuse of W9 in, key on" }) {
		t.Error("the key is turned on with the way out that works the ignition relay")
	}
}

// TestFirstPowerDoesNotCrank: no setting that turns the starter where another will do; where
// none will, it is said first that the relay pulls in. The cable is off in any case.
func TestFirstPowerDoesNotCrank(t *testing.T) {
	p := heron(t)
	const warned = "THE START RELAY PULLS IN"
	for _, s := range FirstPower(p) {
		if strings.HasPrefix(s.Do, "Fuse") && strings.Contains(s.Do, "start=in") || strings.Contains(s.Do, warned) {
			t.Errorf("step %d: %s", s.Number, s.Do)
		}
	}
	at := func(what string) int {
		return slices.IndexFunc(FirstPower(p), func(s PowerStep) bool { return strings.Contains(s.Do, what) })
	}
	if off, on := at("Starter cable off"), at("Battery positive on"); off < 0 || off > on {
		t.Errorf("starter cable off at step %d, battery on at %d", off, on)
	}
	p.Loads = slices.DeleteFunc(p.Loads, func(l Load) bool { return l.Name == "ignition box" })
	p.drop(func(w Wire) bool {
		return !strings.HasPrefix(w.From, "ignition box.") && !strings.HasPrefix(w.To, "ignition box.")
	})
	if s := stepOf(t, p, "W1"); !strings.Contains(s.Do, warned) || !strings.Contains(s.Do, "start=in") {
		t.Errorf("the starter relay alone on W1: %s", s.Do)
	}
}

// TestSeriesLamp: two equal lamps share the battery's voltage, and each passes 1.75 A times
// half to the power of 0.55, which is 1.195 A; with nothing to speak of behind it the lamp
// takes next to nothing. What is asked for at each step is what flows.
func TestSeriesLamp(t *testing.T) {
	p := heron(t)
	f := gather(compile(&p, nil))
	if a := f.wayAlone(5); math.Abs(a.series-1.195) > 0.005 || math.Abs(a.amps-1.75) > 1e-9 { // W6, a brake lamp of 21 W
		t.Errorf("behind the lamp flow %.3f A of %.3f, want 1.195 of 1.75", a.series, a.amps)
	}
	if a := f.wayAlone(8); a.series < 0.95*a.amps || a.series > a.amps { // W9, a relay coil
		t.Errorf("behind the lamp flow %.3f A of %.3f", a.series, a.amps)
	}
	for i := range p.Loads {
		if p.Loads[i].Name == "main telltale" {
			p.Loads[i].Kind = "warning lamp led"
		}
	}
	if s := stepOf(t, p, "W3"); !strings.Contains(s.Expect, "about 1.6 A") {
		t.Errorf("a telltale's little electronics hide what the headlamp draws: %s", s.Expect)
	}
	if s := stepOf(t, p, "W8"); !strings.Contains(s.Expect, "electronics may not start") {
		t.Errorf("instruments: %s", s.Expect)
	}
	if s := stepOf(t, p, "W6"); !strings.Contains(s.Expect, "about 1.2 A") || !strings.Contains(s.Expect, "fuse of 3 A for the lamp") || s.Amps != 1.75 {
		t.Errorf("W6: %v %s", s.Amps, s.Expect)
	}
}

// TestFirstPowerOfASocket: a socket draws what is plugged in, and nothing is.
func TestFirstPowerOfASocket(t *testing.T) {
	if s := stepOf(t, heron(t), "W10"); s.Amps != 0 || !strings.Contains(s.Expect, "lamp dark") {
		t.Errorf("%v A: %s", s.Amps, s.Expect)
	}
}

// TestFirstPowerTriesTheLocks: each switch that has a say in ignition and starter is tried by
// itself, with the others such that it decides.
func TestFirstPowerTriesTheLocks(t *testing.T) {
	p := heron(t)
	var got []string
	for _, s := range FirstPower(p) {
		if strings.HasPrefix(s.Expect, "0 V") {
			got = append(got, s.Do)
		}
	}
	const on = "Volts at the end of the starter cable; levers: "
	want := []string{
		"Volts at ignition box; levers: barrel.key=lock|off, right.kill=run",
		"Volts at ignition box; levers: barrel.key=on, right.kill=off",
		on + "barrel.key=lock|off, right.kill=run, right.start=in, clutch.lever=pulled",
		on + "barrel.key=on, right.kill=off, right.start=in, clutch.lever=pulled",
		on + "barrel.key=on, right.kill=run, right.start=out, clutch.lever=pulled",
		on + "barrel.key=on, right.kill=run, right.start=in, clutch.lever=released",
	}
	if !slices.Equal(got, want) {
		t.Errorf("tried:\n%s\nwant:\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	// in gear with the clutch out, or in neutral: neither alone says anything
	for i := range p.Loads {
		if p.Loads[i].Name == "starter" {
			p.Loads[i].Works = []string{"right.start=in, clutch.lever=pulled", "right.start=in, neutral.gear=neutral"}
		}
	}
	got = nil
	for _, s := range FirstPower(p) {
		if strings.HasPrefix(s.Do, on) && strings.HasPrefix(s.Expect, "0 V") {
			got = append(got, strings.TrimPrefix(s.Do, on))
		}
	}
	if want := []string{"right.start=out, clutch.lever=released, neutral.gear=neutral", "right.start=in, clutch.lever=released, neutral.gear=in gear"}; !slices.Equal(got, want) {
		t.Errorf("tried %q, want %q", got, want)
	}
}
