package plan

import (
	"fmt"
	"strings"
)

// outputsToEarth reads what lies behind relays and flashers, which no reading from a way
// reaches while they are out.
func (b *prooflist) outputsToEarth() {
	for _, g := range b.n.gates {
		at := map[gateKind]string{makes: ".87", breaks: ".87a", blinks: ".49a"}[g.kind]
		if point := g.name + at; wired(b.p, point) && b.n.node[b.n.at[point]] != b.n.minus {
			b.add(ProofCheck{ID: "3-" + point, Group: groupToEarth, Do: "At the empty socket: fuses out, loads and relays unplugged, every lever in every position", Red: point, Black: "battery.-",
				Set: "all", Expect: "OL, more than 1 M ohm", Unit: "ohm", Min: 1e6, Bad: "short or pinched wire behind it; 10 k and more may be electronics"})
		}
	}
}

// diodes reads each both ways, from the loom into it, so that one that is turned round shows.
// A silicon diode drops 0.5 to 0.8 V on a meter's diode range, a Schottky diode less (common
// practice, from memory); OL there is more than about 2 V.
func (b *prooflist) diodes() {
	for _, x := range b.p.Parts {
		if x.Kind != "diode" {
			continue
		}
		red, black := b.touchable(x.Name+".+"), x.Name+".-"
		do := fmt.Sprintf("Meter on diode range, the end %s of %s unplugged", black, x.Name)
		b.add(ProofCheck{ID: "9-" + x.Name, Group: groupDiodes, Do: do, Red: red, Black: black, Expect: "a drop: 0.5 to 0.8 V, 0.15 to 0.4 V for a Schottky diode", Unit: "volt", Min: 0.1, Max: 0.9,
			Bad: "OL: turned round or dead; 0: shorted"})
		b.add(ProofCheck{ID: "9-" + x.Name + "-back", Group: groupDiodes, Do: do + ", leads the other way", Red: black, Black: red, Expect: "OL", Unit: "volt", Min: 1.4,
			Bad: "a drop: turned round; 0: shorted"})
	}
}

// stopWires reads the wires that stop an ignition by earthing it: levers that fail to stop the
// engine show here before it runs.
func (b *prooflist) stopWires() {
	for _, l := range b.n.loads {
		if !l.stops || !wired(b.p, l.name+".+") {
			continue
		}
		set := strings.Join(b.p.Loads[l.load].Works, " or ")
		b.add(ProofCheck{ID: "3-" + l.name, Group: groupToEarth, Do: l.name + " unplugged, at its stop wire, never a feed", Red: l.name + ".+", Black: "battery.-", Set: set,
			Expect: "OL; 0.2 ohm or less with any other levers", Unit: "tick", Bad: "the engine would not stop, or not run: bad earth of the kill contact, or two wires swapped"})
	}
}

const (
	groupToEarth = "3 ways to earth, loads out"
	groupDiodes  = "9 diodes"
)

// touchable is the nearest point of a net of wires that a meter's tip reaches: no splice; the
// point itself if there is none.
func (b *prooflist) touchable(point string) string {
	seen := map[string]bool{point: true}
	for queue := []string{point}; len(queue) > 0; queue = queue[1:] {
		for _, w := range b.p.Wires {
			other := w.To
			if w.To == queue[0] {
				other = w.From
			} else if w.From != queue[0] {
				continue
			}
			if seen[other] {
				continue
			}
			if strings.Contains(other, ".") {
				return other
			}
			seen[other] = true
			queue = append(queue, other)
		}
	}
	return point
}
