package plan

import "slices"

// flowing is a network solved in one setting: the voltage of every point and
// the current of everything between two of them. Points that hang on nothing
// are at 0 V. Loads are resistors with their hot resistance, the battery holds
// nominal voltage.
type flowing struct {
	volts    []float64
	wire     []float64 // by plan wire, amps
	contact  []float64 // by network contact
	way      []float64 // by way
	gate     []float64 // by network gate: relays, flashers
	diode    []float64 // by network diode
	mainAmps float64
	key      float64 // most amps through a contact of a pod that has a key
}

type spring struct {
	a, b int
	y    float64
}

func (n *network) solve(s *state) *flowing {
	var all []spring
	add := func(a, b int, ohms float64) { all = append(all, spring{a, b, 1 / max(ohms, 1e-6)}) }
	for _, e := range n.edges {
		add(e.a, e.b, e.ohms)
	}
	for _, c := range n.contacts {
		if n.holds(c, s.set) {
			add(c.pa, c.pb, c.ohms)
		}
	}
	for i, g := range n.gates {
		if s.gate[i] {
			add(g.pa, g.pb, n.gateOhms(g))
		}
	}
	for _, w := range n.ways {
		if !s.blown(w) {
			add(w.busP, w.outP, fuseOhms)
		}
	}
	for _, l := range n.loads {
		add(l.plusP, l.minusP, l.ohms)
	}
	for _, d := range n.diodes {
		if n.conducts(s, d) {
			add(n.firstPoint(d.a), n.firstPoint(d.b), diodeOhms)
		}
	}
	v := eliminate(len(n.names), all, n.at["battery.+"], n.at["battery.-"], n.plan.Volts)
	f := &flowing{volts: v, wire: make([]float64, len(n.plan.Wires)), contact: make([]float64, len(n.contacts)), way: make([]float64, len(n.ways)),
		gate: make([]float64, len(n.gates)), diode: make([]float64, len(n.diodes))}
	amps := func(a, b int, ohms float64) float64 {
		i := (v[a] - v[b]) / max(ohms, 1e-6)
		return max(i, -i)
	}
	for _, e := range n.edges {
		if e.wire >= 0 {
			f.wire[e.wire] = amps(e.a, e.b, e.ohms)
		}
		if e.via == "main fuse" {
			f.mainAmps = amps(e.a, e.b, e.ohms)
		}
	}
	for i, c := range n.contacts {
		if n.holds(c, s.set) {
			f.contact[i] = amps(c.pa, c.pb, c.ohms)
			if n.plan.Pods[c.pod].Key != "" {
				f.key = max(f.key, f.contact[i])
			}
		}
	}
	for i, g := range n.gates {
		if s.gate[i] {
			f.gate[i] = amps(g.pa, g.pb, n.gateOhms(g))
		}
	}
	for i, d := range n.diodes {
		if n.conducts(s, d) {
			f.diode[i] = amps(n.firstPoint(d.a), n.firstPoint(d.b), diodeOhms)
		}
	}
	for i, w := range n.ways {
		if !s.blown(w) {
			f.way[i] = amps(w.busP, w.outP, fuseOhms)
		}
	}
	return f
}

// diodeOhms is what a conducting diode counts as. Its own 0.7 V are meant, so
// they are not held against the wires as drop.
const diodeOhms = 0.05

// conducts tells whether current can flow through a diode: its anode is live, or hangs
// behind a load whose way to earth the diode is. One between live and earth is a short,
// which prove finds; it is left out here.
func (n *network) conducts(s *state, d pair) bool {
	a, k := s.root[d.a], s.root[d.b]
	return s.live[a] != s.earth[k] && (s.live[a] && !s.earth[a] || s.earth[k])
}

func (n *network) gateOhms(g gateEdge) float64 {
	for _, r := range n.plan.Relays {
		if r.Name == g.name && r.ContactAmps >= 50 {
			return 0.0005
		}
	}
	return 0.005
}

func (n *network) firstPoint(node int) int { return slices.Index(n.node, node) }

// eliminate solves for the voltages with one point held at volts and one at 0,
// taking out the point with fewest neighbours first: a harness is nearly a
// tree, so hardly anything fills in.
func eliminate(count int, all []spring, plus, minus int, volts float64) []float64 {
	nb := make([]map[int]float64, count)
	for i := range nb {
		nb[i] = map[int]float64{}
	}
	for _, s := range all {
		if s.a != s.b {
			nb[s.a][s.b] += s.y
			nb[s.b][s.a] += s.y
		}
	}
	type step struct {
		at  int
		to  []int
		y   []float64
		sum float64
	}
	done := make([]bool, count)
	done[plus], done[minus] = true, true
	var steps []step
	for {
		best := -1
		for i := range nb {
			if !done[i] && (best < 0 || len(nb[i]) < len(nb[best])) {
				best = i
			}
		}
		if best < 0 {
			break
		}
		st := step{at: best}
		for k := range nb[best] {
			st.to = append(st.to, k)
		}
		slices.Sort(st.to)
		for _, k := range st.to {
			st.y = append(st.y, nb[best][k])
			st.sum += nb[best][k]
		}
		for i, a := range st.to {
			delete(nb[a], best)
			for j := i + 1; j < len(st.to); j++ {
				b := st.to[j]
				y := st.y[i] * st.y[j] / st.sum
				nb[a][b] += y
				nb[b][a] += y
			}
		}
		done[best] = true
		steps = append(steps, st)
	}
	v := make([]float64, count)
	v[plus] = volts
	for _, st := range slices.Backward(steps) {
		if st.sum == 0 {
			continue
		}
		for i, k := range st.to {
			v[st.at] += v[k] * st.y[i] / st.sum
		}
	}
	return v
}
