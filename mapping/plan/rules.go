package plan

import (
	"fmt"
	"strings"
)

// Kinds of findings about supply, fuses, wires and contacts.
const (
	NoMainFuse    = "no-main-fuse"
	MainFar       = "main-fuse-far"
	MainSmall     = "main-fuse-small"
	NoFuse        = "no-fuse"
	FuseOverWire  = "fuse-over-wire"
	FuseSmall     = "fuse-too-small"
	UnfusedWire   = "unfused-wire"
	WireThin      = "wire-too-thin"
	Insulated     = "insulation"
	NoSize        = "no-size"
	NoLength      = "no-length"
	DropHigh      = "drop"
	EarthDrop     = "earth-drop"
	WeakContact   = "weak-contact"
	MissingRelay  = "missing-relay"
	ContactBridge = "contact-bypassed"
	RelayWiring   = "relay-wiring"
	Overloaded    = "overloaded"
	ChargeFuse    = "charging-fuse"
	ChargeBalance = "charging-short"
	ChargePath    = "charging-path"
	StarterPath   = "starter-path"
	LedFlasher    = "led-flasher"
	FlasherWiring = "flasher-wiring"
)

// electrical checks supply, fuses, wires and contacts with the figures that
// were worked out.
func electrical(p *Plan, s *solved, w Worked) []Finding {
	var out []Finding
	add := func(kind, where, format string, args ...any) {
		out = append(out, Finding{Kind: kind, Where: where, Say: fmt.Sprintf(format, args...)})
	}
	supplyRules(p, w, add)
	wayRules(p, s, w, add)
	wireRules(p, s, w, add)
	loadRules(p, w, add)
	coilRules(p, s, add)
	partRules(p, s, add)
	contactRules(s, w, add)
	relayRules(p, s, add)
	flasherRules(p, s, add)
	chargeRules(p, s.f.n, w, add)
	starterRules(p, s, add)
	return out
}

func supplyRules(p *Plan, w Worked, add adder) {
	m := p.Supply
	if m.MainFuse == 0 {
		add(NoMainFuse, "main", "there is no main fuse: %s", propose(w.Main.Proposed,
			"put one of %s A within 200 mm of the battery", "no blade fuse carries all that is on, so take loads off before you put one within 200 mm of the battery"))
		return
	}
	if m.MainFuseMM > 200 {
		add(MainFar, "main", "the main fuse is %s mm of wire away from the battery: move it within 200 mm, nothing protects that wire", trim(m.MainFuseMM))
	}
	switch {
	case w.Main.Steady > continuousShare*m.MainFuse+1e-9 || w.Main.Peak > m.MainFuse+1e-9:
		add(MainSmall, "main", "the main fuse of %s A carries %s A steady and %s A at most: %s", trim(m.MainFuse), trim(round(w.Main.Steady, 1)), trim(round(w.Main.Peak, 1)),
			propose(w.Main.Proposed, "take %s A, or fewer loads", "no blade fuse holds that, take fewer loads"))
	default:
		for _, way := range p.Block.Ways {
			if way.Fuse > m.MainFuse {
				add(MainSmall, "main", "the main fuse of %s A is smaller than the %s A of %s and would go first: take %s A", trim(m.MainFuse), trim(way.Fuse), way.Name, trim(w.Main.Proposed))
				break
			}
		}
	}
	if m.ContactAmps > 0 && w.Main.Contact > m.ContactAmps {
		add(MissingRelay, "ignition", "the ignition contact carries %s A and should carry %s A at most: let it work an ignition relay", trim(round(w.Main.Contact, 1)), trim(m.ContactAmps))
	}
}

