package inference

import "math"

// setUp is the readings of one clip set-up across two nets of a map, and what bounds
// their word.
type setUp struct {
	across      []across
	stands      []int    // how often a lever came to stand in a slot
	first, last []uint16 // which stands were the first and the last of these
	slip        float32  // most that silences say after which the clip is not shown to bite
}

// setUpOf is that of a number of readings, of which those across two nets are given.
func (p *problem) setUpOf(group []obs, across []across) setUp {
	u := setUp{across: across, stands: make([]int, p.slots), first: make([]uint16, p.slots), last: make([]uint16, p.slots)}
	tail := 1
	for i := range group {
		o := &group[i]
		if o.void || o.control {
			continue
		}
		for k := range p.npos {
			slot := lowBit(o.s & p.swMask[k])
			if u.stands[slot] == 0 {
				u.first[slot] = o.stand[k]
			}
			if u.stands[slot] == 0 || u.last[slot] != o.stand[k] {
				u.stands[slot]++
			}
			u.last[slot] = o.stand[k]
		}
		if !o.protected {
			tail = max(tail, o.tail)
		}
	}
	u.slip = float32(slipSays(tail))
	return u
}

// slipSays is what so many silences of one clip set-up say at most against a link: that
// the clip had slipped, at one of them.
func slipSays(silences int) float64 {
	return max(priceSilence/2, priceSlip-math.Log2(float64(silences)))
}

// bound is the most that one clip set-up can say against a link under a condition: that
// a lever was elsewhere at each of its stands.
type bound struct {
	most        float32
	moved       bool // it came to stand there more than once
	latches     bool // there is such a lever
	first, last uint16
}

// bound is that of a condition by its number, by the lever that bounds it most.
func (u *setUp) bound(p *problem, c int) bound {
	most, by := float32(math.MaxFloat32), -1
	for d := range p.conds.depth[c] {
		k := int(p.conds.sw[c][d])
		if p.momentary[k] {
			continue
		}
		slot := lowBit(p.conds.terms[c][d])
		if v := float32(float64(max(u.stands[slot], 1)) * p.wrong[k]); v < most {
			most, by = v, slot
		}
	}
	if by < 0 {
		return bound{}
	}
	return bound{most: most, latches: true, moved: u.stands[by] > 1, first: u.first[by], last: u.last[by]}
}

// witness is the stand of a lever that last bore on a link, and how much it has said: a
// lever that was not moved since an earlier clip set-up is no fresh witness.
type witness struct {
	spent float32
	stand uint16
}

// says bounds what a clip set-up says against a link by its levers.
func (w *witness) says(v float32, b bound) float32 {
	if !b.latches || v <= 0 {
		return v
	}
	spent := float32(0)
	if w.stand == b.first {
		spent = w.spent
	}
	v = min(v, max(b.most-spent, 0))
	if b.moved || w.stand != b.last {
		spent = 0
	}
	w.stand, w.spent = b.last, spent+v
	return v
}
