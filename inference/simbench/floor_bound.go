package simbench

import (
	"math"
	"slices"

	"bellout/mapping"
)

// bound gives bench seconds that no proof by bunches can do without, by
// counting, under the same obligation as the search (summed weight of rivals
// under 1 in 200). Each part is a necessary condition by itself:
//
//   - clips: ends that are joined in some setting form a group, and an end
//     can stand for its group at most. Two groups are crossed when an end of
//     each is on opposite clips, which the rivals "one always-link more" ask
//     for, but for the lightest pairs whose weights sum to under 1 in 200. Two
//     groups that each stay on one and the same clip for good are never
//     crossed, so most groups have to be put on both. Putting an end on costs at
//     least 5 seconds, the two first 6; moving one over at least one more;
//   - instructions: k bunchings part at most 2^k lots of groups, so crossing all
//     but the pairs that may be left takes a least number of bunchings (Kautz's
//     ceil(log2 q) where none may be left), each with an instruction;
//   - readings: one reading speaks against "one link more in this position" for
//     at most n*n/4 pairs of ends, by at most the price of a silence each; each
//     one reading serves one position of each switch, and one combination of
//     positions of every two or three switches, so the most asking switch, pair
//     or triple says how many readings there must be;
//   - levers: what the most asking two or three switches need together, and each
//     other switch by itself.
//
// What the bound leaves out: that these needs compete, slipped clips and wrong
// levers. It is therefore low.
func (p *prover) bound() float64 {
	if p.leads == mapping.PairLeads {
		return 0
	}
	groups := p.everJoined()
	always := p.unread(groups, nil)
	spare := spareOf(always)
	n, q := len(p.w.Pod.Ends), len(groups)
	t := leastClips(q, spare) + 2*float64(bunchings(q, spare))
	most := readingsNeeded([][]float64{p.unread(singleEnds(n), nil)}, n)
	alone := make([]float64, len(p.o.rest)) // lever seconds of each switch by itself
	for k, sw := range p.w.Pod.Switches {
		low, high := p.o.rest[k], p.o.rest[k]
		var classes [][]float64
		for pos := range sw.Positions {
			class := p.unread(singleEnds(n), []ModelTerm{{k, 1 << pos}})
			classes = append(classes, class)
			need := readingsNeeded([][]float64{class}, n)
			switch {
			case need == 0:
			case sw.Momentary && pos != p.o.rest[k]:
				alone[k] += 3 * float64(need)
			default:
				low, high = min(low, pos), max(high, pos)
			}
		}
		most = max(most, readingsNeeded(classes, n))
		if !sw.Momentary {
			alone[k] = 2 * float64(high-low+min(high-p.o.rest[k], p.o.rest[k]-low))
		}
	}
	levers := sumOf(alone)
	for _, set := range p.switchSets() {
		classes, combos := p.combos(set, n)
		most = max(most, readingsNeeded(classes, n))
		together := leversNeeded(classes, combos, n)
		for k, v := range alone {
			if !slices.Contains(set, k) {
				together += v
			}
		}
		levers = max(levers, together)
	}
	return t + levers + 1.2*float64(most)
}

func sumOf(xs []float64) float64 {
	t := 0.0
	for _, x := range xs {
		t += x
	}
	return t
}

// switchSets lists every two and every three switches.
func (p *prover) switchSets() [][]int {
	var out [][]int
	for k := range p.o.rest {
		for j := range k {
			out = append(out, []int{j, k})
			for i := range j {
				out = append(out, []int{i, j, k})
			}
		}
	}
	return out
}

// combo is one combination of positions of some switches: how many buttons it
// holds, and which stand of the latching ones it is.
type combo struct {
	held     int
	latching int
}

// combos gives, for each combination of positions of some switches, the weights
// of the rivals with one link more in just that combination.
func (p *prover) combos(set []int, n int) ([][]float64, []combo) {
	var classes [][]float64
	var out []combo
	var walk func(i int, terms []ModelTerm, c combo)
	walk = func(i int, terms []ModelTerm, c combo) {
		if i == len(set) {
			classes = append(classes, p.unread(singleEnds(n), terms))
			out = append(out, c)
			return
		}
		sw := p.w.Pod.Switches[set[i]]
		for q := range sw.Positions {
			d := c
			if sw.Momentary {
				if q != p.o.rest[set[i]] {
					d.held++
				}
			} else {
				d.latching = d.latching*mapping.MaxPositions + q
			}
			walk(i+1, append(slices.Clone(terms), ModelTerm{set[i], 1 << q}), d)
		}
	}
	walk(0, nil, combo{})
	return classes, out
}

