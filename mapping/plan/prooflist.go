package plan

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"bellout/mapping"
)

// ProofList is the list of cold checks of the finished harness: battery out,
// loads unplugged unless a line says otherwise, leads zeroed. Values are those
// of this harness at 20 C. The order is common practice.
func ProofList(p Plan) []ProofCheck {
	cold := p
	cold.Temperature = 20
	n := compile(&cold, nil)
	f := gather(n)
	b := &prooflist{p: &cold, n: n, f: f}
	b.crimps()
	b.tables()
	b.waysToEarth()
	b.outputsToEarth()
	b.stopWires()
	b.lamps()
	b.waysApart()
	b.wires()
	b.earths()
	b.battery()
	b.coils()
	b.diodes()
	b.add(ProofCheck{ID: "10-wiggle", Group: "10 wiggle", Do: "Full lock both ways and wiggle every branch while repeating 3 and 6", Expect: "no change", Unit: "tick", Bad: "broken strand, or a loom too short"})
	return b.out
}

type prooflist struct {
	p   *Plan
	n   *network
	f   *facts
	out []ProofCheck
}

func (b *prooflist) add(c ProofCheck) { b.out = append(b.out, c) }

// crimps: their pull is common practice, from memory. How many there are is part of what is
// kept: of more of them nobody has said yet that they hold.
func (b *prooflist) crimps() {
	thin, thick := 0, 0
	for _, w := range b.p.Wires {
		for _, end := range []string{w.From, w.To} {
			if _, _, ok := strings.Cut(end, "."); !ok {
				continue
			}
			if w.MM2 < 1 {
				thin++
			} else {
				thick++
			}
		}
	}
	b.add(ProofCheck{ID: fmt.Sprintf("1-thin-%d", thin), Group: "1 crimps", Do: fmt.Sprintf("Straight tug on each of %d crimps on wire under 1 mm2", thin), Expect: "holds a firm pull, about 50 N", Unit: "tick", Bad: "make it again"})
	b.add(ProofCheck{ID: fmt.Sprintf("1-thick-%d", thick), Group: "1 crimps", Do: fmt.Sprintf("Straight tug on each of %d crimps on wire of 1 mm2 and more", thick), Expect: "holds a firm pull, 80 to 100 N", Unit: "tick", Bad: "make it again"})
}

// cavityFor is the plug cavity that a pod's end comes out at, else the end.
func (b *prooflist) cavityFor(end string) string {
	for _, w := range b.p.Wires {
		other := ""
		switch end {
		case w.From:
			other = w.To
		case w.To:
			other = w.From
		default:
			continue
		}
		name, _, _ := strings.Cut(other, ".")
		for _, pl := range b.p.Plugs {
			if pl.Name == name {
				return other
			}
		}
	}
	return end
}

// tables: each new cavity against the old table.
func (b *prooflist) tables() {
	for _, pod := range b.p.Pods {
		for _, l := range pod.Map.Links {
			x, y := pod.Name+"."+string(l.A), pod.Name+"."+string(l.B)
			if !wired(b.p, x) && !pod.metal(l.A) || !wired(b.p, y) && !pod.metal(l.B) {
				continue
			}
			ohms := pod.ohms(l)
			c := ProofCheck{ID: "2-" + pod.Name + "-" + string(l.A) + "-" + string(l.B), Group: "2 contact tables on the new cavities",
				Do:  fmt.Sprintf("Pod %s unplugged: closed as said, open in every other position", pod.Name),
				Red: b.cavityFor(x), Black: b.cavityFor(y), Set: whenText(l),
				Unit: "ohm", Max: round(ohms+0.2, 2), Bad: "two cavities swapped: see that the table of the old plug comes out"}
			c.Expect = fmt.Sprintf("%s ohm or less over leads, else OL", trim(c.Max))
			b.add(c)
		}
	}
}

// whenText says when a link holds, in words.
func whenText(l mapping.Link) string {
	var alts []string
	for _, c := range l.When {
		var parts []string
		for _, t := range c {
			var at []string
			for _, q := range t.Positions {
				at = append(at, string(q))
			}
			parts = append(parts, string(t.Switch)+"="+strings.Join(at, "|"))
		}
		alts = append(alts, strings.Join(parts, ", "))
	}
	if len(alts) == 0 {
		return "any"
	}
	return strings.Join(alts, " or ")
}

func (b *prooflist) waysToEarth() {
	for i, w := range b.p.Block.Ways {
		if len(b.f.loadsOf[i]) == 0 {
			continue
		}
		b.add(ProofCheck{ID: "3-" + w.Name, Group: groupToEarth, Do: "Fuses out, loads and relays unplugged, every lever in every position", Red: w.Name, Black: "battery.-",
			Set: "all", Expect: "OL, more than 1 M ohm", Unit: "ohm", Min: 1e6, Bad: "short or pinched wire; 10 k and more may be electronics"})
	}
}

