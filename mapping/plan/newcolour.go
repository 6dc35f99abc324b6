package plan

import (
	"slices"
	"strings"
)

// The colours of a first plan. Common practice: what is live before any switch or behind the
// key alone is red, so that nobody bolts it to earth; earths have a colour that nothing else
// has, brown (DIN 72551, from memory). Black passes for earth on many machines and is no base.
const (
	liveColour  = "RD"
	earthColour = "BN"
)

// freeColours are the bases of everything else, of those that Explain lists.
func freeColours() []string { return []string{"YE", "GN", "BU", "WH", "GY", "OG", "VT", "PK", "TQ"} }

// dealColours gives the wires that have no colour yet one: wires that carry one thing the
// same, others others as far as there are colours. A pod's own wires keep theirs.
func (p *Plan) dealColours() {
	n := compile(p, nil)
	isPod := map[string]bool{}
	for _, x := range p.Pods {
		isPod[x.Name] = true
	}
	type kind struct{ family, what string }
	given, dealt := map[kind][2]string{}, map[string]int{}
	for i := range p.Wires {
		w := &p.Wires[i]
		if name, _, _ := strings.Cut(w.From, "."); isPod[name] {
			continue
		}
		k := kind{what: w.What}
		bases := freeColours()
		from, _ := n.ends(*w)
		switch at := n.node[from]; {
		case at == n.minus:
			k.family, bases = earthColour, []string{earthColour}
		case n.isLive(at):
			k.family, bases = liveColour, []string{liveColour}
		}
		if _, ok := given[k]; !ok {
			codes := codesOf(bases)
			given[k] = codes[dealt[k.family]%len(codes)]
			dealt[k.family]++
		}
		w.Colour, w.Tracer = given[k][0], given[k][1]
	}
}

// isLive tells whether a node is a feed: of the block, of a way that is always live, or the
// starter's cable.
func (n *network) isLive(node int) bool {
	if node == n.plus {
		return true
	}
	for _, w := range n.ways {
		if node == w.bus || node == w.out && n.plan.Block.Ways[w.way].Feed == FromBattery {
			return true
		}
	}
	return slices.ContainsFunc(n.loads, func(l loadEdge) bool { return n.motor(l) && l.plus == node })
}

// codesOf gives every base with every tracer, bases before tracers. Green with yellow is left
// out: IEC 60757 keeps it for protective earth.
func codesOf(bases []string) [][2]string {
	var out [][2]string
	for _, tracer := range append([]string{"", "BK"}, freeColours()...) {
		for _, base := range bases {
			if green := base + tracer; base != tracer && green != "GNYE" && green != "YEGN" {
				out = append(out, [2]string{base, tracer})
			}
		}
	}
	return out
}
