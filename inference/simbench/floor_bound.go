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
//     position needs as many readings as bring its own rivals under 1 in 200.
//     One reading serves one position of each switch, so the most asking switch
//     counts for readings, and each switch by itself for its levers.
//
// What the bound leaves out: that these needs compete, slipped clips and wrong
// levers, and rivals of depth 2 and 3. It is therefore low.
func (p *prover) bound() float64 {
	if p.leads == mapping.PairLeads {
		return 0
	}
	groups := p.everJoined()
	always := p.unread(groups, nil)
	spare := spareOf(always)
	n, q := len(p.w.Pod.Ends), len(groups)
	t := leastClips(q, spare) + 2*float64(bunchings(q, spare))
	most := readingsNeeded(p.unread(singleEnds(n), nil), n)
	for k, sw := range p.w.Pod.Switches {
		sum, low, high := 0, p.o.rest[k], p.o.rest[k]
		for pos := range sw.Positions {
			need := readingsNeeded(p.weightsAt(k, pos), n)
			sum += need
			switch {
			case need == 0:
			case sw.Momentary && pos != p.o.rest[k]:
				t += 3 * float64(need)
			default:
				low, high = min(low, pos), max(high, pos)
			}
		}
		most = max(most, sum)
		if !sw.Momentary {
			t += 2 * float64(high-low+min(high-p.o.rest[k], p.o.rest[k]-low))
		}
	}
	return t + 1.2*float64(most)
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

// weightsAt gives, for each pair of ends, the weight of one link more that
// holds in one position.
func (p *prover) weightsAt(k, pos int) []float64 {
	return p.unread(singleEnds(len(p.w.Pod.Ends)), []ModelTerm{{k, 1 << pos}})
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
// could sum to under 1 in 200, one reading taking the price of a silence off at
// most q*q/4 of them.
func readingsNeeded(weights []float64, q int) int {
	each := max(1, q*q/4)
	gain := math.Exp2(-priceSilence)
	for k := 0; ; k++ {
		left := slices.Clone(weights)
		for range k * each { // the heaviest first
			i := 0
			for j := range left {
				if left[j] > left[i] {
					i = j
				}
			}
			if len(left) > 0 {
				left[i] *= gain
			}
		}
		sum := 0.0
		for _, w := range left {
			sum += w
		}
		if sum/(1+sum) <= stopDoubt {
			return k
		}
	}
}
