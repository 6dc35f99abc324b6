package simbench

import "math/bits"

// busy prices on top that switches which need each other for some links have contacts
// of their own as well, all of them: nothing where one has none. taken is the ends of all
// such contacts.
func (o *Model) busy(g linkGroup, own []int, taken uint64) float64 {
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
	switch alone := bits.OnesCount64(g.ends &^ taken); alone {
	case 0:
	case bits.OnesCount64(g.ends):
		total += bitsOwnAll
	default:
		total += bitsOwnSome
	}
	return total
}

// leftAlone prices that a link holds with some of its switches at rest.
func (o *Model) leftAlone(l ModelLink) float64 {
	alone, price := 0, 0.0
	for _, t := range l.Terms {
		if t.Mask>>o.rest[t.Switch]&1 == 0 {
			continue
		}
		alone++
		each := bitsIdleOther
		if sw := o.pod.Switches[t.Switch]; len(sw.Positions) == 2 && o.rest[t.Switch] == 0 && !sw.Momentary {
			each = bitsIdleJob
		}
		price = max(price, each)
	}
	if alone == len(l.Terms) {
		return bitsIdleAll
	}
	return price
}
