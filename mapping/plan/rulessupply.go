package plan

import (
	"strings"

	"bellout/mapping"
)

// chargeRules checks alternator, its fuse and its way to the battery.
func chargeRules(p *Plan, n *network, w Worked, add adder) {
	c := w.Charging
	if c.Alternator == 0 {
		return
	}
	if c.Spare < 0 {
		add(ChargeBalance, "alternator", "%s", c.Say)
	}
	low, ok := nextRating(c.FuseLow)
	switch {
	case p.Supply.ChargeFuse == 0:
		add(ChargeFuse, "charge", "the charging wire has no fuse: %s", propose(low, "put one of %s A near the battery", noChargeFuse))
	case p.Supply.ChargeFuse < c.FuseLow || ok && p.Supply.ChargeFuse > max(c.FuseHigh, low):
		add(ChargeFuse, "charge", "the charging fuse is %s A, and %s W at %s V ask for %s to %s A: %s", trim(p.Supply.ChargeFuse), trim(c.Alternator), trim(p.Volts), trim(c.FuseLow), trim(c.FuseHigh), propose(low, "take %s A", noChargeFuse))
	case p.Supply.ChargeFuseMM > 200:
		add(ChargeFuse, "charge", "the charging fuse is %s mm of wire away from the battery: move it within 200 mm", trim(p.Supply.ChargeFuseMM))
	}
	from, okF := n.at["alternator.+"]
	if !okF {
		add(ChargePath, "alternator", "the alternator is not wired: wire alternator.+ through charge.in and charge.out to battery.+, and alternator.- to battery.-")
		return
	}
	links := n.links(n.restState(), false)
	path := n.say(walk(links, from, func(i int) bool { return i == n.at["battery.+"] }))
	through := strings.Join(path, " ")
	switch {
	case path == nil:
		add(ChargePath, "alternator", "the alternator does not reach the battery: wire alternator.+ through charge.in and charge.out to battery.+")
	case !strings.Contains(through, "charge.in"):
		add(ChargePath, "alternator", "the alternator reaches the battery around its fuse (%s): wire it through charge.in and charge.out", through)
	case strings.Contains(through, "main.") || strings.Contains(through, "block."):
		add(ChargePath, "alternator", "the alternator charges through main fuse or block (%s): give it its own way to the battery", through)
	}
	if minus, ok := n.at["alternator.-"]; !ok || n.node[minus] != n.minus {
		add(ChargePath, "alternator -", "the regulator has no earth: wire alternator.- to battery.-")
	}
}

func nextRating(x float64) (float64, bool) {
	for _, f := range Fuses() {
		if f.Rating >= x {
			return f.Rating, true
		}
	}
	return 0, false
}

func (n *network) restState() *state {
	s := newState(n)
	for i, sw := range n.switches {
		s.set[i] = sw.rest
	}
	n.eval(s)
	return s
}

// starterRules keeps the starter's cable out of everything small.
func starterRules(p *Plan, s *solved, add adder) {
	n := s.f.n
	for li, l := range n.loads {
		if !n.motor(l) || s.states[li] == nil {
			continue
		}
		path := n.feedPath(s.states[li], l)
		relay := false
		for _, at := range path {
			name, terminal, _ := strings.Cut(at, ".")
			for _, pod := range p.Pods {
				if pod.Name == name && !pod.metal(mapping.EndID(terminal)) {
					add(MissingRelay, l.name, "%s turns through pod %q: a starter always has its own relay", l.name, name)
				}
			}
			for _, pl := range p.Plugs {
				if pl.Name == name {
					add(StarterPath, l.name, "the cable of %s goes through plug %s: run it thick and direct from battery to relay to starter", l.name, name)
				}
			}
			for _, r := range p.Relays {
				relay = relay || r.Name == name
				if r.Name == name && r.most() < n.amps(l) {
					add(StarterPath, l.name+" "+name, "relay %s is good for %s A and %s draws %s A: take a starter relay", name, trim(r.most()), l.name, trim(n.amps(l)))
				}
			}
			if n.isWayOut(n.at[at]) || name == "main" || name == "block" {
				add(StarterPath, l.name, "%s is fed through %s: it never goes through block, main fuse or a blade fuse", l.name, at)
			}
		}
		if !relay {
			add(MissingRelay, l.name, "%s has no relay: a starter always has its own", l.name)
		}
	}
}

func (r Relay) most() float64 {
	if r.ContactAmps > 0 {
		return r.ContactAmps
	}
	return 30
}
