package plan

import "strings"

// What stands behind which fuse, wire by wire.

// behind tells for a wire which ways' fuses it stands behind, as a mask.
func (f *facts) behind(wire int) uint64 {
	w := f.n.plan.Wires[wire]
	from, _ := f.n.ends(w)
	a := f.n.node[from]
	var m uint64
	for i := range f.reach {
		if f.reach[i][a] {
			m |= 1 << i
		}
	}
	return m
}

// fuseOver is the largest fuse in front of a wire: of the ways that it stands
// behind, else the main or the charging fuse, 0 if there is none. What names
// it.
func (f *facts) fuseOver(wire int, main, charge map[int]bool) (amps float64, what string) {
	for m, i := f.behind(wire), 0; i < len(f.reach); i++ {
		if m&(1<<i) != 0 {
			if w := f.n.plan.Block.Ways[f.n.ways[i].way]; w.Fuse > amps {
				amps, what = w.Fuse, w.Name
			}
		}
	}
	if amps > 0 {
		return amps, what
	}
	at, _ := f.n.ends(f.n.plan.Wires[wire])
	switch {
	case main[at]:
		return f.n.plan.Supply.MainFuse, "main"
	case charge[at]:
		return f.n.plan.Supply.ChargeFuse, "charge"
	}
	return 0, ""
}

// feeder is the fuse to which a wire leads from the battery, the main or the charging
// one; 0 for another wire. A short behind that fuse flows through the wire until it opens.
func (p *Plan) feeder(w Wire) (amps float64, what string) {
	other := w.To
	if other == "battery.+" {
		other = w.From
	} else if w.From != "battery.+" {
		return 0, ""
	}
	switch other {
	case "main.in":
		return p.Supply.MainFuse, "main"
	case "charge.out":
		return p.Supply.ChargeFuse, "charge"
	}
	return 0, ""
}

// behindPoint spreads from a point along wires, plugs, contacts in any
// position and relays in either, but through no fuse: everything that could be
// live behind it. Earth stops it.
func (n *network) behindPoint(from string) map[int]bool {
	seen := map[int]bool{}
	start, ok := n.at[from]
	if !ok {
		return seen
	}
	nb := make([][]int, len(n.names))
	add := func(a, b int) { nb[a], nb[b] = append(nb[a], b), append(nb[b], a) }
	for _, e := range n.edges {
		if !strings.HasSuffix(e.via, " fuse") {
			add(e.a, e.b)
		}
	}
	for _, c := range n.contacts {
		add(c.pa, c.pb)
	}
	for _, g := range n.gates {
		add(g.pa, g.pb)
	}
	stop := n.at["battery.-"]
	seen[start] = true
	for queue := []int{start}; len(queue) > 0; queue = queue[1:] {
		for _, k := range nb[queue[0]] {
			if !seen[k] && k != stop && n.node[k] != n.minus {
				seen[k] = true
				queue = append(queue, k)
			}
		}
	}
	return seen
}

// limit is the largest fuse that everything behind a way allows, and what sets
// it: its thinnest wire or a pod's own wires.
func (f *facts) limit(way int) (amps float64, what string) {
	amps = 1e9
	take := func(mm2 float64, name string) {
		if mm2 <= 0 {
			return
		}
		if s := anySize(mm2); s.FuseMax < amps {
			amps, what = s.FuseMax, name
		}
	}
	for i, w := range f.n.plan.Wires {
		if f.behind(i)&(1<<way) != 0 {
			take(w.MM2, w.Name)
		}
	}
	for _, pod := range f.n.plan.Pods {
		for _, e := range pod.Desc.Ends {
			if f.reach[way][f.n.node[f.n.at[pod.Name+"."+string(e.ID)]]] {
				take(pod.wire(), "pod "+pod.Name)
				break
			}
		}
	}
	if what == "" {
		return 0, ""
	}
	return amps, what
}

func (p Pod) wire() float64 {
	if p.WireMM2 > 0 {
		return p.WireMM2
	}
	return 0.35
}

// most is what a pod's contact may carry.
func (p Pod) most() float64 {
	switch {
	case p.MaxAmps > 0:
		return p.MaxAmps
	case p.wire() < 0.5:
		return 3
	}
	return 5
}
