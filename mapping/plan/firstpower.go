package plan

import (
	"fmt"
	"slices"
	"strings"
)

// FirstPower is the order in which a proved harness gets current, with the
// amps to expect: within 25 %, and 10 % more for charging voltage.
func FirstPower(p Plan) []PowerStep {
	p = withSizes(p)
	n := compile(&p, nil)
	f := gather(n)
	s := solveAll(f)
	b := &power{p: &p, n: n, f: f}
	lamp, _ := p.SeriesLamp()
	b.step("Cold checks all ticked. Every way's fuse out, key off, everything plugged in. A "+lamp+" in place of the main fuse", "nothing lights", "stop and read the proof list again")
	motor := slices.ContainsFunc(n.loads, n.motor)
	if motor {
		b.step("Starter cable off the motor, its lug wrapped. Out of gear, hands clear of wheel and chain", "the motor cannot turn", "a start relay that pulls in by mistake cranks the engine")
	}
	b.step("Battery positive on, negative last", "lamp dark, less than 1 mA (5 mA with a clock or alarm)", "lamp bright: a short; dim: something draws with the key off")
	b.ways(FromBattery)
	keyOn := "Key on"
	if holders := b.busHolders(); len(holders) > 0 {
		keyOn = "Fuse of " + strings.Join(holders, " and ") + " in, key on"
	}
	b.step(keyOn, "lamp dark or a faint glow of relay coils", "lamp bright: a short on the ignition feed")
	b.ways(FromIgnition)
	b.step(fmt.Sprintf("Key off, lamp out, main fuse of %s A and every way's fuse in", trim(p.Supply.MainFuse)), "they hold", "a fuse that blows twice: stop, never a bigger one")
	b.locks()
	for li, l := range n.loads {
		if l.load >= 0 && s.loads[li] != nil && !n.motor(l) {
			b.lost(l, s.loads[li], s.states[li])
		}
	}
	b.step("Ten minutes with the lights on, hand on every plug, fuse and relay", "none too hot to hold (about 50 C)", "a bad crimp or too thin a wire")
	if motor {
		b.step("Key off, battery negative off, starter cable back on the motor, negative on again. Out of gear: start", "the engine turns", "a start circuit that works at the cable's end and not here: cable, lug or motor")
	}
	b.step("Engine at a fast idle, volts at the battery", p.ChargingVolts(), "under: not charging; over: regulator")
	return b.out
}

type power struct {
	p   *Plan
	n   *network
	f   *facts
	out []PowerStep
}

func (b *power) step(do, expect, bad string) {
	b.out = append(b.out, PowerStep{Number: len(b.out) + 1, Do: do, Expect: expect, Bad: bad})
}

// lost asks for the volts lost before and behind a load: a quarter more than was worked out,
// what its diodes take for themselves, and on the earth side no more than the check allows.
func (b *power) lost(l loadEdge, fl *flowing, s *state) {
	hi, lo := max(fl.volts[l.plusP], fl.volts[l.minusP]), min(fl.volts[l.plusP], fl.volts[l.minusP])
	plus, earth := roundUp(1.25*(b.p.nominal()-hi)), roundUp(1.25*lo)
	if b.n.duty(l) != Peak {
		earth = min(earth, b.p.EarthVolts())
	}
	before, behind := b.n.diodesOf(s, l)
	say := func(volts float64, diodes int) string {
		if diodes == 0 {
			return trim(volts) + " V or less"
		}
		return trim(round(volts+diodeVolts*float64(diodes), 1)) + " V or less (0.5 to 0.8 V of it in " + manyDiodes(diodes) + ")"
	}
	b.step(fmt.Sprintf("Volts lost at %s, switched on", l.name),
		"plus side "+say(plus, before)+", earth side "+say(earth, behind), "a bad crimp, contact or earth on its path")
}

// roundUp to a tenth of a volt, at least 0.1.
func roundUp(v float64) float64 {
	return max(0.1, round(v+0.049, 1))
}
