package plan

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// Source: the constant of IEC 60949 (from memory) is that of copper which keeps all its
// heat, K = sqrt(Q (20 + B) / r): r and B of IEC 60028 (copper_constants.csv), Q = 3.45 J/K
// for each cubic centimetre (density 8.96 g/cm3 times 0.385 J/(g K), handbook values).
func TestShortTimeConstant(t *testing.T) {
	rho := 0.0
	for _, r := range csvTable(t, "copper_constants.csv") {
		if strings.HasPrefix(r["quantity"], "resistivity of standard annealed") {
			rho = num(t, r["value"])
		}
	}
	want := math.Sqrt(8.96 * 0.385 * 1e-3 * 254.5 / (rho / 1000)) // A s^0.5/mm2
	from, to := 20.0, 120.0
	got := ShortTimeAmps(1, from, to, 1) / math.Sqrt(math.Log((to+234.5)/(from+234.5)))
	if math.Abs(got-want) > 0.01*want {
		t.Errorf("K is %.1f, copper asks for %.1f", got, want)
	}
	// By small steps of time: the same heat makes the wire just as warm.
	at, dt := 60.0, 1e-3
	amps := ShortTimeAmps(6, 60, 105, 30)
	for range int(30 / dt) {
		r := rho / 1000 * (234.5 + at) / 254.5              // ohm mm
		at += amps * amps * r / 36 * dt / (8.96 * 0.385e-3) // K
	}
	if math.Abs(at-105) > 1 {
		t.Errorf("%.1f A bring 6 mm2 from 60 C to %.1f C in 30 s, not to 105", amps, at)
	}
	for _, bad := range []float64{ShortTimeAmps(6, 105, 105, 30), ShortTimeAmps(6, 110, 105, 30), ShortTimeAmps(6, 60, 105, 0)} {
		if bad != 0 {
			t.Errorf("%v A where nothing may flow", bad)
		}
	}
}

// starterCables are the example's wires between battery, relay and motor.
var starterCables = []string{"w12", "w13", "w14"}

func sized(p Plan, mm2 float64) Plan {
	p.Wires = slices.Clone(p.Wires)
	for i := range p.Wires {
		if slices.Contains(starterCables, p.Wires[i].Name) {
			p.Wires[i].MM2 = mm2
		}
	}
	return p
}

// TestStarterCables: the thickest wires of a machine are sized by what the motor draws,
// there and back.
func TestStarterCables(t *testing.T) {
	say := func(p Plan, kind, where string) string {
		for _, f := range Check(p) {
			if f.Kind == kind && f.Where == where {
				return f.Say
			}
		}
		return ""
	}
	for _, name := range starterCables {
		for _, thin := range []float64{0.5, 2.5, 4} {
			if got := say(sized(heron(t), thin), WireThin, name); !strings.Contains(got, " A while the starter turns") || !strings.Contains(got, "take 16 mm2") {
				t.Errorf("%s of %v mm2: %q", name, thin, got)
			}
		}
		if got := say(sized(heron(t), 16), WireThin, name); got != "" {
			t.Errorf("%s of 16 mm2: %q", name, got)
		}
		if got := say(sized(heron(t), 0), NoSize, name); !strings.Contains(got, "16 mm2 would do") {
			t.Errorf("%s of no size: %q", name, got)
		}
	}
	for _, w := range Fill(sized(heron(t), 0)).Wires {
		if slices.Contains(starterCables, w.Name) && w.MM2 != 16 {
			t.Errorf("%s is worked out at %v mm2", w.Name, w.MM2)
		}
	}
	// Without its strap the motor returns over the frame and the thin main earth.
	bare := heron(t)
	bare.Wires = slices.DeleteFunc(slices.Clone(bare.Wires), func(w Wire) bool { return w.Name == "w12" })
	if !slices.ContainsFunc(Check(bare), func(f Finding) bool { return f.Kind == WireThin && strings.Contains(f.Say, "while the starter turns") }) {
		t.Error("nothing is said of a starter that returns through a thin earth wire")
	}
}

// TestOnlyStarterCablesCrank: what the ignition and the lamps carry while the starter turns
// asks for no starter cable, whatever the cables lose.
func TestOnlyStarterCablesCrank(t *testing.T) {
	p := sized(heron(t), 1)
	for i, w := range p.Wires {
		if !slices.Contains(starterCables, w.Name) {
			p.Wires[i].MM2 = 0
		}
	}
	for _, w := range Work(p).Wires {
		if w.Cranking && w.Amps < 50 && !slices.Contains(starterCables, w.Name) { // the motor draws 100 A, and comes back by two wires
			t.Errorf("%s carries %v A while the starter turns: %s", w.Name, w.Amps, w.Reason)
		}
	}
}
