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
	cost   float64
	least  float64    // no map with one link changed has a prior under that
	heard  []uint64   // lines that it expects to beep
	red    [][]uint64 // per end, the lines whose red net it is in
	black  [][]uint64
	nets   [][2]uint64 // of each line

	without      standing
	changed      []int32    // settings in which that is not as the whole is
	floor        float64    // of all lines, without that link
	rest         []float64  // price of each line
	open         []uint64   // lines that beeped and are not expected to
	apart        []uint64   // lines that did not, nor are expected to
	redWithout   [][]uint64 // see red
	blackWithout [][]uint64
	bare         hyp                  // the drawing without the link
	clean        bool                 // which has nothing to tidy
	parts        [maxSwitches]float64 // of its prior, see priorBy
	bared        float64              // its prior
	more         float64              // no map with two contacts more has a prior under that
	shape        *shape               // and what it is that one more link is priced by
	cond         atom                 // the latest condition of one more link, at no ends
	price        condPrice            // and its price
	cut          []uint64             // scratch: lines that may heed a link
	here         []uint64             // lines where the links in its place hold
	near         []uint64             // and where one of them may
	c            hyp                  // scratch
}

// mostSaved is more than a change of one link can take off the prior: a link of
// three switches, with two dead ends and a switch that does nothing thrown in, or the
// only contact of a switch that many busy links need.
const mostSaved = 120.0

// mostAdded is more than two contacts can take off it: two dead ends, two switches that
// do nothing or lack their second contact.
const mostAdded = 45.0

func newVariations(p *problem, h *hyp, limit float64, f func(*hyp) float64) *variations {
	led := newLedger(p)
	v := &variations{p: p, led: led, limit: limit, f: f}
	led.stand(&v.whole, h.atoms)
	v.without = standing{v.whole.n, slices.Clone(v.whole.nets)}
	words := func() []uint64 { return make([]uint64, led.words) }
	v.heard, v.open, v.apart, v.cut, v.here, v.near = words(), words(), words(), words(), words(), words()
	v.red, v.black = sets(p.n, led.words), sets(p.n, led.words)
	v.redWithout, v.blackWithout = sets(p.n, led.words), sets(p.n, led.words)
	for k := range led.lines {
		n := &led.lines[k]
		beeps := v.whole.beeps(n)
		if beeps {
			v.heard[k/64] |= 1 << (k % 64)
		}
		price := n.times * v.whole.price(n, beeps)
		v.prices = append(v.prices, price)
		v.cost += price
		v.nets = append(v.nets, [2]uint64{v.whole.joined(n.s, n.red), v.whole.joined(n.s, n.black)})
		mark(v.red, v.nets[k][0], k)
		mark(v.black, v.nets[k][1], k)
	}
	v.rest = slices.Clone(v.prices)
	v.least = p.prior(h) - mostSaved
	return v
}

// leave takes link i out of a drawing of the given map.
func (v *variations) leave(drawn []atom, i int) {
	v.bare.atoms = append(append(v.bare.atoms[:0], drawn[:i]...), drawn[i+1:]...)
	v.c.atoms = append(v.c.atoms[:0], v.bare.atoms...)
	v.p.tidy(&v.c)
	v.clean = slices.Equal(v.c.atoms, v.bare.atoms)
	v.bared = v.p.priorBy(&v.bare, &v.parts, ^uint64(0))
	v.shape, v.cond = v.p.shapeOf(&v.bare), atom{n: ^uint8(0)}
	v.more = v.least
	if v.clean {
		v.more = max(v.least, v.bared-mostAdded)
	}
	v.takeOut(drawn, i)
}

// takeOut works out what the lines are without link i of a drawing: where it does not
// hold nothing changes, whatever hangs on it.
func (v *variations) takeOut(drawn []atom, i int) {
	led := v.led
	x := &drawn[i]
	for _, s := range v.changed {
		copy(v.without.at(s), v.whole.at(s))
	}
	v.changed = v.changed[:0]
	for s, set := range led.settings {
		if x.holds(set) {
			led.standIn(&v.without, s, drawn, i)
			v.changed = append(v.changed, int32(s))
		}
	}
	for e := range v.red {
		copy(v.redWithout[e], v.red[e])
		copy(v.blackWithout[e], v.black[e])
	}
	copy(v.rest, v.prices)
	v.floor = v.cost
	holding(x, led.near, v.cut)
	for w, m := range v.cut {
		left := v.heard[w]
		for m &= led.all(w); m != 0; m &= m - 1 {
			k := w*64 + lowBit(m)
			n := &led.lines[k]
			unmark(v.redWithout, v.nets[k][0], k)
			unmark(v.blackWithout, v.nets[k][1], k)
			mark(v.redWithout, v.without.joined(n.s, n.red), k)
			mark(v.blackWithout, v.without.joined(n.s, n.black), k)
			beeps := v.without.beeps(n)
			if !beeps {
				left &^= m & -m
			}
			v.rest[k] = n.times * v.without.price(n, beeps)
			v.floor += v.rest[k] - v.prices[k]
		}
		v.open[w] = led.closed[w] &^ left & led.all(w)
		v.apart[w] = led.all(w) &^ led.closed[w] &^ left
	}
}

// gone offers the map without the link.
func (v *variations) gone() { v.offer(v.floor, v.more) }

// instead offers the map with another link in its place.
func (v *variations) instead(y atom) {
	holding(&y, v.led.at, v.here)
	holding(&y, v.led.near, v.near)
	v.with(y)
}

// sideBySide offers the map with two links in its place, between the same two ends:
// to the nets they are one that holds whenever either does.
func (v *variations) sideBySide(y, z atom) {
	holding(&y, v.led.at, v.here)
	holding(&y, v.led.near, v.near)
	holding(&z, v.led.at, v.cut)
	for w, m := range v.cut {
		v.here[w] |= m
	}
	holding(&z, v.led.near, v.cut)
	for w, m := range v.cut {
		v.near[w] |= m
	}
	v.with(y, z)
}

// with offers the map with links between two ends that hold where here says, and may
// do so with a button half pressed where near says. A line that beeps without them beeps
// with them.
func (v *variations) with(links ...atom) {
	least := v.more
	if len(links) == 1 {
		least = v.priorWith(&links[0])
	}
	cost := v.floor
	for w, m := range v.near {
		for m &= v.open[w]; m != 0; m &= m - 1 {
			cost -= v.rest[w*64+lowBit(m)]
		}
	}
	if cost+least > v.limit {
		return // before any price is added: the rest of it cannot be less than nothing
	}
	for w, m := range v.near {
		for m &= v.open[w]; m != 0; m &= m - 1 {
			n := &v.led.lines[w*64+lowBit(m)]
			if cost += n.times * v.without.beepPrice(n, v.led.settings, links); cost+least > v.limit {
				return
			}
		}
	}
	a, b := links[0].a, links[0].b
	redA, redB, blackA, blackB := v.redWithout[a], v.redWithout[b], v.blackWithout[a], v.blackWithout[b]
	for w, m := range v.here {
		for m &= v.apart[w] & (redA[w]&blackB[w] | redB[w]&blackA[w]); m != 0; m &= m - 1 {
			if cost += v.led.lines[w*64+lowBit(m)].times * priceSilence; cost+least > v.limit {
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