func wayRules(p *Plan, s *solved, w Worked, add adder) {
	f := s.f
	for i, way := range p.Block.Ways {
		ww := w.Ways[i]
		if way.Fuse == 0 {
			if len(ww.Loads) > 0 {
				add(NoFuse, way.Name, "%s has no fuse: %s", way.Name, propose(ww.Proposed, "put one of %s A in", noWayFuse))
			}
			continue
		}
		if ww.Steady > continuousShare*way.Fuse+1e-9 || ww.Peak > way.Fuse+1e-9 {
			add(FuseSmall, way.Name, "%s carries %s A steady and %s A at most on a fuse of %s A: %s", way.Name, trim(round(ww.Steady, 2)), trim(round(ww.Peak, 2)), trim(way.Fuse),
				propose(ww.Proposed, "take %s A, or move a load", noWayFuse))
		}
		for k, wire := range p.Wires {
			if wire.MM2 <= 0 || f.behind(k)&(1<<i) == 0 {
				continue
			}
			if size := anySize(wire.MM2); way.Fuse > size.FuseMax {
				add(FuseOverWire, way.Name+" "+wire.Name, "%s of %s A is more than wire %s of %s mm2 may stand behind (%s A): take a smaller fuse or a thicker wire", way.Name, trim(way.Fuse), wire.Name, trim(wire.MM2), trim(size.FuseMax))
			}
		}
		for _, pod := range p.Pods {
			if size := anySize(pod.wire()); way.Fuse > size.FuseMax && f.touchesPod(i, pod) {
				add(FuseOverWire, way.Name+" "+pod.Name, "%s of %s A is more than the pod's own wires of %s mm2 may stand behind (%s A): take a smaller fuse, or let the pod work a relay", way.Name, trim(way.Fuse), trim(pod.wire()), trim(size.FuseMax))
			}
		}
	}
}

func (f *facts) touchesPod(way int, pod Pod) bool {
	for _, e := range pod.Desc.Ends {
		if f.reach[way][f.n.node[f.n.at[pod.Name+"."+string(e.ID)]]] {
			return true
		}
	}
	return false
}

func wireRules(p *Plan, s *solved, w Worked, add adder) {
	n := s.f.n
	mainSide, chargeSide := n.behindPoint("main.out"), n.behindPoint("charge.in")
	raw := n.behindPoint("battery.+")
	starter := n.starterPoints(s)
	if !p.insulated() {
		add(Insulated, "harness", "the wire's insulation stands %s C and the harness is at %s C: take wire of a higher rating, its insulation would melt without any current", trim(p.Insulation), trim(p.Temperature))
	}
	for i, wire := range p.Wires {
		ww := w.Wires[i]
		from, to := n.ends(wire)
		switch {
		case wire.MM2 <= 0:
			add(NoSize, wire.Name, "wire %s has no size: %s", wire.Name, propose(ww.Proposed, "%s mm2 would do", noWireSize))
		case !p.insulated(): // said once, for all of them
		case ww.Amps > ww.Carries+1e-9 && ww.Cranking:
			add(WireThin, wire.Name, "wire %s of %s mm2 carries %s A while the starter turns and stands %s A for half a minute: %s", wire.Name, trim(wire.MM2), trim(round(ww.Amps, 1)), trim(round(ww.Carries, 1)),
				propose(ww.Proposed, "take %s mm2", noWireSize))
		case ww.Amps > ww.Carries+1e-9:
			add(WireThin, wire.Name, "wire %s of %s mm2 carries %s A and should carry %s A at most in this harness: %s", wire.Name, trim(wire.MM2), trim(round(ww.Amps, 1)), trim(round(ww.Carries, 1)),
				propose(ww.Proposed, "take %s mm2", noWireSize))
		}
		if wire.Length <= 0 {
			add(NoLength, wire.Name, "wire %s has no length: measure it on the machine, full lock both ways and 30 mm to spare", wire.Name)
		}
		if wire.MM2 > 0 && s.f.behind(i) == 0 {
			size := anySize(wire.MM2)
			for _, side := range []struct {
				on   bool
				fuse float64
				name string
			}{{mainSide[from], p.Supply.MainFuse, "main"}, {chargeSide[from] && !raw[from], p.Supply.ChargeFuse, "charge"}} {
				if side.on && !(raw[from] && raw[to]) && side.fuse > size.FuseMax {
					add(FuseOverWire, side.name+" "+wire.Name, "the %s fuse of %s A is more than wire %s of %s mm2 may stand behind (%s A): take a thicker wire", side.name, trim(side.fuse), wire.Name, trim(wire.MM2), trim(size.FuseMax))
				}
			}
		}
		fuse, name := p.feeder(wire)
		if wire.MM2 > 0 && fuse > anySize(wire.MM2).FuseMax {
			add(FuseOverWire, name+" "+wire.Name, "wire %s of %s mm2 leads to the %s fuse of %s A, and a short behind that fuse flows through it: it may stand before %s A at most, take a thicker wire", wire.Name, trim(wire.MM2), name, trim(fuse), trim(anySize(wire.MM2).FuseMax))
		}
		if !raw[from] || starter[from] && starter[to] {
			continue
		}
		if name == "" {
			add(UnfusedWire, wire.Name, "wire %s hangs on the battery with no fuse before it: take it from behind the main fuse", wire.Name)
		}
		if limit := 0.5; name != "" && wire.Length > limit {
			add(MainFar, wire.Name, "wire %s runs %s m from the battery to its fuse with nothing to protect it: put the fuse within 200 mm of the battery", wire.Name, trim(wire.Length))
		}
	}
}

