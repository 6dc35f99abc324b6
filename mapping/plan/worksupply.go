package plan

import (
	"fmt"
)

// workMain works out what the main fuse and the ignition contact carry.
func workMain(p *Plan, s *solved) WorkedMain {
	f := s.f
	m := WorkedMain{Fuse: p.Supply.MainFuse, Peak: round(f.totalAll, 3), Contact: round(s.key, 3)}
	if f.total != nil {
		m.Steady = round(f.steadyTotal(), 3)
	}
	m.Proposed = proposeFuse(m.Steady, m.Peak, 0)
	for _, w := range p.Block.Ways {
		if m.Proposed > 0 { // else no fuse holds, and the largest way's would not either
			m.Proposed = max(m.Proposed, w.Fuse)
		}
	}
	if m.Fuse == 0 {
		m.Fuse = m.Proposed
	}
	m.Reasons = append(m.Reasons, fmt.Sprintf("%s A steady and %s A with everything on: %s.", trim(round(m.Steady, 1)), trim(round(m.Peak, 1)), propose(m.Proposed, "%s A is the smallest main fuse that holds", "no blade fuse holds that")),
		fmt.Sprintf("The barrel's own contact carries %s A.", trim(round(m.Contact, 2))),
		"The main fuse sits within 200 mm of the battery (common practice 150 to 200 mm; 33 CFR 183.455(b): 178 mm).")
	return m
}

// steadyTotal is the most steady amps that flow at once.
func (f *facts) steadyTotal() float64 {
	n := f.n
	best := 0.0
	for li := range n.loads {
		if f.best[li] == nil || n.motor(n.loads[li]) {
			continue
		}
		s := n.stateIn(f.best[li])
		sum := 0.0
		for _, l := range n.loads {
			if s.fed(l) && n.duty(l) == Steady && n.held(s.set) == 0 {
				sum += n.amps(l)
			}
		}
		best = max(best, sum)
	}
	return best
}

func workCharging(p *Plan, f *facts) WorkedCharging {
	c := WorkedCharging{Alternator: p.Supply.AlternatorWatts, SteadyWatts: round(f.steadyTotal()*p.runVolts(), 1)}
	if c.Alternator == 0 {
		c.Say = "No alternator is named: the battery alone feeds everything."
		return c
	}
	c.Spare = round(c.Alternator-c.SteadyWatts, 1)
	amps := p.alternatorAmps()
	c.FuseLow, c.FuseHigh = round(1.25*amps, 1), round(1.5*amps, 1)
	c.Say = fmt.Sprintf("%s W run on of %s W at %s V: %s W to spare for the battery. Charging fuse %s to %s A (alternator amps times 1.25 to 1.5).",
		trim(round(c.SteadyWatts, 0)), trim(c.Alternator), trim(p.runVolts()), trim(round(c.Spare, 0)), trim(c.FuseLow), trim(c.FuseHigh))
	if c.Spare < 0 {
		c.Say = fmt.Sprintf("%s W run on but the alternator gives %s W: the battery goes flat on the road. Fit smaller loads.", trim(round(c.SteadyWatts, 0)), trim(c.Alternator))
	}
	return c
}

// alternatorAmps is the most that the alternator gives, at nominal volts.
func (p *Plan) alternatorAmps() float64 { return p.Supply.AlternatorWatts / p.Volts }

// chargingPoints are the points between alternator and battery, there and back, by
// the shortest way with everything at rest.
func (n *network) chargingPoints() map[int]bool {
	out := map[int]bool{}
	links := n.links(n.restState(), false)
	for _, way := range [][2]string{{"alternator.+", "battery.+"}, {"alternator.-", "battery.-"}} {
		from, ok := n.at[way[0]]
		to, there := n.at[way[1]]
		if !ok || !there {
			continue
		}
		for _, i := range walk(links, from, func(i int) bool { return i == to }) {
			out[i] = true
		}
	}
	return out
}
