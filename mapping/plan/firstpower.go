package plan

import (
	"fmt"
	"strings"
)

// seriesLampAmps is what a 12 V 21 W lamp in the main fuse's place lets
// through.
const seriesLampAmps = 1.75

// FirstPower is the order in which a proved harness gets current, with the
// amps to expect: within 25 %, and 10 % more for charging voltage.
func FirstPower(p Plan) []PowerStep {
	n := compile(&p, nil)
	f := gather(n)
	s := solveAll(f)
	b := &power{}
	b.step("Cold checks all ticked. Every way's fuse out, key off, everything plugged in. A 12 V 21 W lamp in place of the main fuse", "nothing lights", "stop and read the proof list again")
	b.step("Battery positive on, negative last", "lamp dark, less than 1 mA (5 mA with a clock or alarm)", "lamp bright: a short; dim: something draws with the key off")
	b.ways(&p, n, f, FromBattery)
	b.step("Key on", "lamp dark or a faint glow of relay coils", "lamp bright: a short on the ignition feed")
	b.ways(&p, n, f, FromIgnition)
	b.step(fmt.Sprintf("Key off, lamp out, main fuse of %s A in", trim(p.Supply.MainFuse)), "it holds", "a fuse that blows twice: stop, never a bigger one")
	for li, l := range n.loads {
		if l.load < 0 || s.loads[li] == nil || n.motor(l) {
			continue
		}
		fl := s.loads[li]
		hi, lo := max(fl.volts[l.plusP], fl.volts[l.minusP]), min(fl.volts[l.plusP], fl.volts[l.minusP])
		b.step(fmt.Sprintf("Volts lost at %s, switched on", l.name),
			fmt.Sprintf("plus side %s V or less, earth side %s V or less", trim(roundUp(1.25*(p.Volts-hi))), trim(roundUp(1.25*lo))), "a bad crimp, contact or earth on its path")
	}
	b.step("Ten minutes with the lights on, hand on every plug, fuse and relay", "none too hot to hold (about 50 C)", "a bad crimp or too thin a wire")
	b.step("Engine at a fast idle, volts at the battery", "13.5 to 14.5 V", "under: not charging; over: regulator")
	return b.out
}

type power struct{ out []PowerStep }

func (b *power) step(do, expect, bad string) {
	b.out = append(b.out, PowerStep{Number: len(b.out) + 1, Do: do, Expect: expect, Bad: bad})
}

func (b *power) ways(p *Plan, n *network, f *facts, feed Feed) {
	for i, w := range p.Block.Ways {
		if w.Feed != feed || len(f.loadsOf[i]) == 0 {
			continue
		}
		best, set, keep := f.wayAlone(i)
		do := fmt.Sprintf("Fuse of %s (%s A) in", w.Name, trim(w.Fuse))
		if len(keep) > 0 {
			do += "; leave in " + strings.Join(keep, " and ") + ", which work its relays"
		} else {
			do += "; the fuses of the other ways out again"
		}
		if set != "" {
			do += "; levers: " + set
		}
		expect := fmt.Sprintf("adds %s A (%s to %s)", trim(round(best, 2)), trim(round(0.75*best, 2)), trim(round(1.25*1.1*best, 2)))
		if best > seriesLampAmps {
			expect = fmt.Sprintf("lamp glows: the load draws more than it lets through. Then a fuse of %s A for the lamp: %s", trim(w.Fuse), expect)
		}
		b.out = append(b.out, PowerStep{Number: len(b.out) + 1, Do: do, Expect: expect, Amps: round(best, 3), Low: round(0.75*best, 3), High: round(1.25*1.1*best, 3),
			Bad: "more: a short or a load on the wrong way; less: a lamp or its earth is open"})
	}
}

// wayAlone is the most amps that a way's loads draw at once, in what levers,
// and which other ways must be live for it: those of its relays' coils.
func (f *facts) wayAlone(way int) (amps float64, set string, keep []string) {
	n := f.n
	sum := func(s *state) float64 {
		n.eval(s)
		total := 0.0
		for li, l := range n.loads {
			if f.ways[li]&(1<<way) != 0 && s.fed(l) && !n.motor(l) {
				total += n.amps(l)
			}
		}
		return total
	}
	var at []int
	for li, l := range n.loads {
		if f.best[li] == nil || f.ways[li]&(1<<way) == 0 || n.motor(l) {
			continue
		}
		s := newState(n)
		copy(s.set, f.best[li])
		if total := sum(s); total > amps+1e-9 {
			amps, at = total, f.best[li]
		}
	}
	if at == nil {
		return 0, "", nil
	}
	var only []int
	s := newState(n)
	copy(s.set, at)
	for i, sw := range n.switches {
		was := s.set[i]
		if s.set[i] = sw.rest; was != sw.rest && sum(s) < amps-1e-9 {
			only = append(only, i)
			s.set[i] = was
		}
	}
	sum(s)
	for wi, w := range n.ways {
		if wi == way || n.plan.Block.Ways[w.way].Feed != n.plan.Block.Ways[n.ways[way].way].Feed {
			continue
		}
		m := n.withoutWay(wi)
		off := newState(m)
		copy(off.set, s.set)
		m.eval(off)
		left := 0.0
		for li, l := range m.loads {
			if f.ways[li]&(1<<way) != 0 && off.fed(l) && !m.motor(l) {
				left += m.amps(l)
			}
		}
		if left < amps-1e-9 {
			keep = append(keep, n.plan.Block.Ways[w.way].Name)
		}
	}
	return amps, n.settingText(at, only), keep
}

// roundUp to a tenth of a volt, at least 0.1.
func roundUp(v float64) float64 {
	return max(0.1, round(v+0.049, 1))
}