// starterPoints are the points between battery and starter motor, there and
// back.
func (n *network) starterPoints(s *solved) map[int]bool {
	out := map[int]bool{}
	for li, l := range n.loads {
		if !n.motor(l) {
			continue
		}
		turning := s.states[li]
		if turning == nil { // nothing turns it now: its cables are starter cables all the same
			turning = n.restState()
			for i := range turning.gate {
				turning.gate[i] = true
			}
		}
		links := n.links(turning, false)
		for _, i := range walk(links, n.at["battery.+"], func(i int) bool { return i == l.plusP }) {
			out[i] = true
		}
		for _, i := range walk(links, l.minusP, func(i int) bool { return i == n.at["battery.-"] }) {
			out[i] = true
		}
	}
	return out
}

func loadRules(p *Plan, w Worked, add adder) {
	for i, l := range w.Loads {
		if l.Path == nil {
			continue
		}
		limit := p.dropLimit(p.Loads[i].DutyOf())
		if l.Percent > limit+1e-9 {
			add(DropHigh, l.Name, "%s loses %s V of %s there and back (%s %%, at most %s %%): thicker wire, a shorter path or a relay", l.Name, trim(round(l.Drop, 2)), trim(p.Volts), trim(l.Percent), trim(limit))
		}
		if l.Back > p.EarthVolts() && p.Loads[i].DutyOf() != Peak {
			add(EarthDrop, l.Name, "%s loses %s V on its earth side, at most %s: give it a thicker or an own earth wire", l.Name, trim(round(l.Back, 2)), trim(p.EarthVolts()))
		}
	}
}

// partRules holds relays, flashers and diodes against what they are good for.
func partRules(p *Plan, s *solved, add adder) {
	n := s.f.n
	limit := map[string]float64{}
	for _, r := range p.Relays {
		limit[r.Name] = r.most()
	}
	for _, x := range p.Parts {
		if x.Amps > 0 {
			limit[x.Name] = x.Amps
		}
	}
	check := func(name string, amps float64) {
		if most, ok := limit[name]; ok && amps > most {
			add(Overloaded, name, "%s carries %s A and is good for %s A: take a stronger one", name, trim(round(amps, 2)), trim(most))
		}
	}
	for i, g := range n.gates {
		check(g.name, s.gate[i])
	}
	for i, d := range n.diodes {
		check(d.name, s.diode[i])
	}
}

// coilRules sees that relay coils get nine tenths of the voltage (prudence:
// they pull in at about seven tenths when cold, later when hot).
func coilRules(p *Plan, s *solved, add adder) {
	for li, l := range s.f.n.loads {
		if l.load >= 0 || s.loads[li] == nil || !strings.HasSuffix(l.name, " coil") {
			continue
		}
		if lost := (1 - s.loads[li].across(l)/p.Volts) * 100; lost > 10 {
			add(DropHigh, l.name, "the %s loses %s %% of its voltage, at most 10: thicker wire or a shorter path, else the relay pulls in late or never", l.name, trim(round(lost, 1)))
		}
	}
}

func contactRules(s *solved, w Worked, add adder) {
	n := s.f.n
	for i, c := range w.Contacts {
		where := c.Pod + " " + c.Between[0] + "-" + c.Between[1]
		nc := n.contacts[i]
		switch {
		case c.Relay:
			add(MissingRelay, where, "%s: put a relay between, so that the contact works the coil only", c.Reason)
		case c.Ohms >= 1 && (s.contact[i] > 0.001):
			add(WeakContact, where, "the contact reads %s ohm: work the lever twenty times and read again, else clean it or use it for a relay only", trim(c.Ohms))
		case c.Drop > 0.2:
			add(WeakContact, where, "%s A through %s ohm lose %s V in the contact, at most 0.2: clean it or let it work a relay", trim(round(c.Amps, 2)), trim(c.Ohms), trim(round(c.Drop, 2)))
		}
		if nc.a == nc.b {
			add(ContactBridge, where, "%s and %s are joined outside the pod whatever its lever does: the switch is bypassed. Stand, clutch and neutral interlocks save lives", c.Between[0], c.Between[1])
		}
	}
}

func wired(p *Plan, point string) bool {
	for _, w := range p.Wires {
		if w.From == point || w.To == point {
			return true
		}
	}
	return false
}
