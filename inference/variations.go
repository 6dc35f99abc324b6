package inference

import "slices"

// variations prices the maps that differ from a given one by one link, each
// only on the readings in which a changed link has a say.
type variations struct {
	p     *problem
	led   *ledger
	limit float64
	f     func(*hyp) float64

	whole  standing  // the given map
	prices []float64 // of each line, under the given map
	heard  []bool    // lines that it expects to beep
	cost   float64
	least  float64 // no map with one link changed has a prior under that

	drawn   []atom // the drawing at hand
	i       int    // and the link left out of it
	without standing
	rest    []float64            // price of each line without that link
	left    []bool               // lines expected to beep without it
	floor   float64              // of all lines
	paying  []int32              // lines of any price without that link
	bare    hyp                  // the drawing without the link
	clean   bool                 // which has nothing to tidy
	parts   [maxSwitches]float64 // of its prior, see priorBy
	bared   float64              // its prior
	shape   *shape               // and what it is that one more link is priced by
	cond    atom                 // the latest condition of one more link, at no ends
	price   condPrice            // and its price
	holds   []bool               // scratch
	c       hyp                  // scratch
}

// mostSaved is more than a change of one link can take off the prior: a link of
// three switches, with two dead ends and a switch that does nothing thrown in.
const mostSaved = 60.0

func newVariations(p *problem, h *hyp, limit float64, f func(*hyp) float64) *variations {
	v := &variations{p: p, led: newLedger(p), limit: limit, f: f}
	v.led.stand(&v.whole, h.atoms, -1)
	for k := range v.led.lines {
		n := &v.led.lines[k]
		v.heard = append(v.heard, v.whole.beeps(n))
		price := n.times * v.whole.price(n, v.heard[k], nil, nil)
		v.prices = append(v.prices, price)
		v.cost += price
	}
	v.rest = make([]float64, len(v.prices))
	v.left = make([]bool, len(v.prices))
	v.least = p.prior(h) - mostSaved
	return v
}

// leave takes link i out of a drawing of the given map.
func (v *variations) leave(drawn []atom, i int) {
	v.drawn, v.i = drawn, i
	v.led.stand(&v.without, drawn, i)
	v.holds = v.led.holding(&drawn[i], v.holds)
	v.bare.atoms = append(append(v.bare.atoms[:0], drawn[:i]...), drawn[i+1:]...)
	v.c.atoms = append(v.c.atoms[:0], v.bare.atoms...)
	v.p.tidy(&v.c)
	v.clean = slices.Equal(v.c.atoms, v.bare.atoms)
	v.bared = v.p.priorBy(&v.bare, &v.parts, ^uint64(0))
	v.shape, v.cond = v.p.shapeOf(&v.bare), atom{n: ^uint8(0)}
	v.floor, v.paying = v.cost, v.paying[:0]
	for k := range v.led.lines {
		n := &v.led.lines[k]
		v.rest[k], v.left[k] = v.prices[k], v.heard[k]
		if n.heeds(v.holds) {
			v.left[k] = v.without.beeps(n)
			v.rest[k] = n.times * v.without.price(n, v.left[k], nil, nil)
			v.floor += v.rest[k] - v.prices[k]
		}
		if v.rest[k] > 0 {
			v.paying = append(v.paying, int32(k))
		}
	}
}

// gone offers the map without the link.
func (v *variations) gone() { v.offer(v.floor, v.least) }

// instead offers the map with another link in its place.
func (v *variations) instead(y atom) {
	v.holds = v.led.holding(&y, v.holds)
	v.with(y)
}

// sideBySide offers the map with two links in its place, between the same two ends:
// to the nets they are one that holds whenever either does.
func (v *variations) sideBySide(y, z atom) {
	v.holds = v.led.holding(&y, v.holds)
	for i, s := range v.led.settings {
		v.holds[i] = v.holds[i] || z.holds(s)
	}
	v.with(y, z)
}

// with offers the map with links between two ends, one of which holds where holds says.
func (v *variations) with(links ...atom) {
	least := v.least
	if len(links) == 1 {
		least = v.priorWith(&links[0])
	}
	cost := v.floor
	for _, k := range v.paying {
		if v.led.lines[k].heeds(v.holds) {
			cost -= v.rest[k]
		}
	}
	if cost+least > v.limit {
		return // before any price is added: the rest of it cannot be less than nothing
	}
	for k := range v.led.lines {
		if n := &v.led.lines[k]; n.heeds(v.holds) {
			cost += n.times * v.without.price(n, v.left[k], &links[0], v.holds)
			if cost+least > v.limit {
				return
			}
		}
	}
	v.offer(cost, least, links...)
}

// priorWith is the prior of the bare map with one more link, or less.
func (v *variations) priorWith(y *atom) float64 {
	if !v.clean || v.inAll(y) || v.widens(y) || slices.Contains(v.bare.atoms, *y) {
		return v.least
	}
	if y.n != v.cond.n || y.sw != v.cond.sw || y.t != v.cond.t {
		v.cond = atom{n: y.n, sw: y.sw, t: y.t}
		v.price = v.p.conditionPrice(v.shape, int(y.n), y.sw, y.t)
	}
	return v.bared + v.p.addPrice(v.shape, &v.price, int(y.a), int(y.b)) - rounding
}

// rounding is more than sums of prices in different order differ by.
const rounding = 1e-9

// inAll tells whether a link names a switch and all of its positions.
func (v *variations) inAll(y *atom) bool {
	for d := range int(y.n) {
		if y.t[d] == v.p.swMask[y.sw[d]] {
			return true
		}
	}
	return false
}

// widens tells whether a link would be further positions of a contact of the bare map.
func (v *variations) widens(y *atom) bool {
	return y.n == 1 && slices.ContainsFunc(v.bare.atoms, func(x atom) bool {
		return x.n == 1 && x.ends == y.ends && x.sw[0] == y.sw[0]
	})
}

// offer hands over the map with these links in place of the one left out, unless it is
// too dear: by the prior it has at least, or by the one it has.
func (v *variations) offer(cost, least float64, links ...atom) {
	if cost+least > v.limit {
		return
	}
	c := &v.c
	c.atoms = append(c.atoms[:0], v.bare.atoms...)
	var changed uint64
	clean := v.clean
	for i := range links {
		c.add(links[i])
		clean = clean && !v.untidy(&links[i])
		changed |= links[i].switches()
	}
	parts := v.parts
	if !clean {
		v.p.tidy(c)
		changed = ^uint64(0)
	}
	c.cost = cost
	c.energy = cost + v.p.priorBy(c, &parts, changed)
	if c.energy < v.limit {
		v.limit = v.f(c.clone())
	}
}

// untidy tells whether a link leaves something to tidy in the map at hand, which had
// nothing before.
func (v *variations) untidy(y *atom) bool {
	if v.inAll(y) {
		return true
	}
	if y.n != 1 {
		return slices.Contains(v.bare.atoms, *y)
	}
	for i := range v.c.atoms {
		x := &v.c.atoms[i]
		if x.n == 1 && x.ends == y.ends && x.sw[0] == y.sw[0] {
			return x.t[0] == v.p.swMask[x.sw[0]]
		}
	}
	return false
}
