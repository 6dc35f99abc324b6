package plan

import (
	"fmt"
	"slices"
	"strings"
)

// maxLocks bounds the settings of the switches that one load's works names.
const maxLocks = 1 << 12

// locks tries kill, interlocks and key with the battery on, as far as the plan says when
// ignition and starter are meant to work: each switch that has a say, the others standing so
// that it alone decides.
func (b *power) locks() {
	works := b.n.works()
	for _, l := range b.n.loads {
		if l.load < 0 || works[l.load] == nil || l.stops { // what earthing stops is a cold check
			continue
		}
		switch l.group {
		case Ignition, Start, Motor:
			b.locksOf(l, works[l.load])
		}
	}
}

func (b *power) locksOf(l loadEdge, works [][]term) {
	n := b.n
	var sws []int
	total := 1
	for _, cond := range works {
		for _, t := range cond {
			if !slices.Contains(sws, t.sw) {
				sws = append(sws, t.sw)
				total *= len(n.switches[t.sw].sw.Positions)
			}
		}
	}
	if total > maxLocks {
		return
	}
	g := group{switches: sws}
	set := make([]int, len(n.switches))
	away := func() int {
		count := 0
		for _, sw := range sws {
			if set[sw] != n.switches[sw].rest {
				count++
			}
		}
		return count
	}
	at, what := l.name+".+", "Volts at "+l.name
	if n.motor(l) {
		at, what = "the end of the starter cable", "Volts at the end of the starter cable"
	}
	good, fewest := "", len(sws)+1
	for i := range total {
		if n.put(g, i, set); meant(works, set) && away() < fewest {
			good, fewest = n.settingText(set, sws), away()
		}
	}
	if fewest > len(sws) { // it is never meant to work
		return
	}
	b.step(what+"; levers: "+good, "battery volts", "the circuit is open somewhere: look for a missing wire, or a lever elsewhere")
	seen := map[string]bool{}
	for _, sw := range sws {
		say, fewest := "", len(sws)+1
		for i := range total {
			n.put(g, i, set)
			if !meant(works, set) || away() >= fewest {
				continue
			}
			was, count := set[sw], away()
			var bad []string
			for q, name := range n.switches[sw].sw.Positions {
				if set[sw] = q; !meant(works, set) {
					bad = append(bad, string(name))
				}
			}
			set[sw] = was
			if len(bad) == 0 {
				continue
			}
			fewest = count
			var parts []string
			for _, o := range sws {
				text := n.settingText(set, []int{o})
				if o == sw {
					text = n.switches[sw].name + "=" + strings.Join(bad, "|")
				}
				parts = append(parts, text)
			}
			say = strings.Join(parts, ", ")
		}
		if say == "" || seen[say] {
			continue
		}
		seen[say] = true
		b.step(fmt.Sprintf("%s; levers: %s", what, say), "0 V: dead by "+n.switches[sw].name, fmt.Sprintf("%s is live and must not be: STOP, %s is bypassed or miswired", at, n.switches[sw].name))
	}
}

// meant tells whether a load is meant to work in a setting.
func meant(works [][]term, set []int) bool {
	return slices.ContainsFunc(works, func(cond []term) bool {
		return !slices.ContainsFunc(cond, func(t term) bool { return t.mask&(1<<set[t.sw]) == 0 })
	})
}
