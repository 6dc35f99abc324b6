package plan

import (
	"maps"
	"slices"
	"strings"
)

// asideOut is how everything but a load stands while it is read.
const asideOut = "fuses and relays out, other levers at rest"

// metered is where and how a meter gets at a load with the relays out.
type metered struct {
	from string // the load's way, or the 87 of its relay, or the flasher's 49a
	set  []int  // the levers of text as it says, all others at rest
	text string
	plus int // the load's point that the current comes in at
}

// metered takes the setting that feeds a load with fewest levers away from rest, and of that
// the levers behind the point from which it is read: what is read is worked out in the very
// setting that is printed.
func (b *prooflist) metered(li int) metered {
	n := b.n
	s := n.stateIn(b.f.calm[li])
	l := n.loads[li]
	path := n.feedPath(s, l)
	first := 0
	for i := 1; i < len(path); i++ {
		x, _, _ := strings.Cut(path[i-1], ".")
		y, _, _ := strings.Cut(path[i], ".")
		if x == y && n.isGate(x) {
			first = i
		}
	}
	m := metered{from: path[first], set: make([]int, len(n.switches)), plus: l.plusP}
	if s.backward(l) {
		m.plus = l.minusP
	}
	used := n.leversOn(path[first:])
	for i, sw := range n.switches {
		m.set[i] = sw.rest
		if slices.Contains(used, i) {
			m.set[i] = s.set[i]
		}
	}
	m.text = n.settingText(m.set, used)
	return m
}

// leversOn are the switches that some paths go through.
func (n *network) leversOn(paths ...[]string) []int {
	used := map[int]bool{}
	for _, path := range paths {
		for _, c := range n.contacts {
			if n.onPath(path, c) {
				for _, sw := range c.switches() {
					used[sw] = true
				}
			}
		}
	}
	return slices.Sorted(maps.Keys(used))
}

// levers names the positions, in a load's busiest setting, of the switches that some paths
// go through.
func (f *facts) levers(li int, paths ...[]string) string {
	return f.n.settingText(f.best[li], f.n.leversOn(paths...))
}

// joined are the wires and those contacts that hold in a setting, relays at rest: nothing is
// powered.
func (n *network) joined(set []int) []spring {
	var out []spring
	add := func(x, y int, ohms float64) { out = append(out, spring{x, y, 1 / max(ohms, 1e-6)}) }
	for _, e := range n.edges {
		add(e.a, e.b, e.ohms)
	}
	for _, c := range n.contacts {
		if n.holds(c, set) {
			add(c.pa, c.pb, c.ohms)
		}
	}
	return out
}

// coldOhms is what a meter reads to battery minus, filaments cold, electronics open.
func (b *prooflist) coldOhms(m metered, li int) (ohms float64, known bool) {
	n := b.n
	if n.loads[li].load < 0 || b.p.cold(b.p.Loads[n.loads[li].load]) == 0 {
		return 0, false
	}
	all := n.joined(m.set)
	for _, l := range n.loads {
		r := l.ohms
		if l.load >= 0 {
			r = b.p.cold(b.p.Loads[l.load])
		}
		if r > 0 && (l.load >= 0 || !strings.HasSuffix(l.name, " coil")) {
			all = append(all, spring{l.plusP, l.minusP, 1 / max(r, 1e-6)})
		}
	}
	return resistance(len(n.names), all, n.at[m.from], n.at["battery.-"])
}
