package inference

import "math/bits"

// deepPrice prices links that need several switches, in clusters of the same
// switches: a hidden junction with one way in and two out makes two of them.
func (p *problem) deepPrice(h *hyp, use *usage, deepOn *uint64) float64 {
	t := 0.0
	acting := h.acting()
	var done [2 * maxAtoms]bool // no search goes that far beyond
	var room [8]uint64
	sets := room[:0]
	for i := range h.atoms {
		if h.atoms[i].n < 2 || done[i] {
			continue
		}
		on := h.atoms[i].switches()
		*deepOn |= on
		bothAct := on&^acting == 0
		g := groups{}
		var ends uint64
		for j := i; j < len(h.atoms); j++ {
			x := &h.atoms[j]
			if x.n < 2 || x.switches() != on {
				continue
			}
			done[j] = true
			g.add(x.ends)
			t += p.deepMasks(x.n, x.sw, x.t)
			if bothAct {
				t += p.idlePrice(x.n, x.sw, x.t)
			}
			ends |= x.ends
		}
		use.other |= ends
		if bothAct {
			t += p.bothAct + ownEnds(ends, use.contact)
		}
		t += p.deepFirst(h.atoms[i].n) + p.logPairs
		sets = append(sets, on)
		t += deepMore(h.atoms[i].n, g.contacts)
		t += float64(g.n-1)*(bitsDeepApart+p.logPairs) + float64(g.contacts-g.n)*p.logEnds
	}
	return t + againPrice(sets)
}

// againPrice prices that links go through more than one set of switches: a hidden
// junction at which three contacts meet makes three sets, each of which shares a switch
// with the others.
func againPrice(sets []uint64) float64 {
	if len(sets) < 2 {
		return 0
	}
	var room [8]uint64
	merged := room[:0]
	for _, on := range sets {
		merged = merge(merged, on)
	}
	return float64(len(merged)-1)*bitsDeepAgain + float64(len(sets)-len(merged))*bitsDeepBeside
}

// oneMoreSet is by how much one more set changes againPrice, given the others merged;
// one that joins two that were apart makes it cheaper.
func oneMoreSet(merged []uint64, on uint64) float64 {
	if len(merged) == 0 {
		return 0
	}
	beside := 0
	for _, m := range merged {
		if m&on != 0 {
			beside++
		}
	}
	if beside == 0 {
		return bitsDeepAgain
	}
	return float64(beside)*bitsDeepBeside - float64(beside-1)*bitsDeepAgain
}

// deepMore prices that so many links need the same switches: an inner feed often has
// two outputs, and seldom more.
func deepMore(depth uint8, links int) float64 {
	if links < 2 {
		return 0
	}
	second := bitsDeepTwo
	if depth == 3 {
		second = bitsDeepThree
	}
	return second + bitsDeepMore*float64(links-2)
}

// bothActs is the price of a link whose switches have jobs of their own. A needle
// would take a tenth longer to look for them as long as they are as likely as they are,
// and they are taken for rarer there.
func bothActs(needle bool) float64 {
	if needle {
		return bitsBothAct + bitsForNeedle
	}
	return bitsBothAct
}

// deepMasks prices the positions of a link of several switches.
func (p *problem) deepMasks(n uint8, sw [3]int8, t [3]uint64) float64 {
	v, held := 0.0, 0
	for d := range int(n) {
		k := int(sw[d])
		v += p.maskPrice(k, p.local(k, t[d]))
		switch {
		case t[d]&^p.heldSlots == 0:
			held++
		case p.momentary[k]:
			v += bitsLetGo
		}
	}
	if n == 3 && held < 2 {
		v += bitsLooseThree
	}
	return v + bitsTwoHeld*float64(max(held-1, 0))
}

// idlePrice prices what a link of several switches that all have a job of their own
// asks of those: it seldom waits for one of them to be left alone, a kill switch aside,
// which rests in run.
func (p *problem) idlePrice(n uint8, sw [3]int8, t [3]uint64) float64 {
	idle, v := 0, 0.0
	for d := range int(n) {
		if k := sw[d]; t[d]&p.restSet != 0 {
			idle++
			if p.npos[k] == 2 && p.rest[k] == 0 && !p.momentary[k] {
				v = max(v, bitsIdleJob)
			} else {
				v = max(v, bitsIdleOther)
			}
		}
	}
	if idle == int(n) {
		return bitsIdleAll
	}
	return v
}

// ownEnds prices how many of their ends the links of busy switches have to themselves:
// all of them or none, rather than some.
func ownEnds(ends uint64, contact func(e int) bool) float64 {
	own := 0
	for m := ends; m != 0; m &= m - 1 {
		if !contact(lowBit(m)) {
			own++
		}
	}
	switch own {
	case 0:
		return 0
	case bits.OnesCount64(ends):
		return bitsOwnAll
	}
	return bitsOwnSome
}

// deepFirst prices the first link through a set of switches, its ends aside.
func (p *problem) deepFirst(depth uint8) float64 {
	if depth == 2 {
		return bitsDeep2 + p.logSwPairs
	}
	return bitsDeep3 + p.logSwTriples
}
