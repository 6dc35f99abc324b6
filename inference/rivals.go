package inference

import (
	"math"
	"slices"
)

// rival is a map that the readings leave possible besides another: mostly one
// with a link less, one exchanged, or one that holds under another condition.
type rival struct {
	h     *hyp
	delta float64 // bits dearer than the map that it rivals
	now   fault   // what it must believe of the bench at the latest reading
	held  int     // buttons that must be held at once to tell it from that map
	far   bool    // to be kept in mind: met further off than one change
	more  float64 // weight of further drawings of the same nets, where they were looked for
	added float64 // weight that the further links count already
}

// weight is a rival's chance against the map that it rivals, as far as nothing else
// counts it.
func (r *rival) weight() float64 {
	w := math.Exp2(-r.delta) - r.added
	if w < negligible {
		w = 0
	}
	return w + r.more
}

// negligible is less than the weight of any rival that is worth a thought.
const negligible = 1e-9

// eachChange makes the maps that differ from h in one link that is there: the
// link gone, moved to another end, closed in other positions, needing one more or one
// fewer switch, or moved and free of a switch at once. Those whose energy is under the
// limit are scored and handed to f, which gives the limit from there on.
func (p *problem) eachChange(h *hyp, limit float64, f func(*hyp) float64) {
	v := newVariations(p, h, limit, f)
	for i := range h.atoms {
		v.eachOf(h, i)
	}
}

// eachOf makes those that differ in link i.
func (v *variations) eachOf(h *hyp, i int) {
	p, x := v.p, h.atoms[i]
	v.leave(h.atoms, i)
	v.gone()
	v.rewired(x)
	if x.n > 1 {
		for d := range int(x.n) {
			v.rewired(x.freed(d)) // it may need a switch only because of where it was thought to be
		}
	}
	for b := 1; b < p.n; b++ {
		for a := range b {
			if x.ends&(1<<a|1<<b) == 0 {
				y := x
				y.rewire(a, b)
				v.instead(y)
			}
		}
	}
	p.eachCondition(x, v.instead)
	p.eachRehung(h, i, v.instead)
	for _, drawn := range p.redrawn(h, i) {
		v.leave(drawn, i)
		v.gone()
		p.eachCondition(x, v.instead)
	}
}

// rewired makes the maps with one end of a link elsewhere.
func (v *variations) rewired(x atom) {
	for e := range v.p.n {
		if x.ends>>e&1 == 1 {
			continue
		}
		for _, keep := range [2]int{int(x.a), int(x.b)} {
			y := x
			y.rewire(keep, e)
			v.instead(y)
		}
	}
}

// redrawn gives the drawings of the same nets in which other links hang on the
// far end of link i, which holds whenever they do: each by itself, and all at
// once that hang on one end; and those in which a link on the same ends is free of a
// switch because i closes wherever that one would not.
func (p *problem) redrawn(h *hyp, i int) [][]atom {
	var out [][]atom
	x := h.atoms[i]
	for _, from := range [2]uint64{1 << x.a, 1 << x.b} {
		var hung []int
		for j := range h.atoms {
			if y := &h.atoms[j]; j != i && x.ends&y.ends == from && y.implies(&x) {
				hung = append(hung, j)
			}
		}
		move := func(which ...int) {
			drawn := slices.Clone(h.atoms)
			for _, j := range which {
				drawn[j].rewire(lowBit(drawn[j].ends&^from), lowBit(x.ends&^from))
			}
			out = append(out, drawn)
		}
		for _, j := range hung {
			move(j)
		}
		if len(hung) > 1 {
			move(hung...)
		}
	}
	for j := range h.atoms {
		if d := p.idleTerm(&h.atoms[j], &x); j != i && d >= 0 {
			drawn := slices.Clone(h.atoms)
			drawn[j] = drawn[j].freed(d)
			out = append(out, drawn)
		}
	}
	return out
}

// idleTerm is the term of y that says nothing beside x, a contact on the same ends
// that closes wherever that term does not hold; -1 if there is none.
func (p *problem) idleTerm(y, x *atom) int {
	if x.n == 1 && y.n > 1 && y.ends == x.ends {
		for d := range int(y.n) {
			if y.sw[d] == x.sw[0] && p.swMask[y.sw[d]]&^(y.t[d]|x.t[0]) == 0 {
				return d
			}
		}
	}
	return -1
}

