package simbench

import "math/bits"

// busy prices on top that switches which need each other for some links have contacts
// of their own as well, all of them: nothing where one has none.
func (o *Model) busy(g linkGroup, own []int, others []linkGroup) float64 {
	for _, t := range g.links[0].Terms {
		if own[t.Switch] == 0 {
			return 0
		}
	}
	total := bitsBothAct
	if o.Needle {
		total += bitsForNeedle
	}
	for _, l := range g.links {
		total += o.leftAlone(l)
	}
	taken := uint64(0) // ends of contacts of one switch
	for _, other := range others {
		if len(other.links[0].Terms) == 1 {
			taken |= other.ends
		}
	}
	switch alone := bits.OnesCount64(g.ends &^ taken); alone {
	case 0:
	case bits.OnesCount64(g.ends):
		total += bitsOwnAll
	default:
		total += bitsOwnSome
	}
	return total
}

// leftAlone prices that a link needs some of its switches at rest.
func (o *Model) leftAlone(l ModelLink) float64 {
	alone, price := 0, 0.0
	for _, t := range l.Terms {
		if t.Mask>>o.rest[t.Switch]&1 == 0 {
			continue
		}
		alone++
		each := bitsIdleOther
		if sw := o.pod.Switches[t.Switch]; len(sw.Positions) == 2 && !sw.Momentary {
			each = bitsIdleJob
		}
		price = max(price, each)
	}
	if alone == len(l.Terms) {
		return bitsIdleAll
	}
	return price
}
