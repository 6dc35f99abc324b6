package plan

import "slices"

// links gives, for each point, those joined to it in a state. Way fuses are
// included on demand.
func (n *network) links(s *state, fuses bool) [][]int {
	out := make([][]int, len(n.names))
	add := func(a, b int) {
		out[a] = append(out[a], b)
		out[b] = append(out[b], a)
	}
	for _, e := range n.edges {
		add(e.a, e.b)
	}
	for _, c := range n.contacts {
		if n.holds(c, s.set) {
			add(c.pa, c.pb)
		}
	}
	for i, g := range n.gates {
		if s.gate[i] {
			add(g.pa, g.pb)
		}
	}
	if fuses {
		for _, w := range n.ways {
			add(w.busP, w.outP)
		}
	}
	return out
}

// walk finds a shortest way from a point to the first that is wanted.
func walk(links [][]int, from int, wanted func(int) bool) []int {
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
		for _, to := range links[at] {
			if prev[to] < 0 {
				prev[to] = at
				queue = append(queue, to)
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
					links[pa] = append(links[pa], pb)
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
