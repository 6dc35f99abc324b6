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
	carried := make([]float64, len(n.contacts))
	for i := range f.reach {
		f.reach[i] = make([]bool, n.nodes)
	}
	most := make([]float64, len(n.loads))
	calmest := make([]float64, len(n.loads))
	steady, peak := make([]float64, len(n.ways)), make([]float64, len(n.ways))
	for _, g := range n.groups() {
		if n.count(g) > maxSettings {
			continue
		}
		n.every(g, func(_ int, s *state) bool {
			held, dead := n.held(s.set), s.dead()
			for _, w := range g.ways {
				out := s.root[n.ways[w].out]
				for k := range n.nodes {
					if s.root[k] == out && k != n.minus {
						f.reach[w][k] = true
					}
				}
				steady[w], peak[w] = 0, 0
			}
			for li, l := range n.loads {
				if !s.fed(l) {
					continue
				}
				f.fed[li] = true
				f.ways[li] |= n.waysOf(s, l)
				for m := n.waysOf(s, l); m != 0; m &= m - 1 {
					w := bits.TrailingZeros64(m)
					if n.motor(l) {
						continue
					}
					peak[w] += n.amps(l)
					if n.duty(l) == Steady && held == 0 {
						steady[w] += n.amps(l)
					}
				}
			}
			for _, w := range g.ways {
				f.steady[w], f.peak[w] = max(f.steady[w], steady[w]), max(f.peak[w], peak[w])
			}
			for ci, c := range n.contacts {
				if dead || !g.nodes[c.a] && !g.nodes[c.b] || !n.holds(c, s.set) {
					continue
				}
				if sum := n.carried(s, s.root[c.a]) - 100*float64(held); sum > -1000 && f.through[ci] == nil || sum > carried[ci] {
					carried[ci], f.through[ci] = sum, slices.Clone(s.set)
				}
			}
			away := n.away(s)
			for _, li := range g.loads {
				l := n.loads[li]
				if dead || !s.fed(l) {
					continue
				}
				if f.calm[li] == nil || away < calmest[li] {
					calmest[li], f.calm[li] = away, slices.Clone(s.set)
				}
				sum := 1000 - 100*float64(held) // as few buttons held as can be
				for m := n.waysOf(s, l); m != 0; m &= m - 1 {
					sum += peak[bits.TrailingZeros64(m)]
				}
				if sum > most[li] {
					most[li], f.best[li] = sum, slices.Clone(s.set)
				}
			}
			return true
		})
	}
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
	return f
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
	s := newState(f.n)
	copy(s.set, f.best[li])
	f.n.eval(s)
	p := f.n.feedPath(s, f.n.loads[li])
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
	s := newState(n)
	copy(s.set, set)
	n.eval(s)
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