// implies tells whether x holds whenever y does.
func (y *atom) implies(x *atom) bool {
	for d := range int(x.n) {
		ok := false
		for e := range int(y.n) {
			ok = ok || y.sw[e] == x.sw[d] && y.t[e]&^x.t[d] == 0
		}
		if !ok {
			return false
		}
	}
	return true
}

// eachRehung makes the maps in which a link hangs on the far end of another that
// shares an end with it: under a neighbouring condition where that one holds
// whenever it does, since three ends joined at once can be drawn in three ways; else
// while both hold, since that is when it was heard at that end as well.
func (p *problem) eachRehung(h *hyp, i int, try func(y atom)) {
	x := h.atoms[i]
	for j := range h.atoms {
		y := h.atoms[j]
		shared := x.ends & y.ends
		if j == i || shared == 0 || shared == x.ends {
			continue
		}
		z := x
		z.rewire(lowBit(x.ends&^shared), lowBit(y.ends&^shared))
		if x.n > 0 && x.implies(&y) {
			p.eachCondition(z, try)
		} else if both, ok := z.while(&y); ok {
			try(both)
		}
	}
}

// while is the link needing what another needs as well; not ok where the two
// never hold together or that takes more than three switches.
func (x atom) while(y *atom) (atom, bool) {
	for d := range int(y.n) {
		at := slices.Index(x.sw[:x.n], y.sw[d])
		switch {
		case at >= 0 && x.t[at]&y.t[d] == 0, at < 0 && x.n == 3:
			return x, false
		case at >= 0:
			x.t[at] &= y.t[d]
		default:
			x = x.narrowed(int(y.sw[d]), y.t[d])
		}
	}
	return x, true
}

// eachCondition makes the links on the same ends under a neighbouring
// condition.
func (p *problem) eachCondition(x atom, f func(atom)) {
	for d := range int(x.n) {
		k := int(x.sw[d])
		for m := uint64(1); m < 1<<p.npos[k]; m++ {
			if y := x; m<<p.base[k] != x.t[d] {
				y.t[d] = m << p.base[k]
				f(y)
			}
		}
	}
	if x.n > 1 {
		for d := range int(x.n) {
			f(x.freed(d))
		}
	}
	if x.n == 3 {
		return
	}
	on := x.switches()
	for k := range p.npos {
		if on>>k&1 == 1 {
			continue
		}
		for q := range p.npos[k] {
			for _, mask := range [2]uint64{1 << (p.base[k] + q), p.swMask[k] &^ (1 << (p.base[k] + q))} {
				if p.npos[k] == 2 && mask != 1<<(p.base[k]+q) {
					continue
				}
				f(x.narrowed(k, mask))
			}
		}
	}
}

// freed is the link without one of its terms.
func (x atom) freed(d int) atom {
	copy(x.t[d:], x.t[d+1:])
	copy(x.sw[d:], x.sw[d+1:])
	x.n--
	x.t[x.n], x.sw[x.n] = 0, -1
	return x
}

// narrowed is the link with one more term, terms kept in switch order.
func (x atom) narrowed(k int, mask uint64) atom {
	d := int(x.n)
	for d > 0 && int(x.sw[d-1]) > k {
		x.sw[d], x.t[d] = x.sw[d-1], x.t[d-1]
		d--
	}
	x.sw[d], x.t[d] = int8(k), mask
	x.n++
	return x
}

// mostDown bounds one descent, which ends by itself: each step is to a cheaper map.
const mostDown = 200

// descend moves to the cheapest neighbouring map until none is cheaper. Further
// links are weighed only where no change of those there are helps.
func (p *problem) descend(h *hyp) *hyp {
	p.tidy(h)
	p.score(h)
	for range mostDown {
		best := h
		p.eachChange(h, h.energy-1e-9, func(c *hyp) float64 {
			best = c
			return c.energy - 1e-9
		})
		if best == h {
			best = p.joined(h)
		}
		if best == h {
			return h
		}
		h = best
	}
	return h
}
