package plan

import (
	"fmt"
	"math"
	"slices"
)

// glow looks for current through loads that are not fed: nets that neither
// battery nor earth reaches, but that hang between the two through loads in a
// row. What each load then gets is worked out from its resistance.
func (p *prover) glow(i int, s *state) {
	n := p.n
	volts := n.floating(s)
	if volts == nil {
		return
	}
	for _, li := range p.g.loads {
		l := n.loads[li]
		v := volts(l)
		if s.fed(l) || math.Abs(v) < n.plan.Volts*glowPercent/100 {
			continue
		}
		p.note(i, BackFeed, l.name, func(st *state) (string, []string) {
			v := n.floating(st)(l)
			return fmt.Sprintf("%s gets %s V through another load without being switched on: give that load its own earth or feed, or a diode", l.name, trim(round(math.Abs(v), 1))), n.glowPath(st, l)
		})
	}
}

// floating gives the voltage across any load, or nil if no net floats between
// live and earth.
func (n *network) floating(s *state) func(loadEdge) float64 {
	number := map[int]int{}
	var nets []int
	floats := func(r int) bool { return !s.live[r] && !s.earth[r] }
	for _, l := range n.loads {
		for _, r := range []int{s.root[l.plus], s.root[l.minus]} {
			if _, ok := number[r]; !ok && floats(r) {
				number[r] = len(nets)
				nets = append(nets, r)
			}
		}
	}
	if len(nets) == 0 || !n.between(s, number, len(nets)) {
		return nil
	}
	v := n.solveFloating(s, number, len(nets))
	at := func(r int) float64 {
		if k, ok := number[r]; ok {
			return v[k]
		}
		if s.earth[r] {
			return 0
		}
		return n.plan.Volts
	}
	return func(l loadEdge) float64 { return at(s.root[l.plus]) - at(s.root[l.minus]) }
}

// between tells whether some chain of floating nets touches live at one load
// and earth at another.
func (n *network) between(s *state, number map[int]int, count int) bool {
	root := make([]int, count)
	for i := range root {
		root[i] = i
	}
	for _, l := range n.loads {
		a, okA := number[s.root[l.plus]]
		b, okB := number[s.root[l.minus]]
		if okA && okB {
			unite(root, a, b)
		}
	}
	for _, d := range n.diodes {
		a, okA := number[s.root[d.a]]
		b, okB := number[s.root[d.b]]
		if okA && okB {
			unite(root, a, b)
		}
	}
	hot, cold := make([]bool, count), make([]bool, count)
	mark := func(a, b int) {
		k, ok := number[a]
		if _, also := number[b]; !ok || also {
			return
		}
		if s.earth[b] {
			cold[find(root, k)] = true
		} else {
			hot[find(root, k)] = true
		}
	}
	for _, l := range n.loads {
		mark(s.root[l.plus], s.root[l.minus])
		mark(s.root[l.minus], s.root[l.plus])
	}
	for i := range count {
		if hot[i] && cold[i] {
			return true
		}
	}
	return false
}

// solveFloating solves for the floating nets' voltages. Diodes start open and
// are closed where current would flow, until nothing changes.
func (n *network) solveFloating(s *state, number map[int]int, count int) []float64 {
	on := make([]bool, len(n.diodes))
	var v []float64
	for range 2*len(n.diodes) + 1 {
		g := make([][]float64, count)
		rhs := make([]float64, count)
		for i := range g {
			g[i] = make([]float64, count)
			g[i][i] = 1e-9 // a net that hangs on nothing settles at 0
		}
		stamp := func(ra, rb int, ohms float64) {
			a, okA := number[ra]
			b, okB := number[rb]
			y := 1 / max(ohms, 1e-6)
			if okA {
				g[a][a] += y
			}
			if okB {
				g[b][b] += y
			}
			switch {
			case okA && okB:
				g[a][b] -= y
				g[b][a] -= y
			case okA && !s.earth[rb]:
				rhs[a] += y * n.plan.Volts
			case okB && !s.earth[ra]:
				rhs[b] += y * n.plan.Volts
			}
		}
		for _, l := range n.loads {
			if s.root[l.plus] != s.root[l.minus] {
				stamp(s.root[l.plus], s.root[l.minus], l.ohms)
			}
		}
		for i, d := range n.diodes {
			if on[i] && s.root[d.a] != s.root[d.b] {
				stamp(s.root[d.a], s.root[d.b], 0.01)
			}
		}
		v = gauss(g, rhs)
		if !n.flip(s, number, v, on) {
			break
		}
	}
	return v
}

func (n *network) flip(s *state, number map[int]int, v []float64, on []bool) bool {
	at := func(r int) float64 {
		if k, ok := number[r]; ok {
			return v[k]
		}
		if s.earth[r] {
			return 0
		}
		return n.plan.Volts
	}
	changed := false
	for i, d := range n.diodes {
		a, b := s.root[d.a], s.root[d.b]
		_, okA := number[a]
		_, okB := number[b]
		if !okA && !okB {
			continue
		}
		if want := at(a) > at(b)+1e-6; want != on[i] && (want || at(a) < at(b)) {
			on[i], changed = want, true
		}
	}
	return changed
}

// gauss solves a small dense system with partial pivoting; both arguments are
// used up.
func gauss(a [][]float64, b []float64) []float64 {
	n := len(b)
	for c := range n {
		best := c
		for r := c + 1; r < n; r++ {
			if math.Abs(a[r][c]) > math.Abs(a[best][c]) {
				best = r
			}
		}
		a[c], a[best] = a[best], a[c]
		b[c], b[best] = b[best], b[c]
		if a[c][c] == 0 {
			continue
		}
		for r := c + 1; r < n; r++ {
			f := a[r][c] / a[c][c]
			if f == 0 {
				continue
			}
			for k := c; k < n; k++ {
				a[r][k] -= f * a[c][k]
			}
			b[r] -= f * b[c]
		}
	}
	x := make([]float64, n)
	for c := n - 1; c >= 0; c-- {
		sum := b[c]
		for k := c + 1; k < n; k++ {
			sum -= a[c][k] * x[k]
		}
		if a[c][c] != 0 {
			x[c] = sum / a[c][c]
		}
	}
	return x
}

// glowPath names the loads in the chain, from live through the one that glows
// to earth.
func (n *network) glowPath(s *state, l loadEdge) []string {
	in, liveIn := n.chain(s, l, s.root[l.plus])
	out, _ := n.chain(s, l, s.root[l.minus])
	slices.Reverse(in)
	path := append(append(in, l.name), out...)
	if !liveIn {
		slices.Reverse(path)
	}
	return path
}

// chain names the loads, l aside, through which a net hangs on live or earth,
// nearest first, and says which; none if it is one of the two itself.
func (n *network) chain(s *state, l loadEdge, net int) (names []string, live bool) {
	type step struct{ net, prev, load int }
	steps := []step{{net, -1, -1}}
	seen := map[int]bool{net: true}
	for i := 0; i < len(steps); i++ {
		if at := steps[i].net; s.live[at] || s.earth[at] {
			for k := i; steps[k].prev >= 0; k = steps[k].prev {
				names = append(names, n.loads[steps[k].load].name)
			}
			slices.Reverse(names)
			return names, s.live[at]
		}
		for k, m := range n.loads {
			a, b := s.root[m.plus], s.root[m.minus]
			if m.name == l.name || a == b || a != steps[i].net && b != steps[i].net {
				continue
			}
			if to := a + b - steps[i].net; !seen[to] {
				seen[to] = true
				steps = append(steps, step{to, i, k})
			}
		}
	}
	return nil, false
}
