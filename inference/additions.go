package inference

import (
	"math"
	"slices"
	"sync"
)

// implied gives, for a condition, the ends joined to each end by links that
// hold whenever the condition does.
func (p *problem) implied(h *hyp, c int, net []uint64) {
	t := &p.conds.terms[c]
	var room [maxAtoms]uint64
	sets := room[:0]
	for i := range h.atoms {
		x := &h.atoms[i]
		ok := true
		for d := range int(x.n) {
			ok = ok && (t[0]&x.t[d]|t[1]&x.t[d]|t[2]&x.t[d]) != 0
		}
		if ok {
			sets = merge(sets, x.ends)
		}
	}
	for e := range net {
		net[e] = 1 << e
	}
	for _, set := range sets {
		for m := set; m != 0; m &= m - 1 {
			net[lowBit(m)] = set
		}
	}
}

// eachAddition calls f for every further link of a single condition that would
// change the nets of some setting, with what it would change in bits, but for those
// of several switches that change more than most.
// A contact is never dearer than one that makes no sense, of a random switch in
// a random position between random ends: what was not read must not be vouched
// for by the look of the rest alone; one place that was never read holds the
// stop rule up by itself. held is how many buttons a hand must hold
// to see it.
func (p *problem) eachAddition(h *hyp, ev *evidence, most float64, f func(a, b, cond, held int, delta float64)) {
	add := p.newAdding(h, ev)
	add.each(add.everywhere(), most, f)
}

// additionsInParts calls f for each part of the conditions, on all cores, which goes
// through the further links of its part by each.
func (p *problem) additionsInParts(add *adding, most float64, f func(part int, each func(func(a, b, cond, held int, delta float64)))) {
	n := len(p.conds.terms)
	all := add.everywhere()
	parallel(additionParts, func(part int) {
		f(part, func(g func(a, b, cond, held int, delta float64)) {
			mine := all
			mine.from, mine.to = part*n/additionParts, (part+1)*n/additionParts
			add.each(mine, most, g)
		})
	})
}

// heldBits is up to how many bits of silences the settings are looked up in which a link
// shows: beyond, it weighs nothing whoever can see it.
const heldBits = 24.0

// additionParts is the same on any machine: sums of parts must not depend on it.
const additionParts = 16

// conditions is a range of them with what further links under them are told by.
type conditions struct {
	from, to int
	prices   []condPrice
	apart    func() *apartness
}

func (k *adding) everywhere() conditions {
	return conditions{0, len(k.p.conds.terms), k.p.condPrices(k.shape), sync.OnceValue(func() *apartness { return k.p.apartness(k.h) })}
}

func (k *adding) each(in conditions, most float64, f func(a, b, cond, held int, delta float64)) {
	p := k.p
	nets := make([]uint64, p.n)
	var apart *apartness
	for c := in.from; c < in.to; c++ {
		cp := &in.prices[c]
		least := math.Inf(-1)
		if c >= p.conds.pairFrom {
			least = cp.least()
		}
		p.implied(k.h, c, nets)
		for b := 1; b < p.n; b++ {
			for a := range b {
				q := pairIndex(a, b)
				d := float64(k.ev.ev[q*k.ev.nc+c])
				if d+least > most || nets[a]>>b&1 == 1 {
					continue
				}
				held := p.conds.held[c]
				if d < heldBits {
					if apart == nil {
						apart = in.apart()
					}
					if held = apart.held(q, &p.conds.terms[c]); held < 0 {
						continue
					}
				}
				f(a, b, c, held, k.bits(cp, a, b, c))
			}
		}
	}
}

// adding tells what one more link would change.
type adding struct {
	p     *problem
	h     *hyp
	ev    *evidence
	shape *shape
	site  map[[2]uint64]int // contacts by ends and switch, from one
}

func (p *problem) newAdding(h *hyp, ev *evidence) *adding {
	k := &adding{p: p, h: h, ev: ev, shape: p.shapeOf(h), site: map[[2]uint64]int{}}
	for i := range h.atoms {
		if x := &h.atoms[i]; x.n == 1 {
			k.site[[2]uint64{x.ends, uint64(x.sw[0])}] = i + 1
		}
	}
	return k
}

// siteOf is the contact, from one, that a link of one switch would be further positions
// of; 0 if there is none.
func (k *adding) siteOf(a, b, c int) int {
	return k.site[[2]uint64{1<<a | 1<<b, uint64(k.p.conds.sw[c][0])}]
}

// bits is what a link between two ends would change under a condition, whose price
// goes with it.
func (k *adding) bits(cp *condPrice, a, b, c int) float64 {
	d := float64(k.ev.ev[pairIndex(a, b)*k.ev.nc+c])
	return d + k.price(cp, a, b, c, d == 0)
}

// price is what the prior asks for it.
func (k *adding) price(cp *condPrice, a, b, c int, unread bool) float64 {
	p := k.p
	odd := p.odd
	switch p.conds.depth[c] {
	case 0:
		odd = p.oddFixed
	case 1:
		if i := k.siteOf(a, b, c); i > 0 {
			return min(p.widen(k.h, i-1, p.conds.terms[c][0]), odd)
		}
	default:
		return p.addPrice(k.shape, cp, a, b)
	}
	price := min(p.addPrice(k.shape, cp, a, b), odd)
	if unread {
		price = min(price, p.unread)
	}
	return price
}

// widen is what the prior asks for one more position of a contact that is
// there.
func (p *problem) widen(h *hyp, i int, slot uint64) float64 {
	c := h.clone()
	c.atoms[i].t[0] |= slot
	p.tidy(c)
	return p.prior(c) - p.prior(h)
}

// withAtom adds a link, as further positions of a contact that is already
// there if it can be.
func (h *hyp) withAtom(x atom) *hyp {
	c := h.clone()
	c.add(x)
	return c
}

func (h *hyp) add(x atom) {
	if x.n == 1 {
		for i := range h.atoms {
			y := &h.atoms[i]
			if y.n == 1 && y.ends == x.ends && y.sw[0] == x.sw[0] {
				y.t[0] |= x.t[0]
				return
			}
		}
	}
	h.atoms = append(h.atoms, x)
}

// tidy drops what says nothing: contacts of one switch on the same ends are one
// contact, one that closes in every position is a bridge, a repeated link is
// one link.
func (p *problem) tidy(h *hyp) {
	w := 0
	for i := range h.atoms {
		x := h.atoms[i]
		merged := false
		for j := range w {
			if y := &h.atoms[j]; x.n == 1 && y.n == 1 && y.ends == x.ends && y.sw[0] == x.sw[0] {
				y.t[0] |= x.t[0]
				merged = true
				break
			}
		}
		if !merged {
			h.atoms[w] = x
			w++
		}
	}
	h.atoms = h.atoms[:w]
	for i := range h.atoms {
		x := &h.atoms[i]
		w := 0
		for d := range int(x.n) {
			if x.t[d] != p.swMask[x.sw[d]] {
				x.t[w], x.sw[w] = x.t[d], x.sw[d]
				w++
			}
		}
		for d := w; d < int(x.n); d++ {
			x.t[d], x.sw[d] = 0, -1
		}
		x.n = uint8(w)
	}
	w = 0
	for i := range h.atoms {
		if !slices.Contains(h.atoms[:w], h.atoms[i]) {
			h.atoms[w] = h.atoms[i]
			w++
		}
	}
	h.atoms = h.atoms[:w]
}
