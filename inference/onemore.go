package inference

import (
	"math"
	"math/bits"
	"slices"
)

// countedAsAddition is the weight with which further links count a rival already:
// that of the link which it is the best map with, if it is. The smallest pods count
// no further links besides.
func (s *state) countedAsAddition(h *hyp) float64 {
	if s.counts {
		return 0
	}
	x, ok := s.p.oneMore(s.best, h)
	if !ok {
		return 0
	}
	c := s.p.conds.number(&x)
	if c < 0 {
		return 0
	}
	cp := s.p.condPrice(s.adding.shape, c)
	return math.Exp2(-s.adding.bits(&cp, int(x.a), int(x.b), c))
}

// oneMore is the link of a single condition with which a map is another, as drawn:
// one of its own, or one more position of a contact.
func (p *problem) oneMore(h, more *hyp) (atom, bool) {
	x, xs := onlyIn(h, more)
	y, ys := onlyIn(more, h)
	if ys != 1 || xs > 1 {
		return atom{}, false
	}
	if xs == 1 {
		if x.n != 1 || x.ends != y.ends || y.n == 1 && y.sw[0] != x.sw[0] || y.n > 1 {
			return atom{}, false
		}
		wide := p.swMask[x.sw[0]]
		if y.n == 1 {
			wide = y.t[0]
		}
		if x.t[0]&^wide != 0 {
			return atom{}, false
		}
		y = x
		y.t[0] = wide &^ x.t[0]
	}
	for d := range int(y.n) {
		if bits.OnesCount64(y.t[d]) != 1 {
			return atom{}, false
		}
	}
	return y, true
}

// onlyIn counts the links of a map that another has not, and gives the last.
func onlyIn(h, other *hyp) (x atom, n int) {
	for i := range h.atoms {
		if !slices.Contains(other.atoms, h.atoms[i]) {
			x = h.atoms[i]
			n++
		}
	}
	return x, n
}

// number finds the condition of a link; -1 if it is not in the table.
func (t *condTable) number(x *atom) int {
	for c := range t.terms {
		if t.depth[c] == int(x.n) && t.terms[c] == x.t {
			return c
		}
	}
	return -1
}