// lamps: what loads read cold, from where a meter gets at them with the relays
// at rest. Loads that are read together from one point make one line.
func (b *prooflist) lamps() {
	type spot struct{ from, set string }
	at := map[spot]int{}
	names := map[spot][]string{}
	for li, l := range b.n.loads {
		if l.load < 0 || b.f.best[li] == nil || b.n.motor(l) {
			continue
		}
		from, set := b.reachable(li)
		k := spot{from, set}
		names[k] = append(names[k], l.name)
		if i, ok := at[k]; ok {
			b.out[i].Do = strings.Join(names[k], ", ") + " plugged in together, fuses and relays out"
			continue
		}
		at[k] = len(b.out)
		ohms, known := b.coldOhms(from, li)
		c := ProofCheck{ID: "4-" + l.name, Group: "4 ways to earth, loads in", Do: l.name + " plugged in, fuses and relays out", Red: from, Black: "battery.-", Set: set, Unit: "ohm",
			Bad: "0.0 is a short, OL an open lamp or earth. A halogen lamp looks like a short: do 3 first"}
		if !known {
			c.Expect = "electronics: anything but 0; note what it reads"
			c.Min = 1
		} else {
			c.Min, c.Max = round(0.6*ohms, 2), round(1.5*ohms+0.3, 2)
			c.Expect = fmt.Sprintf("about %s ohm cold (%s to %s)", trim(round(ohms, 2)), trim(c.Min), trim(c.Max))
		}
		b.add(c)
	}
}

// reachable is the last point before a load that a meter reaches with the
// relays out: its way, or the 87 of its relay, or the flasher's 49a; and the
// setting of levers that matter.
func (b *prooflist) reachable(li int) (point, set string) {
	s := b.state(li)
	path := b.n.feedPath(s, b.n.loads[li])
	point = path[0]
	for i := 1; i < len(path); i++ {
		x, _, _ := strings.Cut(path[i-1], ".")
		y, _, _ := strings.Cut(path[i], ".")
		if x == y && b.n.isGate(x) {
			point = path[i]
		}
	}
	return point, b.f.levers(li, path)
}

// isGate tells whether a name is a relay's or a flasher's.
func (n *network) isGate(name string) bool {
	return slices.ContainsFunc(n.gates, func(g gateEdge) bool { return g.name == name })
}

func (b *prooflist) state(li int) *state {
	s := newState(b.n)
	copy(s.set, b.f.best[li])
	b.n.eval(s)
	return s
}

// levers names the positions, in a load's busiest setting, of the switches that some paths
// go through.
func (f *facts) levers(li int, paths ...[]string) string {
	n := f.n
	used := map[int]bool{}
	for _, path := range paths {
		for k := 1; k < len(path); k++ {
			for _, c := range n.contacts {
				if a, b := n.names[c.pa], n.names[c.pb]; !(a == path[k-1] && b == path[k] || b == path[k-1] && a == path[k]) {
					continue
				}
				for _, cond := range c.when {
					for _, t := range cond {
						used[t.sw] = true
					}
				}
			}
		}
	}
	return n.settingText(f.best[li], slices.Sorted(maps.Keys(used)))
}

// coldOhms is what a meter reads from a point to battery minus in a load's
// setting, relays at rest, filaments cold, electronics open.
func (b *prooflist) coldOhms(from string, li int) (ohms float64, known bool) {
	m := *b.n
	m.loads = nil
	for _, l := range b.n.loads {
		if l.load >= 0 {
			if l.ohms = b.p.cold(b.p.Loads[l.load]); l.ohms == 0 {
				continue
			}
			known = known || l.name == b.n.loads[li].name
		}
		if l.load >= 0 || !strings.HasSuffix(l.name, " coil") {
			m.loads = append(m.loads, l)
		}
	}
	m.diodes, m.ways = nil, nil
	s := newState(&m)
	copy(s.set, b.f.best[li])
	m.nets(s) // relays stay as they lie: nothing is powered
	at, ok := m.at[from]
	if !ok || !known {
		return 0, false
	}
	var springs []spring
	add := func(x, y int, r float64) { springs = append(springs, spring{x, y, 1 / max(r, 1e-6)}) }
	for _, e := range m.edges {
		add(e.a, e.b, e.ohms)
	}
	for _, c := range m.contacts {
		if m.holds(c, s.set) {
			add(c.pa, c.pb, c.ohms)
		}
	}
	for _, l := range m.loads {
		add(l.plusP, l.minusP, l.ohms)
	}
	return resistance(len(m.names), springs, at, m.at["battery.-"])
}

// resistance between two points of a network, false if nothing joins them.
func resistance(count int, all []spring, a, b int) (float64, bool) {
	v := eliminate(count, all, a, b, 1)
	amps := 0.0
	for _, s := range all {
		switch {
		case s.a == s.b:
		case s.a == a:
			amps += s.y * (1 - v[s.b])
		case s.b == a:
			amps += s.y * (1 - v[s.a])
		}
	}
	if amps < 1e-9 {
		return 0, false
	}
	return 1 / amps, true
}