// leversNeeded is the least lever seconds for some switches together: the
// combinations that may stay unread are those of least weight, summing to
// under 1 in 200; each other one is visited, at 3 seconds for one with a button
// held, and going through so many stands of the latching levers takes at least
// 2 seconds from each to the next.
func leversNeeded(classes [][]float64, combos []combo, n int) float64 {
	mass := make([]float64, len(classes))
	for i, c := range classes {
		mass[i] = sumOf(c)
	}
	sorted := slices.Clone(mass)
	slices.Sort(sorted)
	visited := len(sorted) - spareOf(sorted)
	free := 0 // combinations with no button held
	stands := map[int]int{}
	for _, c := range combos {
		if c.held == 0 {
			free++
		}
		stands[c.latching]++
	}
	perStand := len(combos) / len(stands)
	t := 3 * float64(max(0, visited-free))
	return t + 2*float64(max(0, (visited+perStand-1)/perStand-1))
}

// everJoined groups the ends that are joined in some setting.
func (p *prover) everJoined() []bunch {
	groups := singleEnds(len(p.w.Pod.Ends))
	for _, nets := range p.truth {
		for _, net := range nets {
			merged := bunch(net)
			keep := groups[:0]
			for _, g := range groups {
				if g&bunch(net) != 0 {
					merged |= g
				} else {
					keep = append(keep, g)
				}
			}
			groups = append(keep, merged)
		}
	}
	return groups
}

func singleEnds(n int) []bunch {
	var out []bunch
	for e := range n {
		out = append(out, 1<<e)
	}
	return out
}

// leastClips is the least clip seconds when so many pairs of q groups may be
// left uncrossed: u groups are never touched, x stay on red and y on black.
func leastClips(q, spare int) float64 {
	best := math.Inf(1)
	for u := 0; u <= q; u++ {
		for x := 0; x+u <= q; x++ {
			for y := 0; x+y+u <= q; y++ {
				if u*(q-u)+u*(u-1)/2+x*(x-1)/2+y*(y-1)/2 > spare {
					continue
				}
				both := q - u - x - y
				best = min(best, 5*float64(q-u+both)+float64(both))
			}
		}
	}
	return max(12, best+2)
}

// unread gives, for each pair of groups of ends, the prior weight of all maps
// with one link more between them under a condition, where that would change
// anything; the lightest pair first.
func (p *prover) unread(groups []bunch, terms []ModelTerm) []float64 {
	base := p.o.Prior(p.base)
	var out []float64
	for i, g := range groups {
		for _, h := range groups[:i] {
			sum := 0.0
			for _, a := range g.list() {
				for _, b := range h.list() {
					m := p.o.merged(append(slices.Clone(p.base), ModelLink{min(a, b), max(a, b), terms}))
					if d := p.o.Prior(m) - base; signature(p.netsOf(m)) != signature(p.truth) {
						sum += math.Exp2(-d)
					}
				}
			}
			if sum > 0 {
				out = append(out, sum)
			}
		}
	}
	slices.Sort(out)
	return out
}

// spareOf counts how many of the lightest weights sum to under the doubt at
// which the work may stop.
func spareOf(sorted []float64) int {
	sum := 0.0
	for i, w := range sorted {
		sum += w
		if sum > stopDoubt {
			return i
		}
	}
	return len(sorted)
}

// bunchings is the fewest splits that leave at most so many pairs of q nets
// uncrossed.
func bunchings(q, spare int) int {
	for k := 0; ; k++ {
		groups := 1 << k
		small, large := q/groups, q%groups
		left := large*(small+1)*small/2 + (groups-large)*small*(small-1)/2
		if left <= spare {
			return max(1, k)
		}
	}
}

// readingsNeeded is the fewest readings after which rivals of these weights
// could sum to under 1 in 200, when a reading speaks against one class of them
// only, and there takes the price of a silence off at most n*n/4 of them (n
// ends). The heaviest are served first, which is the best that any order can do.
func readingsNeeded(classes [][]float64, n int) int {
	each := max(1, n*n/4)
	gain := math.Exp2(-priceSilence)
	left := make([][]float64, len(classes))
	total := 0.0
	for i, c := range classes {
		left[i] = slices.Clone(c)
		total += sumOf(c)
	}
	for k := 0; ; k++ {
		if total/(1+total) <= stopDoubt {
			return k
		}
		best, bestCut := 0, -1.0
		for i := range left {
			slices.Sort(left[i])
			cut := sumOf(left[i][max(0, len(left[i])-each):]) * (1 - gain)
			if cut > bestCut {
				best, bestCut = i, cut
			}
		}
		for i := max(0, len(left[best])-each); i < len(left[best]); i++ {
			left[best][i] *= gain
		}
		total -= bestCut
	}
}
