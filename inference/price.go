package inference

import (
	"math"
	"math/bits"
	"slices"
)

// Prices in bits of surprise of what can go wrong at the bench. The rates are
// the trade's estimates (common practice, no published source): a false
// silence 4 in 100, a false beep 5 in 1,000, a half-pressed button 4 in 100, a
// slipped clip 3 in 1,000 readings, a lever set wrong 2 in 100 moves.
var (
	priceSilence = math.Log2(1 / 0.04)
	priceBeep    = math.Log2(1 / 0.005)
	priceHalf    = math.Log2(1 / 0.04)
	priceSlip    = math.Log2(1 / 0.003)
	priceLever   = math.Log2(1 / 0.02)
)

// bitsUnread is just under the stop rule's own bits, log2 of 200.
const bitsUnread = 7.6

// The grades in bits, and the doubt under which the work may stop.
const (
	bitsProved = 10.0
	bitsLikely = 4.0
	stopDoubt  = 1.0 / 200
)

// Prices of what pods are like, in bits: minus the logarithm of how common a
// thing is. Near the trade's words (a dead end 1 in 25, a link of depth 2 in
// every fifth pod, depth 3 rare) and counts over invented pods, rounded; nothing is
// so rare that a few readings could not show it. Not fitted to a score.
const (
	bitsDeadEnd    = 4.4 // an end that reaches nothing (about one in 21)
	bitsDeadBody   = 0.8 // the metal often carries nothing
	bitsBodyUsed   = 1.5 // and the metal that does
	bitsSharedFeed = 0.4 // a switch shares a wire with another
	bitsSharedMore = 0.8 // and a second one
	bitsSharedMany = 0.2 // and each further one
	wiresEach      = 2.4 // that a switch takes for itself
	leastRoom      = 0.25
	furtherEach    = 0.4 // of the price of further contacts, for each wire more than two a switch
	leastFurther   = 0.2
	bitsRow        = 3.0  // contacts of one switch in a row, without a common end
	bitsRowMore    = 2.0  // and each further one away from the end where most are
	bitsFixed      = 3.4  // an always-link
	bitsFixedAlone = 1.0  // on a pod without a switch, which is nothing else
	bitsSilent     = 5.5  // a switch that does nothing at all
	bitsPartner    = 1.0  // a switch that only acts with a partner
	bitsDeep2      = 2.6  // the first link of two switches (about one pod in six)
	bitsBothAct    = 1.75 // a deep link whose switches all have a job of their own
	bitsForNeedle  = 2.25 // and more with a needle, see bothActs
	bitsIdleJob    = 3.0  // and that holds with one of two positions left at rest, off
	bitsIdleOther  = 1.0  // or one of another kind
	bitsIdleAll    = 1.0  // or all of them
	bitsOwnSome    = 1.5  // and that has some of its ends to itself
	bitsOwnAll     = 0.5  // or all of them
	bitsDeep3      = 5.4  // the first link of three switches
	bitsDeepTwo    = 2.2  // a second link through the same two switches
	bitsDeepThree  = 1.2  // or the same three
	bitsDeepMore   = 3.2  // and each further one
	bitsDeepApart  = 4.5  // links through the same switches that share no end
	bitsDeepAgain  = 4.4  // links through a second set of several switches
	bitsDeepBeside = 1.5  // or through one that shares a switch with others
	bitsApart      = 1.6  // contacts of one switch that share no end
	bitsShare      = 0.4  // contacts of one switch that share one
	bitsTwoHeld    = 0.7  // a deep link that needs one more button held
	bitsLooseThree = 2.8  // a link of three switches for which no two buttons are held: most are starters' chains
	bitsLetGo      = 1.0  // a deep link that needs a button let go
	bitsOdd        = 3.5  // a contact that makes no sense (about one pod in eleven)
	bitsOddFixed   = 3.4  // a bridge that makes no sense (about one pod in twelve)
	bitsSameThrow  = 1.5  // two contacts of one switch closing in the same positions at one end
)

