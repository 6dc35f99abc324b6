package plan

import (
	"slices"
	"strings"
)

// relayRules sees that relays are wired, and their coils the right way round: 86 is where
// the current comes in, 85 where it goes out (DIN 72552).
func relayRules(p *Plan, s *solved, add adder) {
	n := s.f.n
	for _, r := range p.Relays {
		var lacks []string
		for _, t := range []string{"30", "85", "86"} {
			if !wired(p, r.Name+"."+t) {
				lacks = append(lacks, t)
			}
		}
		if !wired(p, r.Name+".87") && !wired(p, r.Name+".87a") {
			lacks = append(lacks, "87")
		}
		if len(lacks) > 0 {
			add(RelayWiring, r.Name, "terminal %s of relay %s has no wire: wire it or take the relay out", strings.Join(lacks, ", "), r.Name)
		}
	}
	for li, l := range n.loads {
		if l.load >= 0 || s.states[li] == nil || s.states[li].backward(l) { // a coil's plus is its 85
			continue
		}
		if i := slices.IndexFunc(p.Relays, func(r Relay) bool { return r.Name+" coil" == l.name }); i >= 0 && p.Relays[i].Suppressed {
			add(RelayWiring, p.Relays[i].Name, "relay %s is fed at 85 and earthed at 86: a diode across its coil would be a dead short, so swap the two", p.Relays[i].Name)
		}
	}
}

// flasherRules sees that flashers have the kind of load and the direction that they need:
// 49 is the feed, 49a what blinks (DIN 72552).
func flasherRules(p *Plan, s *solved, add adder) {
	n := s.f.n
	for _, part := range p.Parts {
		if part.Kind != "flasher" || wired(p, part.Name+".31") {
			continue
		}
		for li, l := range n.loads {
			if l.load >= 0 && l.led && p.Loads[l.load].GroupOf() == Indicator && s.f.fed[li] {
				add(LedFlasher, part.Name, "%s has no earth (31), so it is a flasher that counts on lamp current, and %s is an LED: use an electronic flasher with 49, 49a and 31", part.Name, l.name)
				break
			}
		}
	}
	for _, part := range p.Parts {
		for li := range n.loads {
			if part.Kind != "flasher" || s.f.best[li] == nil {
				continue
			}
			path := s.f.path(li)
			in, out := slices.Index(path, part.Name+".49"), slices.Index(path, part.Name+".49a")
			if out >= 0 && out < in {
				add(FlasherWiring, part.Name, "flasher %s is fed at 49a and gives at 49: swap the two, the feed goes to 49", part.Name)
				break
			}
		}
	}
}
