package simbench

import (
	"math"
	"math/bits"
	"slices"

	"bellout/mapping"
)

// Prices of the model in bits, written down a second time from the engine's
// tables. A change of a price there must be made here as well: the engine's
// TestOraclePrior says so.
const (
	bitsDeadEnd    = 4.4
	bitsDeadBody   = 0.8
	bitsSharedFeed = 0.4
	bitsSharedMore = 0.8
	bitsSharedMany = 0.2
	wiresEach      = 2.4
	leastRoom      = 0.25
	furtherEach    = 0.4
	leastFurther   = 0.2
	bitsRow        = 3.0
	bitsRowMore    = 2.0
	bitsBodyUsed   = 1.5
	bitsFixed      = 3.4
	bitsFixedAlone = 1.0
	bitsSilent     = 5.5
	bitsPartner    = 1.0
	bitsDeep2      = 2.6
	bitsBothAct    = 1.75
	bitsForNeedle  = 2.25
	bitsIdleJob    = 3.0
	bitsIdleOther  = 1.0
	bitsIdleAll    = 1.0
	bitsOwnSome    = 1.5
	bitsOwnAll     = 0.5
	bitsDeep3      = 5.4
	bitsDeepTwo    = 2.2
	bitsDeepThree  = 1.2
	bitsDeepMore   = 3.2
	bitsDeepApart  = 4.5
	bitsDeepAgain  = 4.4
	bitsDeepBeside = 1.5
	bitsApart      = 1.6
	bitsShare      = 0.4
	bitsTwoHeld    = 0.7
	bitsLooseThree = 2.8
	bitsLetGo      = 1.0
	bitsSameThrow  = 1.5
)

// Prices of mishaps: -log2 of the trade's rates (4 %, 0.5 %, 4 %, 0.3 %, 2 %).
var (
	priceSilence = -math.Log2(0.04)
	priceBeep    = -math.Log2(0.005)
	priceHalf    = -math.Log2(0.04)
	priceSlip    = -math.Log2(0.003)
	priceLever   = -math.Log2(0.02)
)

// contactCount prices how many contacts of its own a switch has.
// Contacts beyond the number that is commonest cost less where there are many wires.
func contactCount(positions, rest int, momentary bool, wiresEach float64, c int) float64 {
	var t []float64
	switch {
	case positions == 2 && momentary:
		t = []float64{bitsSilent, 0.5, 2.2, 4.8}
	case positions == 2 && rest == 0:
		t = []float64{bitsSilent, 3.2, 0.4, 3.6, 6}
	case positions == 2:
		t = []float64{bitsSilent, 0.4, 2.8, 5.2}
	case positions == 3 && rest == 1:
		t = []float64{bitsSilent, 6, 0.4, 3.4, 3.6, 6.3}
	case positions == 3:
		t = []float64{bitsSilent, 6, 0.3, 3.4, 5.5}
	case rest == 0:
		t = []float64{bitsSilent, 6, 4.5, 0.4, 3.6, 6.5}
	default:
		t = []float64{bitsSilent, 5, 1.2, 1, 4.5, 6.5}
	}
	last := len(t) - 1
	price := t[min(c, last)] + 2.5*float64(max(0, c-last))
	if least := slices.Min(t); c > slices.Index(t, least) {
		stands := 1 - furtherEach*(wiresEach-2)
		return least + (price-least)*math.Max(leastFurther, math.Min(1, stands))
	}
	return price
}

// closedIn prices in which positions a contact is closed.
func closedIn(positions, rest int, momentary bool, mask uint32) float64 {
	atRest := mask>>rest&1 == 1
	gaps := bits.Len32(mask)-bits.TrailingZeros32(mask) != bits.OnesCount32(mask)
	if positions == 2 {
		switch {
		case momentary && atRest:
			return 2
		case momentary:
			return 0.4
		case mask == 1:
			return 1.4
		}
		return 0.7
	}
	if gaps {
		return 6
	}
	if positions == 3 && rest == 1 {
		if atRest {
			return 5.8
		}
		return 1.1
	}
	if positions == 3 {
		switch {
		case atRest:
			return 4.4
		case mask == 2:
			return 3.6
		}
		return 1.2
	}
	before, beyond := mask&(1<<rest-1) != 0, mask>>(rest+1) != 0
	switch {
	case atRest && before && !beyond:
		return 2.4
	case atRest:
		return 5.5
	case before:
		return 5
	}
	return 1.9
}

func lg(x int) float64 { return math.Log2(float64(max(1, x))) }

