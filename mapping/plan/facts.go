package plan

import (
	"math/bits"
	"slices"
)

// facts is what one pass over all settings of a network collects.
type facts struct {
	n        *network
	reach    [][]bool   // way -> node: joined to its output in some setting
	fed      []bool     // load of the network: fed in some setting
	ways     []uint64   // load -> ways that feed it in some setting
	best     [][]int    // load -> a setting in which it is fed and its ways are busiest; nil
	calm     [][]int    // load -> the setting that feeds it with fewest levers away from rest; nil
	through  [][]int    // contact -> a setting in which current goes through it; nil
	steady   []float64  // way -> most steady amps
	peak     []float64  // way -> most amps, starter motors aside
	loadsOf  [][]string // way -> names of its loads
	paths    map[int][]string
	total    []int // setting in which most amps flow in all
	totalAll float64
}

// gather tries every setting of every group once. Groups that are too large
// are left out; prove has said so.
func gather(n *network) *facts {
	f := &facts{
		n: n, reach: make([][]bool, len(n.ways)), fed: make([]bool, len(n.loads)),
		ways: make([]uint64, len(n.loads)), best: make([][]int, len(n.loads)), calm: make([][]int, len(n.loads)),
		steady: make([]float64, len(n.ways)), peak: make([]float64, len(n.ways)),
		loadsOf: make([][]string, len(n.ways)), through: make([][]int, len(n.contacts)),
		paths: map[int][]string{},
	}
	for i := range f.reach {
		f.reach[i] = make([]bool, n.nodes)
	}
	t := &gathering{facts: f, carried: make([]float64, len(n.contacts)), most: make([]float64, len(n.loads)),
		calmest: make([]float64, len(n.loads)), steadyNow: make([]float64, len(n.ways)), peakNow: make([]float64, len(n.ways))}
	for _, g := range n.groups() {
		if n.count(g) > maxSettings {
			continue
		}
		n.every(g, func(_ int, s *state) bool {
			held := n.held(s.set)
			t.addReach(g, s)
			t.addAmps(g, s, held)
			if s.dead() { // a short draws all there is: nothing is sized by that
				return true
			}
			t.addContacts(g, s, held)
			t.addLoads(g, s, held)
			return true
		})
	}
	f.sum()
	return f
}

// gathering is what gather keeps while it goes through the settings.
type gathering struct {
	*facts
	carried            []float64 // by contact, in the setting of through
	most               []float64 // by load, in the setting of best
	calmest            []float64 // by load, in that of calm
	steadyNow, peakNow []float64 // by way, in the setting at hand
}

// addReach notes what the ways of a group are joined to.
func (t *gathering) addReach(g group, s *state) {
	for _, w := range g.ways {
		out := s.root[t.n.ways[w].out]
		for k := range t.n.nodes {
			if s.root[k] == out && k != t.n.minus {
				t.reach[w][k] = true
			}
		}
	}
}

// addAmps notes which ways feed which loads, and what the group's ways carry.
func (t *gathering) addAmps(g group, s *state, held int) {
	n := t.n
	for _, w := range g.ways {
		t.steadyNow[w], t.peakNow[w] = 0, 0
	}
	for li, l := range n.loads {
		if !s.fed(l) {
			continue
		}
		t.fed[li] = true
		ways := n.waysOf(s, l)
		t.ways[li] |= ways
		if n.motor(l) {
			continue
		}
		for ; ways != 0; ways &= ways - 1 {
			w := bits.TrailingZeros64(ways)
			t.peakNow[w] += n.amps(l)
			if n.duty(l) == Steady && held == 0 {
				t.steadyNow[w] += n.amps(l)
			}
		}
	}
	for _, w := range g.ways {
		t.steady[w], t.peak[w] = max(t.steady[w], t.steadyNow[w]), max(t.peak[w], t.peakNow[w])
	}
}

// addContacts notes a setting in which most goes through each contact.
func (t *gathering) addContacts(g group, s *state, held int) {
	for ci, c := range t.n.contacts {
		if !g.nodes[c.a] && !g.nodes[c.b] || !t.n.holds(c, s.set) {
			continue
		}
		if sum := t.n.carried(s, s.root[c.a]) - 100*float64(held); sum > -1000 && t.through[ci] == nil || sum > t.carried[ci] {
			t.carried[ci], t.through[ci] = sum, slices.Clone(s.set)
		}
	}
}

