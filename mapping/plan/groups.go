package plan

import (
	"math/bits"
	"slices"
)

// Two parts of a harness that share nothing but the battery's two lugs cannot
// touch each other, so their switches need not be tried against each other.
// A group is a set of switches whose every combination has to be tried, with
// the loads and ways that it decides. Trying each group by itself is exact; a
// test holds it against the full product.
type group struct {
	switches []int
	loads    []int // of network.loads
	ways     []int // of network.ways
	nodes    []bool
}

// switchSet is a set of switches; a plan has at most 256.
type switchSet [4]uint64

func (s *switchSet) add(i int) { s[i/64] |= 1 << (i % 64) }

func (s *switchSet) join(o switchSet) bool {
	old := *s
	for i := range s {
		s[i] |= o[i]
	}
	return *s != old
}

func (s switchSet) within(o switchSet) bool {
	for i := range s {
		if s[i]&^o[i] != 0 {
			return false
		}
	}
	return true
}

func (s switchSet) list() []int {
	var out []int
	for i, w := range s {
		for ; w != 0; w &= w - 1 {
			out = append(out, i*64+bits.TrailingZeros64(w))
		}
	}
	return out
}

// areas numbers the nodes by the area that they lie in: nodes that contacts,
// gates, diodes or loads could ever join otherwise than through a lug.
func (n *network) areas() []int {
	root := make([]int, n.nodes)
	for i := range root {
		root[i] = i
	}
	meet := func(a, b int) {
		if a != n.plus && a != n.minus && b != n.plus && b != n.minus {
			unite(root, a, b)
		}
	}
	for _, c := range n.contacts {
		meet(c.a, c.b)
	}
	for _, g := range n.gates {
		meet(g.a, g.b)
	}
	for _, d := range n.diodes {
		meet(d.a, d.b)
	}
	for _, l := range n.loads {
		meet(l.plus, l.minus)
	}
	for i := range root {
		root[i] = find(root, i)
	}
	return root
}

func (n *network) groups() []group {
	area := n.areas()
	sets := make([]switchSet, n.nodes)
	for _, c := range n.contacts {
		for _, at := range []int{c.a, c.b} {
			for _, cond := range c.when {
				for _, t := range cond {
					if t.sw >= 0 {
						sets[area[at]].add(t.sw)
					}
				}
			}
		}
	}
	for i, l := range n.plan.Loads { // what it is meant to follow is tried too
		at := n.loads[i].plus
		if at == n.plus || at == n.minus {
			at = n.loads[i].minus
		}
		for _, w := range l.Works {
			for _, c := range splitWhen(w) {
				for k, sw := range n.switches {
					if sw.name == c.name {
						sets[area[at]].add(k)
					}
				}
			}
		}
	}
	// what an area's life depends on: its ways' bus, its relays' coils
	type dep struct{ on, of int }
	var deps []dep
	for _, g := range n.gates {
		for _, end := range []int{g.a, g.b} {
			if g.c1 >= 0 {
				deps = append(deps, dep{area[end], area[g.c1]})
			}
			if g.kind != blinks {
				deps = append(deps, dep{area[end], area[g.c2]})
			}
		}
	}
	held := map[int][]wayEdge{}
	for _, w := range n.ways {
		deps = append(deps, dep{area[w.out], area[w.bus]})
		held[area[w.out]] = append(held[area[w.out]], w)
	}
	for a, ws := range held {
		for _, w := range ws {
			if w.bus != ws[0].bus || area[w.bus] == a || a == area[n.plus] {
				for _, v := range ws { // a way could feed a bus backwards
					deps = append(deps, dep{area[v.bus], a})
				}
			}
		}
	}
	// a way's output that a contact can join to the lug feeds its bus backwards
	for _, c := range n.contacts {
		for _, w := range n.ways {
			if c.a == n.plus && area[c.b] == area[w.out] || c.b == n.plus && area[c.a] == area[w.out] {
				deps = append(deps, dep{area[w.bus], area[w.out]})
			}
		}
	}
	for changed := true; changed; {
		changed = false
		for _, d := range deps {
			if sets[d.on].join(sets[d.of]) {
				changed = true
			}
		}
	}
	return n.assign(area, sets)
}

// assign gives every load and way to a smallest number of groups: an area
// whose switches are a part of another's is tried along with that one.
func (n *network) assign(area []int, sets []switchSet) []group {
	var uniq []switchSet
	uniq = append(uniq, switchSet{})
	for i := range sets {
		if area[i] == i && !slices.Contains(uniq, sets[i]) {
			uniq = append(uniq, sets[i])
		}
	}
	var tops []switchSet
	for _, u := range uniq {
		inside := false
		for _, v := range uniq {
			inside = inside || u != v && u.within(v)
		}
		if !inside {
			tops = append(tops, u)
		}
	}
	slices.SortFunc(tops, func(a, b switchSet) int {
		return slices.Compare(a.list(), b.list())
	})
	out := make([]group, len(tops))
	home := func(s switchSet) int {
		for i, t := range tops {
			if s.within(t) {
				return i
			}
		}
		return 0
	}
	for i, t := range tops {
		out[i].switches = t.list()
		out[i].nodes = make([]bool, n.nodes)
	}
	for i := range n.nodes {
		out[home(sets[area[i]])].nodes[i] = true
	}
	for i, l := range n.loads {
		s := sets[area[l.plus]]
		if l.plus == n.plus || l.plus == n.minus {
			s = sets[area[l.minus]]
		}
		h := &out[home(s)]
		h.loads = append(h.loads, i)
	}
	for i, w := range n.ways {
		h := &out[home(sets[area[w.out]])]
		h.ways = append(h.ways, i)
	}
	return out
}

// maxSettings bounds what is tried for one group.
const maxSettings = 1 << 20

// count is the number of settings of a group, at most maxSettings+1.
func (n *network) count(g group) int {
	total := 1
	for _, s := range g.switches {
		total *= len(n.switches[s].sw.Positions)
		if total > maxSettings {
			return maxSettings + 1
		}
	}
	return total
}

// every calls f with the state of each setting of a group, all other switches
// at rest, until f says false.
func (n *network) every(g group, f func(i int, s *state) bool) {
	s := newState(n)
	for i, sw := range n.switches {
		s.set[i] = sw.rest
	}
	total := n.count(g)
	for i := range total {
		n.put(g, i, s.set)
		n.eval(s)
		if !f(i, s) {
			return
		}
	}
}

// put sets the switches of a group to its i-th setting; the last switch moves
// fastest.
func (n *network) put(g group, i int, set []int) {
	for k := len(g.switches) - 1; k >= 0; k-- {
		sw := g.switches[k]
		m := len(n.switches[sw].sw.Positions)
		set[sw] = i % m
		i /= m
	}
}
