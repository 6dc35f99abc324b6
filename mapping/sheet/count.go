package sheet

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"bellout/mapping/plan"
)

// wireEnd is what a wire's end is made into.
type wireEnd struct {
	kind string // what to buy
	seal string // the seal that goes with it, "" for none
}

const fuseHolder = "fuse holder"

// short is the end in the few letters of the cut list.
func (e wireEnd) short() string {
	s := e.kind
	if e.seal != "" {
		s += " s"
	}
	return s
}

// endOf says what terminal a wire's end wants, by the point that it goes to.
// Female terminals go into the half of a plug that is shrouded.
func endOf(p plan.Plan, w plan.Wire, point string) wireEnd {
	dev, term, _ := strings.Cut(point, ".")
	for _, pl := range p.Plugs {
		if pl.Name != dev {
			continue
		}
		half := plan.LoomHalf
		if w.In == pl.Module {
			half = plan.ModuleHalf
		}
		kind := pl.Terminal
		if kind == "" {
			kind = "terminal of " + pl.Name
		}
		e := wireEnd{}
		if base, ok := strings.CutSuffix(kind, " sealed"); ok {
			kind, e.seal = base, "seal for "+base
		}
		if pl.Shrouded == half {
			e.kind = kind + " female"
		} else {
			e.kind = kind + " pin"
		}
		return e
	}
	for _, x := range p.Splices {
		if x.Name == dev {
			return wireEnd{kind: "splice"}
		}
	}
	for _, x := range p.Earths {
		if x.Name == dev {
			return wireEnd{kind: "ring " + size(w.MM2)}
		}
	}
	switch dev {
	case "battery":
		return wireEnd{kind: "ring " + size(w.MM2)}
	case "main", "charge":
		return wireEnd{kind: fuseHolder}
	case "block":
		return wireEnd{kind: "block feed"}
	}
	for _, x := range p.Block.Ways {
		if x.Name == dev {
			return wireEnd{kind: "block way"}
		}
	}
	for _, x := range p.Relays {
		if x.Name == dev {
			return wireEnd{kind: "relay " + map[bool]string{true: "coil", false: "contact"}[term == "85" || term == "86"]}
		}
	}
	for _, x := range p.Pods {
		if x.Name == dev {
			return wireEnd{kind: "pod's wire"}
		}
	}
	return wireEnd{kind: "as " + dev}
}

// spares is how many of a thing to buy for so many in use: 15 % more, within
// the 10 to 20 % of the trade where whole numbers allow it, one at least.
func spares(n int) int {
	return n + max(1, int(math.Floor(float64(n)*0.2)), int(math.Ceil(float64(n)*0.1)))
}

// countSection is the shopping list.
func countSection(in Input) section {
	parts := endParts(in.Plan)
	plugParts(in, parts)
	fuseParts(in.Plan, parts)
	t := table{title: "Terminals, seals, housings, fuses", head: []string{"", "What", "In use", "Get"}}
	for _, k := range sortedKeys(parts) {
		get := spares(parts[k])
		if k == fuseHolder || strings.HasPrefix(k, "housing ") {
			get = parts[k]
		}
		t.rows = append(t.rows, []string{tick, k, fmt.Sprint(parts[k]), fmt.Sprint(get)})
	}
	return section{title: "What to get", notes: []string{
		"Terminals, seals and fuses: 10 to 20 % spare, one at least. Wire: 15 % more. Housings and fuse holders: as many as there are.",
	}, tables: []table{t, wireTable(in.Plan)}}
}

// endParts counts what the ends of the wires want, and the splices.
func endParts(p plan.Plan) map[string]int {
	parts := map[string]int{}
	spliced, held := map[string]bool{}, map[string]bool{}
	for _, w := range p.Wires {
		for _, point := range []string{w.From, w.To} {
			e := endOf(p, w, point)
			switch {
			case e.kind == "splice":
				spliced[point] = true
			case e.kind == fuseHolder: // one for both its ends
				name, _, _ := strings.Cut(point, ".")
				held[name] = true
			case e.kind == "pod's wire", strings.HasPrefix(e.kind, "as "):
				// The device brings its own end.
			default:
				parts[e.kind]++
				if e.seal != "" {
					parts[e.seal]++
				}
			}
		}
	}
	if len(spliced) > 0 {
		parts["splice with heat-shrink"] = len(spliced)
	}
	if len(held) > 0 {
		parts[fuseHolder] = len(held)
	}
	return parts
}

// plugParts counts housings, and plugs for the cavities of sealed ones that stay empty.
func plugParts(in Input, parts map[string]int) {
	for _, pl := range in.Plan.Plugs {
		parts["housing "+orOpen(pl.Housing)+", both halves"]++
		used := 0
		for _, r := range in.Rows {
			if r.Plug == pl.Name && (r.LoomWire != "" || r.ModuleWire != "") {
				used++
			}
		}
		if base, ok := strings.CutSuffix(pl.Terminal, " sealed"); ok && pl.Cavities > used {
			parts["cavity plug for "+base] += 2 * (pl.Cavities - used)
		}
	}
}

func fuseParts(p plan.Plan, parts map[string]int) {
	fuses := map[float64]int{}
	for _, w := range p.Block.Ways {
		fuses[w.Fuse]++
	}
	fuses[p.Supply.MainFuse]++
	fuses[p.Supply.ChargeFuse]++
	delete(fuses, 0)
	for f, n := range fuses {
		name := number(f) + " A blade fuse"
		if x, ok := plan.FuseOf(f); ok && x.Colour != "" {
			name += ", " + x.Colour
		}
		parts[name] = n
	}
}

// wireTable sums the wire by size and colour.
func wireTable(p plan.Plan) table {
	type reel struct{ code, size string }
	length := map[reel]float64{}
	unknown := map[reel]bool{}
	for _, w := range p.Wires {
		k := reel{code(w), size(w.MM2)}
		length[k] += w.Length
		unknown[k] = unknown[k] || w.Length <= 0
	}
	reels := slices.SortedFunc(maps.Keys(length), func(a, b reel) int {
		return cmp.Or(byNature(a.size, b.size), strings.Compare(a.code, b.code))
	})
	t := table{title: "Wire", head: []string{"", "mm2", "Colour", "In use m", "Get m"}}
	for _, k := range reels {
		use, get := fmt.Sprintf("%.2f", length[k]), fmt.Sprintf("%.1f", math.Ceil(length[k]*1.15*10)/10)
		if unknown[k] {
			use, get = use+" and more", blank
		}
		t.rows = append(t.rows, []string{tick, k.size, k.code, use, get})
	}
	return t
}

func sortedKeys(m map[string]int) []string {
	var ks []string
	for k := range m {
		ks = append(ks, k)
	}
	slices.SortFunc(ks, byNature)
	return ks
}