// countPrices prices how many contacts a switch has, from none on, by its kind: a push, a
// latching switch of two positions, one with its rest in the middle (a turn
// switch), one that goes on from its rest (a lights switch), a key or rotary. Two
// positions with the rest at the first are most often a changeover, at the second
// a kill switch, which rests in run. Of the price of contacts beyond the usual number,
// further is the part that stands.
func (p *problem) countPrices(k int, further float64) []float64 {
	var table []float64
	switch n := p.npos[k]; {
	case n == 2 && p.momentary[k]:
		table = []float64{bitsSilent, 0.5, 2.2, 4.8}
	case n == 2 && p.rest[k] == 0:
		table = []float64{bitsSilent, 3.2, 0.4, 3.6, 6}
	case n == 2:
		table = []float64{bitsSilent, 0.4, 2.8, 5.2}
	case n == 3 && p.rest[k] == 1:
		table = []float64{bitsSilent, 6, 0.4, 3.4, 3.6, 6.3}
	case n == 3:
		table = []float64{bitsSilent, 6, 0.3, 3.4, 5.5}
	case p.rest[k] == 0:
		table = []float64{bitsSilent, 6, 4.5, 0.4, 3.6, 6.5}
	default:
		table = []float64{bitsSilent, 5, 1.2, 1, 4.5, 6.5}
	}
	usual := slices.Index(table, slices.Min(table))
	for c, v := range table[usual+1:] {
		table[usual+1+c] = table[usual] + (v-table[usual])*further
	}
	for len(table) < maxAtoms+2 {
		table = append(table, table[len(table)-1]+2.5*further)
	}
	return table
}

// maskPrice prices in which positions a contact of switch k is closed. mask is
// over the positions of the switch, bit 0 the first.
func (p *problem) maskPrice(k int, mask uint64) float64 {
	n, rest := p.npos[k], p.rest[k]
	size := bits.OnesCount64(mask)
	atRest := mask>>rest&1 == 1
	contiguous := mask>>bits.TrailingZeros64(mask) == 1<<size-1
	switch {
	case n == 2 && p.momentary[k]:
		if atRest {
			return 2
		}
		return 0.4
	case n == 2: // from off to on; a kill switch rests in run
		if mask == 1 {
			return 1.4
		}
		return 0.7
	case !contiguous:
		return 6
	case n == 3 && rest == 1 && atRest:
		return 5.8
	case n == 3 && rest == 1: // left or right of a centre off
		return 1.1
	case n == 3 && atRest:
		return 4.4
	case n == 3 && mask == 1<<1: // the first step from rest, and not the next
		return 3.6
	case n == 3:
		return 1.2
	case !atRest && mask < 1<<rest: // short of a key's rest
		return 5
	case !atRest:
		return 1.9
	case mask>>rest == 1 && mask != 1<<rest: // up to the rest, and opens beyond it
		return 2.4
	}
	return 5.5
}

// prior is the price of a whole map: how unlike a pod it is, before any
// reading.
func (p *problem) prior(h *hyp) float64 {
	var parts [maxSwitches]float64
	return p.priorBy(h, &parts, ^uint64(0))
}

// priorBy is the same where the prices of each switch's contacts by themselves
// are known, but for some switches: theirs are filled in.
func (p *problem) priorBy(h *hyp, parts *[maxSwitches]float64, changed uint64) float64 {
	t := 0.0
	var use usage
	var count [maxSwitches]int
	var deepOn uint64
	for i := range h.atoms {
		x := &h.atoms[i]
		if x.n == 1 {
			k := x.sw[0]
			count[k]++
			use.of[k] |= x.ends
			use.by[x.a] |= 1 << k
			use.by[x.b] |= 1 << k
		}
	}
	t += p.fixedPrice(h, &use)
	t += p.deepPrice(h, &use, &deepOn)
	for k := range p.npos {
		t += p.jobPrice(k, count[k], deepOn>>k&1 == 1)
		if count[k] > 0 {
			if changed>>k&1 == 1 {
				parts[k] = p.switchPrice(h, k)
			}
			t += parts[k]
			t += p.sharePrice(p.sharedEnds(&use, k))
		}
	}
	for e := range p.n {
		t += p.endPrice(e, use.by[e] != 0 || use.other>>e&1 == 1)
	}
	return t
}

