package inference

import "math/bits"

// eachSplit makes the maps in which link i, a bridge or a contact, is two contacts
// of different switches side by side, over every drawing in which other links hang
// on its far end: what beeps whenever one of two levers stands right looks like
// a bridge until both are moved at once.
func (v *variations) eachSplit(h *hyp, i int) {
	x := h.atoms[i]
	if x.n > 1 {
		return
	}
	for _, drawn := range append(v.p.redrawn(h, i), h.atoms) {
		v.leave(drawn, i)
		v.p.eachPairOfContacts(x, v.sideBySide)
	}
}

// eachPairOfContacts makes two contacts on the ends of a link. In the place of a
// contact one of the two is its switch's, in fewer positions or as it was.
func (p *problem) eachPairOfContacts(x atom, f func(y, z atom)) {
	for k := range p.npos {
		if x.n == 1 && k != int(x.sw[0]) {
			continue
		}
		for j := range p.npos {
			if j == k || x.n == 0 && j < k {
				continue
			}
			p.eachMask(k, func(m uint64) {
				if x.n == 1 && m&^x.t[0] != 0 {
					return
				}
				y := throw(int(x.a), int(x.b), k, m)
				p.eachMask(j, func(m uint64) { f(y, throw(int(x.a), int(x.b), j, m)) })
			})
		}
	}
}

// eachMask makes the sets of neighbouring positions in which a contact may close.
func (p *problem) eachMask(k int, f func(slots uint64)) {
	for m := uint64(1); m < 1<<p.npos[k]-1; m++ {
		if m>>bits.TrailingZeros64(m)+1 == 1<<bits.OnesCount64(m) {
			f(m << p.base[k])
		}
	}
}
