package plan

func (n *network) addRest() {
	p := n.plan
	for i, w := range p.Block.Ways {
		bus := "block.15"
		if w.Feed == FromBattery {
			bus = "block.30"
		}
		n.ways = append(n.ways, wayEdge{busP: n.point(bus), outP: n.point(w.Name), way: i})
	}
	for i, l := range p.Loads {
		k, _ := KindOf(l.Kind)
		n.loads = append(n.loads, loadEdge{
			plusP: n.point(l.Name + ".+"), minusP: n.point(l.Name + ".-"), load: i,
			name: l.Name, ohms: p.ohms(l), led: k.LED, stops: k.Name == magneto,
			nominal: p.amps(l), lasts: l.DutyOf(), group: l.GroupOf(),
		})
	}
	for _, r := range p.Relays {
		c1, c2 := n.point(r.Name+".85"), n.point(r.Name+".86")
		n.addCoil(c1, c2, r.Name+" coil", p.Coil(r))
		com := n.point(r.Name + ".30")
		n.gates = append(n.gates, gateEdge{pa: com, pb: n.point(r.Name + ".87"), kind: makes, c1: c1, c2: c2, name: r.Name})
		if _, used := n.at[r.Name+".87a"]; used {
			n.gates = append(n.gates, gateEdge{pa: com, pb: n.point(r.Name + ".87a"), kind: breaks, c1: c1, c2: c2, name: r.Name})
		}
	}
	for _, part := range p.Parts {
		a, b := n.point(part.Name+".+"), n.point(part.Name+".-")
		switch part.Kind {
		case "diode":
			n.diodes = append(n.diodes, pair{a, b, part.Name})
		case "resistor":
			n.addCoil(a, b, part.Name, part.Ohms)
		case "link":
			n.join(part.Name+".+", part.Name+".-", "link "+part.Name, -1, 1e-3)
		case "flasher":
			g := gateEdge{pa: n.point(part.Name + ".49"), pb: n.point(part.Name + ".49a"), kind: blinks, c1: -1, name: part.Name}
			if c, used := n.at[part.Name+".31"]; used {
				g.c1 = c
			}
			n.gates = append(n.gates, g)
		}
	}
}

// contract turns points into nodes.
func (n *network) contract() {
	root := make([]int, len(n.names))
	for i := range root {
		root[i] = i
	}
	for _, e := range n.edges {
		unite(root, e.a, e.b)
	}
	n.node = make([]int, len(root))
	number := map[int]int{}
	for i := range root {
		r := find(root, i)
		k, ok := number[r]
		if !ok {
			k = len(number)
			number[r] = k
		}
		n.node[i] = k
	}
	n.nodes = len(number)
	for i := range n.contacts {
		c := &n.contacts[i]
		c.a, c.b = n.node[c.pa], n.node[c.pb]
	}
	for i := range n.gates {
		g := &n.gates[i]
		g.a, g.b = n.node[g.pa], n.node[g.pb]
		if g.c1 >= 0 {
			g.c1 = n.node[g.c1]
		}
		g.c2 = n.node[g.c2]
	}
	for i := range n.diodes {
		n.diodes[i].a, n.diodes[i].b = n.node[n.diodes[i].a], n.node[n.diodes[i].b]
	}
	for i := range n.ways {
		n.ways[i].bus, n.ways[i].out = n.node[n.ways[i].busP], n.node[n.ways[i].outP]
	}
	for i := range n.loads {
		n.loads[i].plus, n.loads[i].minus = n.node[n.loads[i].plusP], n.node[n.loads[i].minusP]
	}
	n.plus, n.minus = n.node[n.at["battery.+"]], n.node[n.at["battery.-"]]
}

func find(root []int, i int) int {
	for root[i] != i {
		root[i] = root[root[i]]
		i = root[i]
	}
	return i
}

func unite(root []int, a, b int) {
	a, b = find(root, a), find(root, b)
	if a != b {
		root[max(a, b)] = min(a, b)
	}
}
