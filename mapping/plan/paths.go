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
	feed, back := n.wayOf(s, l)
	return append(feed, back...)
}

// wayOf is feedPath in two parts: from the source to the load's live side, and from its
// other side to earth. It goes through diodes point by point, each the way that it lets
// current pass.
func (n *network) wayOf(s *state, l loadEdge) (feed, back []string) {
	in, out := l.plusP, l.minusP
	if s.backward(l) {
		in, out = out, in
	}
	links := func(fuses, upstream bool) [][]int {
		all := n.links(s, fuses)
		for _, d := range n.diodes {
			from, to := n.at[d.name+".+"], n.at[d.name+".-"]
			if upstream {
				from, to = to, from
			}
			all[from] = append(all[from], to)
		}
		return all
	}
	battery := func(i int) bool { return i == n.at["battery.+"] }
	up := links(false, true)
	src := walk(up, in, n.isWayOut)
	if src == nil {
		src = walk(up, in, battery)
	}
	if src == nil { // the bus is fed backwards, by another way's output
		src = walk(links(true, true), in, battery)
	}
	if src == nil {
		src = []int{in}
	}
	return n.say(reversed(src)), n.say(walk(links(false, false), out, func(i int) bool { return i == n.at["battery.-"] }))
}

func reversed[T any](s []T) []T {
	out := slices.Clone(s)
	slices.Reverse(out)
	return out
}

// onPath tells whether a path goes through a contact: its two points follow each other there.
func (n *network) onPath(path []string, c contact) bool {
	a, b := n.names[c.pa], n.names[c.pb]
	for k := 1; k < len(path); k++ {
		if path[k-1] == a && path[k] == b || path[k-1] == b && path[k] == a {
			return true
		}
	}
	return false
}

func (n *network) isWayOut(point int) bool {
	for _, w := range n.ways {
		if w.outP == point {
			return true
		}
	}
	return false
}

// diodesOf counts the diodes that a load's current passes on its way in and on its way out.
func (n *network) diodesOf(s *state, l loadEdge) (before, behind int) {
	hot, cold := s.root[l.plus], s.root[l.minus]
	if s.backward(l) {
		hot, cold = cold, hot
	}
	return n.diodesTo(hot, func(net int) bool { return s.plus[net] || s.ways[net] != 0 }, func(d pair) (at, next int, ok bool) {
			return s.root[d.b], s.root[d.a], s.live[s.root[d.a]]
		}), n.diodesTo(cold, func(net int) bool { return net == s.root[n.minus] }, func(d pair) (at, next int, ok bool) {
			return s.root[d.a], s.root[d.b], s.earth[s.root[d.b]]
		})
}

// diodesTo is the fewest diodes from a net to one that is wanted, 0 if there is no way.
func (n *network) diodesTo(net int, wanted func(net int) bool, step func(pair) (at, next int, ok bool)) int {
	seen := map[int]int{net: 0}
	for queue := []int{net}; len(queue) > 0; queue = queue[1:] {
		if wanted(queue[0]) {
			return seen[queue[0]]
		}
		for _, d := range n.diodes {
			at, next, ok := step(d)
			if _, old := seen[next]; ok && !old && at == queue[0] {
				seen[next] = seen[at] + 1
				queue = append(queue, next)
			}
		}
	}
	return 0
}

func manyDiodes(count int) string {
	if count == 1 {
		return "its diode"
	}
	return itoa(count) + " diodes"
}

// wiredTo tells whether wires join two points, whatever the frame does.
func (n *network) wiredTo(from, to int) bool {
	root := make([]int, len(n.names))
	for i := range root {
		root[i] = i
	}
	for _, e := range n.edges {
		if e.wire >= 0 || e.via != onFrame {
			unite(root, e.a, e.b)
		}
	}
	return find(root, from) == find(root, to)
}
