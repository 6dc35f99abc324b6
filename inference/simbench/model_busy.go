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

// furtherSets prices that there are links through more than one set of switches: less
// for one that another can be reached from by way of switches in common.
func furtherSets(sets []linkGroup) float64 {
	total := 0.0
	seen := make([]bool, len(sets))
	var visit func(i int) int
	visit = func(i int) int {
		seen[i] = true
		n := 1
		for j := range sets {
			if !seen[j] && switchesInCommon(sets[i].links[0], sets[j].links[0]) {
				n += visit(j)
			}
		}
		return n
	}
	for i := range sets {
		if seen[i] {
			continue
		}
		if i > 0 {
			total += bitsDeepAgain
		}
		total += bitsDeepBeside * float64(visit(i)-1)
	}
	return total
}

func switchesInCommon(x, y ModelLink) bool {
	for _, t := range x.Terms {
		for _, u := range y.Terms {
			if t.Switch == u.Switch {
				return true
			}
		}
	}
	return false
}
