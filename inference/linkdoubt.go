package inference

import (
	"cmp"
	"math"
	"math/bits"
	"slices"

	"bellout/mapping"
)

// linkDoubt is the doubt whether two nets are joined under a condition: the links
// from any end of one to any end of the other make the same map, and a reading
// across any two of them tells.
type linkDoubt struct {
	a, b   uint64 // ends that are joined whenever the condition holds
	cond   int32
	weight float64
	due    bool // one switch decides it, and by itself it can hold up the stop
}

// mostDoubtful is bits beyond which nobody doubts that a link is not there.
const mostDoubtful = 30.0

// linkDoubts lists the doubts about one more link that the builder has the hands
// to settle, heaviest first, without a tail that is too light to matter, and sums
// all of them.
func (pl *planner) linkDoubts() (all []linkDoubt, sum float64) {
	var found [additionParts][]linkDoubt
	var sums [additionParts]float64
	pl.p.additionsInParts(pl.s.adding, mostDoubtful, func(part int, each func(func(a, b, cond, held int, delta float64))) {
		found[part], sums[part] = pl.doubtsAmong(each)
	})
	for _, s := range sums {
		sum += s
	}
	all, tail := heaviest(found[:], mostDoubted)
	for i := range all {
		all[i].due = all[i].due && all[i].weight >= stopDoubt/4
	}
	slices.SortStableFunc(all, func(a, b linkDoubt) int { return cmp.Compare(b.weight, a.weight) })
	for len(all) > 0 && (len(all) > mostDoubted || tail+all[len(all)-1].weight < stopDoubt/10) {
		tail += all[len(all)-1].weight
		all = all[:len(all)-1]
	}
	return all, sum
}

// heaviest is those of some doubts that may be among the so many heaviest, and the sum
// of the others: most are light, and dear to sort. Weights are told apart by their powers
// of two.
func heaviest(parts [][]linkDoubt, most int) (all []linkDoubt, others float64) {
	power := func(d *linkDoubt) uint64 { return math.Float64bits(d.weight) >> 52 & (1<<11 - 1) }
	var count [1 << 11]int // by that, the sign aside
	for _, doubts := range parts {
		for i := range doubts {
			count[power(&doubts[i])]++
		}
	}
	least, n := uint64(len(count)-1), 0
	for n += count[least]; least > 0 && n < most; n += count[least] {
		least--
	}
	all = make([]linkDoubt, 0, n)
	for _, doubts := range parts {
		for i := range doubts {
			if d := &doubts[i]; power(d) >= least {
				all = append(all, *d)
			} else {
				others += d.weight
			}
		}
	}
	return all, others
}

// doubtsAmong gathers further links of one condition between the same nets.
func (pl *planner) doubtsAmong(each func(func(a, b, cond, held int, delta float64))) (all []linkDoubt, sum float64) {
	p, s := pl.p, pl.s
	last := -1
	nets := make([]uint64, p.n)
	at := map[[2]uint64]int{}
	each(func(a, b, c, held int, delta float64) {
		if delta > mostDoubtful || held > pl.leads.MostHeld() {
			return
		}
		if c != last {
			last = c
			p.implied(s.best, c, nets)
			clear(at)
		}
		m := math.Exp2(-delta)
		sum += m
		d := linkDoubt{a: min(nets[a], nets[b]), b: max(nets[a], nets[b]), cond: int32(c), weight: m, due: p.conds.depth[c] == 1}
		if bits.OnesCount64(d.a|d.b) == 2 { // no other pair of ends is of these two nets
			all = append(all, d)
			return
		}
		key := [2]uint64{d.a, d.b}
		if i, ok := at[key]; ok {
			all[i].weight += m
			return
		}
		at[key] = len(all)
		all = append(all, d)
	})
	return all, sum
}

// condMass is what a doubt about a link weighs across one pair of its ends.
type condMass struct {
	cond int32
	m    float64
	due  bool
	id   int32 // of the doubt
}

// enter enters a doubt at one pair of its ends with a needle, which reads across
// nets (reach.go). With bunches it is spread over all pairs of them: they are
// likely to be held together, and count it once.
func (pl *planner) enter(d linkDoubt, id int) {
	m := condMass{d.cond, d.weight, d.due, int32(id)}
	if pl.leads == mapping.PairLeads {
		q := pairIndex(lowBit(d.a), lowBit(d.b))
		pl.masses[q] = append(pl.masses[q], m)
		return
	}
	m.m /= float64(bits.OnesCount64(d.a) * bits.OnesCount64(d.b))
	for x := d.a; x != 0; x &= x - 1 {
		for y := d.b; y != 0; y &= y - 1 {
			q := pairIndex(lowBit(x), lowBit(y))
			pl.masses[q] = append(pl.masses[q], m)
		}
	}
}

// standSays is what the silences of one stand of the levers can say at most
// against a condition: that a lever was elsewhere, or the clip off.
func (p *problem) standSays(c int) float64 {
	most := priceSlip
	for d := range p.conds.depth[c] {
		if k := int(p.conds.sw[c][d]); !p.momentary[k] {
			most = min(most, p.wrong[k])
		}
	}
	return most
}
