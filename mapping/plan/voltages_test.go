package plan

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// rated is the Heron with all of its electrics made for another voltage.
func rated(t *testing.T, volts float64) Plan {
	p := fresh(heron(t))
	p.Volts = volts
	return p
}

// A 6 V battery charged to 14 V is destroyed: every figure is the machine's own.
func TestFiguresAreOfTheMachinesVoltage(t *testing.T) {
	for _, c := range []struct {
		volts                 float64
		rest, charging, run   string
		lamp                  string
		lets, earth, horn, of float64
	}{
		{6, "6.2 V", "6.75 to 7.25 V", "at 6.9 V", "6 V 21 W lamp", 3.5, 0.1, 5, 21.3},
		{12, "12.4 V", "13.5 to 14.5 V", "at 13.8 V", "12 V 21 W lamp", 1.75, 0.2, 2.5, 85},
		{24, "24.8 V", "27 to 29 V", "at 27.6 V", "24 V 21 W lamp", 0.875, 0.4, 1.25, 340},
		{48, "49.6 V", "54 to 58 V", "at 55.2 V", "row of 4 lamps of 12 V 21 W", 1.75, 0.8, 0.625, 1360},
	} {
		p := rated(t, c.volts)
		steps := FirstPower(p)
		if last := steps[len(steps)-1]; last.Expect != c.charging || p.ChargingVolts() != c.charging || p.RestVolts() != c.rest {
			t.Errorf("%v V: charging %q and %q, rest %q", c.volts, last.Expect, p.ChargingVolts(), p.RestVolts())
		}
		if name, amps := p.SeriesLamp(); name != c.lamp || math.Abs(amps-c.lets) > 1e-9 || !strings.Contains(steps[0].Do, "A "+name+" in place") {
			t.Errorf("%v V: lamp %q, %v A: %s", c.volts, name, amps, steps[0].Do)
		}
		w := Work(p)
		if !strings.Contains(w.Charging.Say, c.run) || !slices.ContainsFunc(w.Reasons, func(s string) bool { return strings.Contains(s, "Running "+c.run) }) {
			t.Errorf("%v V: %s; %v", c.volts, w.Charging.Say, w.Reasons)
		}
		horn := w.Loads[slices.IndexFunc(w.Loads, func(l WorkedLoad) bool { return l.Name == "horn" })]
		if horn.Amps != c.horn || p.EarthVolts() != c.earth {
			t.Errorf("%v V: a horn of 30 W draws %v A; earth side %v V", c.volts, horn.Amps, p.EarthVolts())
		}
		if got := p.Coil(Relay{}); got != c.of || p.Coil(Relay{CoilOhms: 7}) != 7 {
			t.Errorf("%v V: a coil of %v ohm", c.volts, got)
		}
	}
}

// Behind a diode a right harness reads the diode's own volts too.
func TestVoltsLostBehindADiode(t *testing.T) {
	number := regexp.MustCompile(`(plus|earth) side ([0-9.]+) V`)
	read := func(p Plan) map[string]float64 {
		out := map[string]float64{}
		for _, s := range FirstPower(p) {
			if strings.HasPrefix(s.Do, "Volts lost at lamp,") {
				for _, m := range number.FindAllStringSubmatch(s.Expect, -1) {
					out[m[1]], _ = strconv.ParseFloat(m[2], 64)
				}
			}
		}
		return out
	}
	for _, behind := range []bool{false, true} {
		p := interlocked(t, behind, "watts = 3")
		in, out := read(p)["plus"], read(p)["earth"]
		if behind {
			in, out = out, in
		}
		if in < 0.9 || in > 1.3 || out > 0.3 {
			t.Errorf("behind %v: %v", behind, read(p))
		}
		if l := Work(p).Loads[0]; l.Diodes != 1 {
			t.Errorf("%d diodes", l.Diodes)
		}
	}
}

// What first power lets the earth side lose is what the check lets it lose.
func TestFirstPowerEarthSideIsTheChecks(t *testing.T) {
	number := regexp.MustCompile(`earth side ([0-9.]+) V`)
	p := heron(t)
	for i, w := range p.Wires { // a long earth of the front, just within the check
		if w.From == "PF.1" || w.To == "PF.1" {
			p.Wires[i].Length *= 1.4
		}
	}
	for _, s := range FirstPower(p) {
		if m := number.FindStringSubmatch(s.Expect); m != nil {
			if v, _ := strconv.ParseFloat(m[1], 64); v > p.EarthVolts()+1e-9 {
				t.Errorf("%s: %s", s.Do, s.Expect)
			}
		}
	}
}
