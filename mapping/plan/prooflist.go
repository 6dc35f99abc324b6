package plan

import (
	"fmt"
	"slices"
	"strings"

	"bellout/mapping"
)

// ProofList is the list of cold checks of the finished harness: battery out,
// loads unplugged unless a line says otherwise, leads zeroed. Values are those
// of this harness at 20 C. The order is common practice.
func ProofList(p Plan) []ProofCheck {
	cold := withSizes(p)
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
		alts = append(alts, conditionText(c))
	}
	if len(alts) == 0 {
		return "any"
	}
	return strings.Join(alts, " or ")
}

// conditionText writes one condition as in a plan: "dip=low, lights=park|on".
func conditionText(c mapping.Condition) string {
	var parts []string
	for _, t := range c {
		var at []string
		for _, q := range t.Positions {
			at = append(at, string(q))
		}
		parts = append(parts, string(t.Switch)+"="+strings.Join(at, "|"))
	}
	return strings.Join(parts, ", ")
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
		m := b.metered(li)
		k := spot{m.from, m.text}
		names[k] = append(names[k], l.name)
		if i, ok := at[k]; ok {
			b.out[i].Do = strings.Join(names[k], ", ") + " plugged in together, " + asideOut
			continue
		}
		at[k] = len(b.out)
		ohms, known := b.coldOhms(m, li)
		c := ProofCheck{ID: "4-" + l.name, Group: "4 ways to earth, loads in", Do: l.name + " plugged in, " + asideOut, Red: m.from, Black: "battery.-", Set: m.text, Unit: "ohm",
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

// isGate tells whether a name is a relay's or a flasher's.
func (n *network) isGate(name string) bool {
	return slices.ContainsFunc(n.gates, func(g gateEdge) bool { return g.name == name })
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