// usage is which switches use which ends by contacts of their own, and which
// ends are used otherwise.
type usage struct {
	of    [maxSwitches]uint64 // ends of a switch
	by    [maxEnds]uint64     // switches at an end
	other uint64              // ends of bridges and of links of several switches
}

// contact tells whether a contact of one switch is at an end.
func (u *usage) contact(e int) bool { return u.by[e] != 0 }

// sharedEnds counts the wires of a switch that another switch uses as well.
func (p *problem) sharedEnds(u *usage, k int) int {
	n := 0
	for m := u.of[k] &^ p.bodies; m != 0; m &= m - 1 {
		if u.by[lowBit(m)]&^(1<<k) != 0 {
			n++
		}
	}
	return n
}

// sharePrice prices how many wires a switch shares with others: one feed is
// common, an output hardly ever, unless there are too few wires for so many
// switches.
func (p *problem) sharePrice(n int) float64 {
	switch n {
	case 0:
		return 0
	case 1:
		return p.roomy * bitsSharedFeed
	}
	return p.roomy * (bitsSharedFeed + bitsSharedMore + bitsSharedMany*float64(n-2))
}

// roomFor tells how much of the price of shared wires stands: all of it where
// there are wires enough for every switch, less the more crowded a pod is.
func roomFor(switches, ends int) float64 {
	return max(leastRoom, min(1, 2-wiresEach*float64(switches)/float64(ends)))
}

// furtherFor tells how much of the price of contacts beyond the usual number stands:
// all of it where each switch has two wires, less the more wires there are for each,
// since wires are there to be used.
func furtherFor(switches, ends int) float64 {
	each := float64(ends) / float64(max(1, switches))
	return max(leastFurther, min(1, 1-furtherEach*(each-2)))
}

// jobPrice prices how many contacts a switch has. What it does with partners counts
// for half a contact more where that makes it less strange: a lights switch whose one
// output goes by way of the dip.
func (p *problem) jobPrice(k, c int, deep bool) float64 {
	c = min(c, maxAtoms)
	switch {
	case !deep:
		return p.counts[k][c]
	case c == 0:
		return bitsPartner
	}
	own := p.counts[k][c]
	return (own + min(own, p.counts[k][c+1])) / 2
}

func (p *problem) endPrice(e int, used bool) float64 {
	switch {
	case p.body[e] && used:
		return bitsBodyUsed
	case p.body[e]:
		return bitsDeadBody
	case used:
		return 0
	}
	return bitsDeadEnd
}

func (p *problem) fixedPrice(h *hyp, use *usage) float64 {
	t := 0.0
	for i := range h.atoms {
		x := &h.atoms[i]
		if x.n == 0 {
			t += p.fixed + p.logPairs
			use.other |= x.ends
		}
	}
	return t
}

// acting is the set of switches with a contact of their own.
func (h *hyp) acting() uint64 {
	var m uint64
	for i := range h.atoms {
		if h.atoms[i].n == 1 {
			m |= 1 << h.atoms[i].sw[0]
		}
	}
	return m
}

// switchPrice prices the ends and positions of one switch's contacts: each
// connected group of contacts costs one pair of ends, each further contact in
// it one end.
func (p *problem) switchPrice(h *hyp, k int) float64 {
	t := 0.0
	g := groups{}
	for i := range h.atoms {
		x := &h.atoms[i]
		if x.n != 1 || int(x.sw[0]) != k {
			continue
		}
		g.add(x.ends)
		t += p.maskPrice(k, p.local(k, x.t[0]))
		for j := range h.atoms {
			y := &h.atoms[j]
			if j != i && y.n == 1 && int(y.sw[0]) == k && y.ends&x.ends != 0 && y.t[0] == x.t[0] {
				t += bitsSameThrow / 2
			}
		}
	}
	t += float64(g.n)*p.logPairs + float64(g.n-1)*bitsApart
	t += float64(g.contacts-g.n) * (bitsShare + p.logEnds)
	return t + g.rowPrice()
}