// groupsOf counts the connected groups that some links form by sharing ends.
func groupsOf(ls []ModelLink) int {
	name := make([]int, len(ls))
	for i := range name {
		name[i] = i
	}
	for range ls {
		for i, x := range ls {
			for j, y := range ls {
				if x.A == y.A || x.A == y.B || x.B == y.A || x.B == y.B {
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

// linkGroup is the links that need the same switches, and the ends they use.
type linkGroup struct {
	key   uint32
	links []ModelLink
	ends  uint64
}

// Prior is the price of a map before any reading.
func (o *Model) Prior(m ModelMap) float64 {
	n := len(o.pod.Ends)
	pairs, k := lg(n*(n-1)/2), len(o.rest)
	total := 0.0
	var groups []linkGroup // links by the set of switches that they need
	for _, l := range m {
		var key uint32
		for _, t := range l.Terms {
			key |= 1 << t.Switch
		}
		i := slices.IndexFunc(groups, func(g linkGroup) bool { return g.key == key })
		if i < 0 {
			i = len(groups)
			groups = append(groups, linkGroup{key: key})
		}
		groups[i].links = append(groups[i].links, l)
		groups[i].ends |= 1<<l.A | 1<<l.B
	}
	own, partnered := make([]int, k), make([]bool, k)
	var sets []linkGroup // links of several switches
	for _, grp := range groups {
		ls := grp.links
		depth, g, c := len(ls[0].Terms), groupsOf(ls), len(ls)
		switch {
		case depth == 0:
			each := bitsFixed
			if k == 0 {
				each = bitsFixedAlone
			}
			total += float64(c) * (each + pairs)
		case depth == 1:
			own[ls[0].Terms[0].Switch] = c
			total += float64(g)*pairs + float64(g-1)*bitsApart + float64(c-g)*(bitsShare+lg(n))
			for i, x := range ls {
				for _, y := range ls[:i] {
					if x.Terms[0].Mask == y.Terms[0].Mask && (x.A == y.A || x.A == y.B || x.B == y.A || x.B == y.B) {
						total += bitsSameThrow
					}
				}
			}
		default:
			first := bitsDeep2 + lg(k*(k-1)/2)
			if depth == 3 {
				first = bitsDeep3 + lg(k*(k-1)*(k-2)/6)
			}
			sets = append(sets, grp)
			total += first + pairs + float64(g-1)*(bitsDeepApart+pairs) + float64(c-g)*lg(n)
			total += bitsDeepMore * float64(c-1)
			switch {
			case c > 1 && depth == 2:
				total += bitsDeepTwo - bitsDeepMore
			case c > 1:
				total += bitsDeepThree - bitsDeepMore
			}
			for _, t := range ls[0].Terms {
				partnered[t.Switch] = true
			}
		}
		for _, l := range ls {
			for _, t := range l.Terms {
				sw := o.pod.Switches[t.Switch]
				total += closedIn(len(sw.Positions), o.rest[t.Switch], sw.Momentary, t.Mask)
			}
			total += bitsTwoHeld * float64(max(0, o.buttons(l)-1))
			if len(l.Terms) == 3 && o.buttons(l) < 2 {
				total += bitsLooseThree
			}
			if len(l.Terms) > 1 {
				total += bitsLetGo * float64(o.letGo(l))
			}
		}
	}
	total += furtherSets(sets)
	taken := uint64(0) // ends of contacts of one switch
	for _, g := range groups {
		if len(g.links[0].Terms) == 1 {
			taken |= g.ends
		}
	}
	for _, g := range groups {
		if len(g.links[0].Terms) > 1 {
			total += o.busy(g, own, taken)
		}
	}
	wires := float64(n) / float64(max(1, k))
	for s, sw := range o.pod.Switches {
		if own[s] == 0 && partnered[s] {
			total += bitsPartner
		} else {
			price := contactCount(len(sw.Positions), o.rest[s], sw.Momentary, wires, own[s])
			if partnered[s] { // what it does with partners may count as half a contact more
				more := contactCount(len(sw.Positions), o.rest[s], sw.Momentary, wires, own[s]+1)
				price -= max(0, price-more) / 2
			}
			total += price
		}
	}
	total += o.sharing(groups)
	var used uint64
	for _, g := range groups {
		used |= g.ends
	}
	for i, e := range o.pod.Ends {
		total += endUse(used>>i&1 == 1, e.Kind == mapping.Body)
	}
	return total
}

// letGo counts the momentary switches that a link needs at rest.
func (o *Model) letGo(l ModelLink) int {
	n := 0
	for _, t := range l.Terms {
		if o.pod.Switches[t.Switch].Momentary && t.Mask>>o.rest[t.Switch]&1 == 1 {
			n++
		}
	}
	return n
}

// buttons counts the momentary switches that a link of several switches needs
// held; a link of one switch needs no more than one.
func (o *Model) buttons(l ModelLink) int {
	n := 0
	for _, t := range l.Terms {
		if o.pod.Switches[t.Switch].Momentary && t.Mask>>o.rest[t.Switch]&1 == 0 {
			n++
		}
	}
	return n
}

// endUse prices an end by whether anything reaches it.
func endUse(used, body bool) float64 {
	switch {
	case body && used:
		return bitsBodyUsed
	case body:
		return bitsDeadBody
	case used:
		return 0
	}
	return bitsDeadEnd
}

// Explain is the price of the cheapest course of events by which a map gives
// the readings.
func (o *Model) Explain(m ModelMap, rs []ModelReading) float64 {
	return o.explainFast(m.remembering(len(o.pod.Ends)), rs)
}

// Price is the price of a map and all readings together.
func (o *Model) Price(m ModelMap, rs []ModelReading) float64 {
	return o.Prior(m) + o.Explain(m, rs)
}

// explainFast is explain, or the sum of the single readings' prices where no
// course of events with a slip or a wrong lever can be cheaper than that.
func (o *Model) explainFast(m joinFunc, rs []ModelReading) float64 {
	sum := 0.0
	for _, r := range rs {
		sum += o.under(m, r, benchFault{sw: -1})
	}
	if o.Plain || sum < priceLever {
		return sum
	}
	return o.explain(m, rs)
}