// addLoads notes a setting in which the ways of each load are busiest, with as few
// buttons held as can be, and one that feeds it with the fewest levers moved.
func (t *gathering) addLoads(g group, s *state, held int) {
	away := t.n.away(s)
	for _, li := range g.loads {
		l := t.n.loads[li]
		if !s.fed(l) {
			continue
		}
		if t.calm[li] == nil || away < t.calmest[li] {
			t.calmest[li], t.calm[li] = away, slices.Clone(s.set)
		}
		sum := 1000 - 100*float64(held)
		for m := t.n.waysOf(s, l); m != 0; m &= m - 1 {
			sum += t.peakNow[bits.TrailingZeros64(m)]
		}
		if sum > t.most[li] {
			t.most[li], t.best[li] = sum, slices.Clone(s.set)
		}
	}
}

// sum draws together what was found setting by setting: the loads of each way, the
// busiest setting of each load over all groups, and of the whole.
func (f *facts) sum() {
	n := f.n
	for li, l := range n.loads {
		for m := f.ways[li]; m != 0; m &= m - 1 {
			w := bits.TrailingZeros64(m)
			f.loadsOf[w] = append(f.loadsOf[w], l.name)
		}
		if f.best[li] != nil {
			f.best[li] = n.busiest(f.best[li], l)
		}
	}
	for li := range n.loads {
		if f.best[li] == nil || n.motor(n.loads[li]) {
			continue
		}
		if sum := n.flow(f.best[li]); sum > f.totalAll {
			f.totalAll, f.total = sum, f.best[li]
		}
	}
}

func (n *network) motor(l loadEdge) bool { return l.group == Motor }

func (n *network) amps(l loadEdge) float64 { return l.nominal }

func (n *network) duty(l loadEdge) Duty { return l.lasts }

// path is a load's way from its source and on to earth in its busiest setting,
// worked out once.
func (f *facts) path(li int) []string {
	if p, ok := f.paths[li]; ok {
		return p
	}
	p := f.n.feedPath(f.n.stateIn(f.best[li]), f.n.loads[li])
	f.paths[li] = p
	return p
}

// carried is the sum of the amps of the loads that a net feeds or earths in a
// state, a thousand less if there is none.
func (n *network) carried(s *state, net int) float64 {
	sum := -2000.0
	for _, l := range n.loads {
		if (s.root[l.plus] == net || s.root[l.minus] == net) && s.fed(l) {
			sum = max(sum, 0) + n.amps(l)
		}
	}
	return sum
}

// held counts the momentary switches that are away from rest.
func (n *network) held(set []int) int {
	count := 0
	for i, sw := range n.switches {
		if sw.sw.Momentary && set[i] != sw.rest {
			count++
		}
	}
	return count
}

// away counts the switches away from rest in a state, and a little for every load that is fed:
// of two settings that one switch makes, the one in which less works is the calmer.
func (n *network) away(s *state) float64 {
	count := 0.0
	for i, sw := range n.switches {
		if s.set[i] != sw.rest {
			count++
		}
	}
	for _, l := range n.loads {
		if s.fed(l) {
			count += 0.5 / float64(len(n.loads)+1)
		}
	}
	return count
}

// waysOf is the set of ways that feed a load in a state; through a diode, the
// ways of its anode.
func (n *network) waysOf(s *state, l loadEdge) uint64 {
	hot := s.root[l.plus]
	if s.backward(l) {
		hot = s.root[l.minus]
	}
	m := s.ways[hot]
	if m != 0 {
		return m
	}
	for _, d := range n.diodes {
		if s.root[d.b] == hot && s.live[s.root[d.a]] {
			m |= s.ways[s.root[d.a]]
		}
	}
	return m
}

// flow is the sum of all amps in a setting, starter motors aside.
func (n *network) flow(set []int) float64 {
	s := n.stateIn(set)
	sum := 0.0
	for _, l := range n.loads {
		if s.fed(l) && !n.motor(l) {
			sum += n.amps(l)
		}
	}
	return sum
}

// busiest moves the latching switches, one after another, to where most
// current flows while the load stays fed. Buttons stay as they are: nobody
// rides with the horn and the flash held.
func (n *network) busiest(set []int, l loadEdge) []int {
	set = slices.Clone(set)
	s := newState(n)
	sum := n.flow(set)
	for range 2 {
		for i, sw := range n.switches {
			if sw.sw.Momentary {
				continue
			}
			keep := set[i]
			for q := range sw.sw.Positions {
				if q == keep {
					continue
				}
				set[i] = q
				copy(s.set, set)
				n.eval(s)
				if f := n.flow(set); s.fed(l) && !s.dead() && f > sum+1e-9 {
					sum, keep = f, q
				}
			}
			set[i] = keep
		}
	}
	return set
}
