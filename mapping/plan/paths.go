package plan

import "slices"

// hop is one step of a path: the point reached and through what.
type hop struct {
	to   int
	via  string
	wire int
	ohms float64
	kind hopKind
	ref  int // contact, gate or way
}

type hopKind int

const (
	throughEdge hopKind = iota
	throughContact
	throughGate
	throughDiode
	throughWay
)

// links gives, for each point, what is joined to it in a state. Way fuses are
// included on demand.
func (n *network) links(s *state, fuses bool) [][]hop {
	out := make([][]hop, len(n.names))
	add := func(a, b int, h hop) {
		h.to = b
		out[a] = append(out[a], h)
		h.to = a
		out[b] = append(out[b], h)
	}
	for _, e := range n.edges {
		add(e.a, e.b, hop{via: e.via, wire: e.wire, ohms: e.ohms})
	}
	for i, c := range n.contacts {
		if n.holds(c, s.set) {
			add(c.pa, c.pb, hop{via: "contact in " + n.plan.Pods[c.pod].Name, wire: -1, ohms: c.ohms, kind: throughContact, ref: i})
		}
	}
	for i, g := range n.gates {
		if s.gate[i] {
			add(g.pa, g.pb, hop{via: g.name, wire: -1, ohms: 0.005, kind: throughGate, ref: i})
		}
	}
	if fuses {
		for i, w := range n.ways {
			add(w.busP, w.outP, hop{via: "fuse " + n.plan.Block.Ways[w.way].Name, wire: -1, ohms: fuseOhms, kind: throughWay, ref: i})
		}
	}
	return out
}

// walk finds a shortest way from a point to the first that is wanted.
func walk(links [][]hop, from int, wanted func(int) bool) []int {
	prev := make([]int, len(links))
	for i := range prev {
		prev[i] = -1
	}
	prev[from] = from
	queue := []int{from}
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		if wanted(at) {
			var path []int
			for ; at != from; at = prev[at] {
				path = append(path, at)
			}
			path = append(path, from)
			slices.Reverse(path)
			return path
		}
		for _, h := range links[at] {
			if prev[h.to] < 0 {
				prev[h.to] = at
				queue = append(queue, h.to)
			}
		}
	}
	return nil
}

// path names the points between two of them, fuses of ways not passed.
func (n *network) path(s *state, from, to string) []string {
	a, okA := n.at[from]
	b, okB := n.at[to]
	if !okA || !okB {
		return nil
	}
	return n.say(walk(n.links(s, false), a, func(i int) bool { return i == b }))
}

func (n *network) say(points []int) []string {
	var out []string
	for _, p := range points {
		name := shown(n.names[p])
		if len(out) == 0 || out[len(out)-1] != name {
			out = append(out, name)
		}
	}
	return out
}

// feedPath names the points from a source (a way, else the battery) through a
// load to earth; it has the point where the load is fed in any case.
func (n *network) feedPath(s *state, l loadEdge) []string {
	in, back := l.plusP, l.minusP
	if s.backward(l) {
		in, back = back, in
	}
	links := n.links(s, false)
	plain := links
	if len(n.diodes) > 0 {
		plain = n.links(s, false)
	}
	for _, d := range n.diodes { // current passes diodes towards the load only
		for pa := range n.names {
			if n.node[pa] != d.b {
				continue
			}
			for pb := range n.names {
				if n.node[pb] == d.a {
					links[pa] = append(links[pa], hop{to: pb, via: d.name, wire: -1, kind: throughDiode})
				}
			}
		}
	}
	battery := func(i int) bool { return i == n.at["battery.+"] }
	src := walk(links, in, n.isWayOut)
	if src == nil {
		src = walk(links, in, battery)
	}
	if src == nil { // the bus is fed backwards, by another way's output
		src = walk(n.links(s, true), in, battery)
	}
	if src == nil {
		src = []int{in}
	}
	slices.Reverse(src)
	out := n.say(src)
	return append(out, n.say(walk(plain, back, func(i int) bool { return i == n.at["battery.-"] }))...)
}

func (n *network) isWayOut(point int) bool {
	for _, w := range n.ways {
		if w.outP == point {
			return true
		}
	}
	return false
}
