package inference

import (
	"math"
	"math/bits"
	"slices"
)

// atom is one link of a map in the engine's terms: two ends joined while each
// of its terms (a set of slots of one switch) holds. No term: always.
type atom struct {
	ends uint64
	t    [3]uint64
	a, b uint8
	sw   [3]int8
	n    uint8
}

func newAtom(a, b int) atom {
	if a > b {
		a, b = b, a
	}
	return atom{a: uint8(a), b: uint8(b), ends: 1<<a | 1<<b, sw: [3]int8{-1, -1, -1}}
}

// throw makes a link that holds in the given slots of one switch.
func throw(a, b, k int, slots uint64) atom {
	x := newAtom(a, b)
	x.n, x.sw[0], x.t[0] = 1, int8(k), slots
	return x
}

func (x *atom) holds(s uint64) bool {
	switch x.n {
	case 0:
		return true
	case 1:
		return s&x.t[0] != 0
	case 2:
		return s&x.t[0] != 0 && s&x.t[1] != 0
	}
	return s&x.t[0] != 0 && s&x.t[1] != 0 && s&x.t[2] != 0
}

func (x *atom) rewire(a, b int) {
	if a > b {
		a, b = b, a
	}
	x.a, x.b, x.ends = uint8(a), uint8(b), 1<<a|1<<b
}

// sameSite tells whether two atoms would be one contact with more positions:
// the same ends and switches.
func (x *atom) sameSite(y *atom) bool {
	return x.ends == y.ends && x.n == y.n && x.sw == y.sw && (x.n <= 1 || x.t == y.t)
}

// switches is the set of switches that a link depends on.
func (x *atom) switches() uint64 {
	var on uint64
	for d := range int(x.n) {
		on |= 1 << x.sw[d]
	}
	return on
}

// hyp is a map as the engine searches it. cost caches the price of the
// readings, energy adds the prior.
type hyp struct {
	atoms  []atom
	cost   float64
	energy float64
}

func (h *hyp) clone() *hyp {
	c := *h
	c.atoms = slices.Clone(h.atoms)
	return &c
}

// closed tells whether the map joins any red end to any black end in a
// setting.
func (h *hyp) closed(red, black, s uint64) bool {
	return red&black != 0 || h.spread(red, black, s)&black != 0
}

// net is the set of ends joined to any of from in a setting.
func (h *hyp) net(from, s uint64) uint64 { return h.spread(from, 0, s) }

// spread grows a set of ends over the links that hold in a setting, and stops early
// once it touches the goal.
func (h *hyp) spread(from, goal, s uint64) uint64 {
	for {
		before := from
		for i := range h.atoms {
			x := &h.atoms[i]
			if x.ends&from == 0 || x.ends&^from == 0 || !x.holds(s) {
				continue
			}
			if from |= x.ends; from&goal != 0 {
				return from
			}
		}
		if from == before {
			return from
		}
	}
}

// nets lists the nets of more than one end in a setting, into buf.
func (h *hyp) nets(s uint64, buf []uint64) []uint64 {
	buf = buf[:0]
	for i := range h.atoms {
		if h.atoms[i].holds(s) {
			buf = merge(buf, h.atoms[i].ends)
		}
	}
	return buf
}

// merge adds a set to some that have no member in common, as one with those that it
// shares members with.
func merge(sets []uint64, set uint64) []uint64 {
	w := 0
	for _, m := range sets {
		if m&set != 0 {
			set |= m
		} else {
			sets[w] = m
			w++
		}
	}
	return append(sets[:w], set)
}

// joinedTo is the ends that some are joined to by nets, themselves included.
func joinedTo(nets []uint64, ends uint64) uint64 {
	out := ends
	for _, m := range nets {
		if m&ends != 0 {
			out |= m
		}
	}
	return out
}

// readingPrice is the price of one reading under a map, runs aside.
func (h *hyp) readingPrice(o *obs) float64 {
	if o.void || o.control {
		return 0
	}
	return h.priceIn(o, o.s, 0)
}

// priceIn is the price of a reading taken in a setting. What a half-pressed
// button would have made of it stands, in the given slots, as that setting does.
func (h *hyp) priceIn(o *obs, s, slots uint64) float64 {
	return surprise(o.closed, h.closed(o.red, o.black, s), o.nalt, func(j int) bool {
		return h.closed(o.red, o.black, o.alt[j]&^slots|s&slots)
	})
}

// surprise is the price of a beep or a silence where a beep is expected or not.
// half tells the same of each of the settings that half-pressed buttons would have
// made of it.
func surprise(closed, expected bool, halves int, half func(j int) bool) float64 {
	switch {
	case closed == expected:
		return 0
	case expected:
		return priceSilence
	}
	for j := range halves {
		if half(j) {
			return priceHalf
		}
	}
	return priceBeep
}

// score fills in the price of the readings and the energy.
func (p *problem) score(h *hyp) { p.scoreUnder(h, math.Inf(1)) }

// scoreUnder scores a map whose energy is under a limit; for a dearer one it is false.
func (p *problem) scoreUnder(h *hyp, limit float64) bool {
	prior := p.prior(h)
	h.cost = 0
	for i := range p.obs {
		if h.cost += h.readingPrice(&p.obs[i]); h.cost+prior >= limit {
			return false
		}
	}
	h.energy = h.cost + prior
	return true
}

func lowBit(m uint64) int { return bits.TrailingZeros64(m) }
