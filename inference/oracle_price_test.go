package inference

import (
	"math"
	"math/bits"
	"slices"

	"bellout/mapping"
)

// Prices of the model, written down a second time from price.go's tables. A
// change of a price there must be made here as well; TestOraclePrior says so.
const (
	oDeadEnd    = 4.6
	oDeadBody   = 0.8
	oSecondUser = 1.6
	oThirdUser  = 3.2
	oMoreUsers  = 5.0
	oBodyUsed   = 1.5
	oFixed      = 2.6
	oSilent     = 5.5
	oPartner    = 1.0
	oDeep2      = 2.8
	oDeep3      = 6.2
	oDeepMore   = 1.2
	oApart      = 2.2
	oShare      = 0.4
	oSameThrow  = 1.5
)

// Prices of mishaps: -log2 of the trade's rates (4 %, 0.5 %, 4 %, 0.3 %, 2 %).
var (
	oPriceSilence = -math.Log2(0.04)
	oPriceBeep    = -math.Log2(0.005)
	oPriceHalf    = -math.Log2(0.04)
	oPriceSlip    = -math.Log2(0.003)
	oPriceLever   = -math.Log2(0.02)
)

// contactCount prices how many contacts of its own a switch has.
func contactCount(positions int, momentary bool, c int) float64 {
	var t []float64
	switch {
	case positions == 2 && momentary:
		t = []float64{oSilent, 0.5, 2.4, 5}
	case positions == 2:
		t = []float64{oSilent, 1.2, 1.1, 4, 5.5}
	default:
		t = []float64{oSilent + 0.5, 2.6, 0.9, 2.4, 3.2, 5}
	}
	last := len(t) - 1
	return t[min(c, last)] + 2.5*float64(max(0, c-last))
}

// closedIn prices in which positions a contact is closed.
func closedIn(positions, rest int, momentary bool, mask uint32) float64 {
	n := bits.OnesCount32(mask)
	atRest := mask>>rest&1 == 1
	run := bits.Len32(mask)-bits.TrailingZeros32(mask) == n
	extra := float64(positions - 3)
	switch {
	case positions == 2 && !momentary:
		return 1
	case positions == 2 && atRest:
		return 2.5
	case positions == 2:
		return 0.3
	case n == 1 && atRest:
		return 3.2
	case n == 1:
		return 0.7 + math.Log2(float64(positions-1))
	case !run:
		return 4.5 + extra
	case atRest:
		return 3.6 + extra/2
	}
	return 2.2 + extra/2
}

func lg(x int) float64 { return math.Log2(float64(max(1, x))) }

// groupsOf counts the connected groups that some links form by sharing ends.
func groupsOf(ls []oLink) int {
	name := make([]int, len(ls))
	for i := range name {
		name[i] = i
	}
	for range ls {
		for i, x := range ls {
			for j, y := range ls {
				if x.a == y.a || x.a == y.b || x.b == y.a || x.b == y.b {
					low := min(name[i], name[j])
					name[i], name[j] = low, low
				}
			}
		}
	}
	n := 0
	for i := range name {
		if name[i] == i {
			n++
		}
	}
	return n
}

// oGroup is the links that need the same switches, and the ends they use.
type oGroup struct {
	key   uint32
	links []oLink
	ends  uint64
}

// prior is the price of a map before any reading.
func (o *oPod) prior(m oMap) float64 {
	n := len(o.pod.Ends)
	pairs, k := lg(n*(n-1)/2), len(o.rest)
	total := 0.0
	var groups []oGroup // links by the set of switches that they need
	for _, l := range m {
		var key uint32
		for _, t := range l.terms {
			key |= 1 << t.sw
		}
		i := slices.IndexFunc(groups, func(g oGroup) bool { return g.key == key })
		if i < 0 {
			i = len(groups)
			groups = append(groups, oGroup{key: key})
		}
		groups[i].links = append(groups[i].links, l)
		groups[i].ends |= 1<<l.a | 1<<l.b
	}
	own, partnered := make([]int, k), make([]bool, k)
	for _, grp := range groups {
		ls := grp.links
		depth, g, c := len(ls[0].terms), groupsOf(ls), len(ls)
		switch {
		case depth == 0:
			total += float64(c) * (oFixed + pairs)
		case depth == 1:
			own[ls[0].terms[0].sw] = c
			total += float64(g)*pairs + float64(g-1)*oApart + float64(c-g)*(oShare+lg(n))
			for i, x := range ls {
				for _, y := range ls[:i] {
					if x.terms[0].mask == y.terms[0].mask && (x.a == y.a || x.a == y.b || x.b == y.a || x.b == y.b) {
						total += oSameThrow
					}
				}
			}
		default:
			first := oDeep2 + lg(k*(k-1)/2)
			if depth == 3 {
				first = oDeep3 + lg(k*(k-1)*(k-2)/6)
			}
			total += first + pairs + float64(g-1)*(oDeepMore+oApart+pairs) + float64(c-g)*(oDeepMore+lg(n))
			for _, t := range ls[0].terms {
				partnered[t.sw] = true
			}
		}
		for _, l := range ls {
			for _, t := range l.terms {
				sw := o.pod.Switches[t.sw]
				v := closedIn(len(sw.Positions), o.rest[t.sw], sw.Momentary, t.mask)
				if depth > 1 {
					v /= 2
				}
				total += v
			}
		}
	}
	for s, sw := range o.pod.Switches {
		if own[s] == 0 && partnered[s] {
			total += oPartner
		} else {
			total += contactCount(len(sw.Positions), sw.Momentary, own[s])
		}
	}
	for i, e := range o.pod.Ends {
		users := 0
		for _, g := range groups {
			users += int(g.ends >> i & 1)
		}
		total += endUse(users, e.Kind == mapping.Body)
	}
	return total
}

// endUse prices how many users (switches, sets of partners, bridges) an end has.
func endUse(users int, body bool) float64 {
	switch {
	case body && users == 0:
		return oDeadBody
	case body:
		return oBodyUsed + oSecondUser*float64(users-1)
	case users >= 4:
		return oMoreUsers + float64(users-4)
	}
	return []float64{oDeadEnd, 0, oSecondUser, oThirdUser}[users]
}
