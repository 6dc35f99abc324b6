package plan

import (
	"slices"
	"strconv"
)

func itoa(i int) string { return strconv.Itoa(i) }

// state is what a network is in one setting. Nets are numbered by their
// smallest node. Way fuses do not join nets: a net knows which ways' outputs it
// holds, and what is live is worked out through them.
type state struct {
	set     []int  // position of every switch
	root    []int  // node -> net
	gate    []bool // which gates hold
	ways    []uint64
	plus    []bool // holds the battery's plus, or a bus, without a way's fuse
	earth   []bool
	live    []bool // reached by the battery through whatever fuses
	chatter string // a relay that finds no rest
}

func newState(n *network) *state {
	return &state{
		set: make([]int, len(n.switches)), root: make([]int, n.nodes), gate: make([]bool, len(n.gates)),
		ways: make([]uint64, n.nodes), plus: make([]bool, n.nodes),
		earth: make([]bool, n.nodes), live: make([]bool, n.nodes),
	}
}

// switches are those that a contact depends on, by number, each once.
func (c contact) switches() []int {
	var out []int
	for _, cond := range c.when {
		for _, t := range cond {
			if t.sw >= 0 && !slices.Contains(out, t.sw) {
				out = append(out, t.sw)
			}
		}
	}
	return out
}

// stateIn is the state of a setting.
func (n *network) stateIn(set []int) *state {
	s := newState(n)
	copy(s.set, set)
	n.eval(s)
	return s
}

func (n *network) holds(c contact, set []int) bool {
	for _, cond := range c.when {
		ok := true
		for _, t := range cond {
			if t.sw < 0 || t.mask&(1<<set[t.sw]) == 0 {
				ok = false
				break
			}
		}
		if ok {
			return true
		}
	}
	return false
}

// eval fills in the state of the setting in s.set. Relays start at rest and
// move until nothing changes; what never comes to rest is named.
func (n *network) eval(s *state) {
	s.chatter = ""
	for i := range s.gate {
		s.gate[i] = n.gates[i].kind == breaks || n.gates[i].kind == blinks && n.gates[i].c1 < 0
	}
	for range len(n.gates) + 2 {
		n.nets(s)
		moved := ""
		for i, g := range n.gates {
			if on := n.gateHolds(s, g); on != s.gate[i] {
				s.gate[i], moved = on, g.name
			}
		}
		if moved == "" {
			s.chatter = ""
			return
		}
		s.chatter = moved
	}
}

func (n *network) gateHolds(s *state, g gateEdge) bool {
	if g.kind == blinks {
		return g.c1 < 0 || s.earth[s.root[g.c1]]
	}
	a, b := s.root[g.c1], s.root[g.c2]
	pulled := s.live[a] && s.earth[b] && !s.earth[a] || s.live[b] && s.earth[a] && !s.earth[b]
	return pulled == (g.kind == makes)
}

func (n *network) nets(s *state) {
	for i := range s.root {
		s.root[i] = i
	}
	for _, c := range n.contacts {
		if n.holds(c, s.set) {
			unite(s.root, c.a, c.b)
		}
	}
	for i, g := range n.gates {
		if s.gate[i] {
			unite(s.root, g.a, g.b)
		}
	}
	for i := range s.root {
		s.root[i] = find(s.root, i)
		s.ways[i], s.plus[i], s.earth[i], s.live[i] = 0, false, false, false
	}
	s.plus[s.root[n.plus]] = true
	s.live[s.root[n.plus]] = true
	s.earth[s.root[n.minus]] = true
	for i, w := range n.ways {
		s.ways[s.root[w.out]] |= 1 << i
		s.plus[s.root[w.bus]] = true
	}
	for changed := true; changed; {
		changed = false
		both := func(a, b int) {
			if s.live[a] != s.live[b] {
				s.live[a], s.live[b], changed = true, true, true
			}
		}
		for _, w := range n.ways {
			both(s.root[w.bus], s.root[w.out])
		}
		for _, d := range n.diodes {
			a, k := s.root[d.a], s.root[d.b]
			if s.live[a] && !s.live[k] {
				s.live[k], changed = true, true
			}
			if s.earth[k] && !s.earth[a] {
				s.earth[a], changed = true, true
			}
		}
	}
}

// fed tells whether a load has live on one side and earth on the other.
func (s *state) fed(l loadEdge) bool {
	a, b := s.root[l.plus], s.root[l.minus]
	return a != b && (s.live[a] && s.earth[b] && !s.earth[a] || s.live[b] && s.earth[a] && !s.earth[b])
}

// backward tells whether a load is fed the wrong way round.
func (s *state) backward(l loadEdge) bool {
	a, b := s.root[l.plus], s.root[l.minus]
	return a != b && s.live[b] && s.earth[a] && !s.earth[b]
}

// stopped tells whether what runs by itself is stopped: its plus is at earth.
func (s *state) stopped(l loadEdge) bool { return s.earth[s.root[l.plus]] }
