package plan

import (
	"fmt"
	"math"
	"strings"
)

// filamentExponent: a filament's resistance falls with its temperature, and its current goes
// about as the voltage to this power (common approximation, from memory).
const filamentExponent = 0.55

// alone is a way by itself at first power: what its loads draw at nominal voltage and behind
// the lamp, with what levers, and which other ways have to be in for it.
type alone struct {
	amps, series float64
	electronics  bool // a tenth of it and more has no current that can be told at part voltage
	outlet       bool // what it draws is what is plugged in
	cranks       bool
	levers       string
	keep         []string
}

func (b *power) ways(feed Feed) {
	for i, w := range b.p.Block.Ways {
		if w.Feed != feed || len(b.f.loadsOf[i]) == 0 {
			continue
		}
		a := b.f.wayAlone(i)
		do := fmt.Sprintf("Fuse of %s (%s A) in", w.Name, trim(w.Fuse))
		if len(a.keep) > 0 {
			do += "; leave in " + strings.Join(a.keep, " and ") + ", which it cannot do without; the fuses of all others out"
		} else {
			do += "; the fuses of the other ways out again"
		}
		if a.levers != "" {
			do += "; levers: " + a.levers
		}
		if a.cranks {
			do += ". THE START RELAY PULLS IN: see that the starter cable is off, out of gear, hands clear"
		}
		step := PowerStep{Number: len(b.out) + 1, Do: do, Bad: "more: a short or a load on the wrong way; less: a lamp or its earth is open"}
		amps := a.amps
		if !a.electronics && a.series >= 0.8*a.amps {
			amps = a.series
		}
		if amps > 0 {
			step.Amps, step.Low, step.High = round(amps, 3), round(0.75*amps, 3), round(1.25*1.1*amps, 3)
			step.Expect = fmt.Sprintf("adds %s A (%s to %s)", trim(round(amps, 2)), trim(round(step.Low, 2)), trim(round(step.High, 2)))
		}
		switch {
		case amps == 0 && a.outlet:
			step.Expect = "lamp dark: the socket draws what is plugged into it, and nothing is"
			step.Bad = "lamp glows: a short, or a load on the wrong way"
		case a.electronics:
			step.Expect = "lamp may glow, electronics may not start behind it. Then a fuse of " + trim(w.Fuse) + " A for the lamp: " + step.Expect + "; the lamp back in"
		case amps == a.amps && a.series < 0.8*a.amps:
			chatter := ""
			if len(a.keep) > 0 {
				chatter = ", and a relay may chatter"
			}
			step.Expect = fmt.Sprintf("lamp glows, it lets about %s A through%s. Then a fuse of %s A for the lamp: %s; the lamp back in", trim(round(a.series, 1)), chatter, trim(w.Fuse), step.Expect)
		}
		b.out = append(b.out, step)
	}
}

// busHolders are the battery's ways without which the ignition feed stays dead.
func (b *power) busHolders() []string {
	var out []string
	for i, w := range b.p.Block.Ways {
		if w.Feed != FromIgnition || len(b.f.loadsOf[i]) == 0 {
			continue
		}
		for _, name := range b.f.wayAlone(i).keep {
			for _, o := range b.p.Block.Ways {
				if o.Name == name && o.Feed == FromBattery && b.holdsBus(i, name) {
					out = append(out, name)
				}
			}
		}
		break
	}
	return out
}

// holdsBus tells whether a way's bus is dead without another way.
func (b *power) holdsBus(way int, name string) bool {
	for wi, w := range b.n.ways {
		if b.p.Block.Ways[w.way].Name != name {
			continue
		}
		m := b.n.withoutWay(wi)
		s := newState(m)
		for li := range b.n.loads {
			if b.f.ways[li]&(1<<way) != 0 && b.f.best[li] != nil {
				copy(s.set, b.f.best[li])
			}
		}
		m.eval(s)
		return !s.live[s.root[b.n.ways[way].bus]]
	}
	return false
}

// wayAlone finds the most amps that a way's loads draw at once, in a setting that does not
// crank the engine if there is one.
func (f *facts) wayAlone(way int) alone {
	n := f.n
	mine := func(li int) bool { return f.ways[li]&(1<<way) != 0 && !n.motor(n.loads[li]) }
	sum := func(m *network, s *state) float64 {
		m.eval(s)
		total := 0.0
		for li, l := range m.loads {
			if mine(li) && s.fed(l) {
				total += m.amps(l)
			}
		}
		return total
	}
	cranks := func(s *state) bool {
		for _, l := range n.loads {
			if n.motor(l) && s.fed(l) {
				return true
			}
		}
		return false
	}
	var a alone
	most, at := 0.0, []int(nil)
	s := newState(n)
	for li := range n.loads {
		if f.best[li] == nil || !mine(li) {
			continue
		}
		copy(s.set, f.best[li])
		total := sum(n, s)
		if c := cranks(s); at == nil || a.cranks && !c || a.cranks == c && total > most+1e-9 {
			most, a.cranks, at = total, c, f.best[li]
		}
	}
	if at == nil {
		return a
	}
	var only []int
	copy(s.set, at)
	for i, sw := range n.switches {
		was := s.set[i]
		if s.set[i] = sw.rest; was != sw.rest && sum(n, s) < most-1e-9 {
			only = append(only, i)
			s.set[i] = was
		}
	}
	sum(n, s)
	a.levers, a.series = n.settingText(at, only), f.behindLamp(mine, s)
	blind := 0.0
	for li, l := range n.loads {
		switch {
		case !mine(li) || !s.fed(l):
		case f.outlet(l):
			a.outlet = true
		default:
			a.amps += n.amps(l)
			if l.led {
				blind += n.amps(l)
			}
		}
	}
	a.electronics = blind > 0 && blind >= 0.1*a.amps
	for wi, w := range n.ways {
		if wi == way {
			continue
		}
		m := n.withoutWay(wi)
		off := newState(m)
		copy(off.set, s.set)
		if sum(m, off) < most-1e-9 || !off.live[off.root[n.ways[way].bus]] {
			a.keep = append(a.keep, n.plan.Block.Ways[w.way].Name)
		}
	}
	return a
}

// behindLamp is what flows through the lamp and those loads behind it that are fed in a state:
// the current at which lamp and loads share the battery's voltage.
func (f *facts) behindLamp(mine func(int) bool, s *state) float64 {
	n := f.n
	_, lamp := n.plan.SeriesLamp()
	draw := func(share float64) float64 { // at a share of nominal voltage
		total := 0.0
		for li, l := range n.loads {
			if !mine(li) || !s.fed(l) || f.outlet(l) {
				continue
			}
			if l.load >= 0 && n.plan.Loads[l.load].filament() {
				total += n.amps(l) * math.Pow(share, filamentExponent)
			} else {
				total += n.amps(l) * share
			}
		}
		return total
	}
	lo, hi := 0.0, 1.0
	for range 40 {
		mid := (lo + hi) / 2
		if draw(mid) > lamp*math.Pow(1-mid, filamentExponent) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return draw(lo)
}

// outlet tells whether a load draws what is plugged into it.
func (f *facts) outlet(l loadEdge) bool {
	return l.load >= 0 && f.n.plan.Loads[l.load].Kind == usbSocket
}
