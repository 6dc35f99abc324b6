package inference

import "slices"

// chain is one sample of what may be: a map, and what went wrong at the bench.
// It walks by the Metropolis rule at the temperature at which one bit halves
// the odds.
type chain struct {
	h     *hyp
	price []float64 // of each reading
	stray []uint64  // readings that cost something, as a bit set
	sides sides
	prior float64
	parts [maxSwitches]float64 // of the prior, see priorBy

	lever  []int8   // of each stand: where the lever was (position + 1), 0: as believed
	eff    []uint64 // of each reading: the setting that was
	void   []uint64 // readings taken while the clip was off, as a bit set
	odd    []uint64 // readings with a lever elsewhere, as a bit set
	faults float64  // price of all that

	insisted int // number of a reading, from one, that is to be believed; 0: none
}

func (c *chain) clone() *chain {
	d := *c
	d.h = c.h.clone()
	d.price = slices.Clone(c.price)
	d.stray = slices.Clone(c.stray)
	d.sides = c.sides.clone()
	d.lever = slices.Clone(c.lever)
	d.eff = slices.Clone(c.eff)
	d.void = slices.Clone(c.void)
	d.odd = slices.Clone(c.odd)
	return &d
}

// priorOf works out the prior of a chain's map.
func (p *problem) priorOf(c *chain) { c.prior = p.priorBy(c.h, &c.parts, ^uint64(0)) }

// energy is the price of map, readings and faults in bits.
func (c *chain) energy() float64 { return c.h.cost + c.prior + c.faults }

func has(set []uint64, i int) bool { return set[i/64]>>(i%64)&1 == 1 }

// stand is a run of readings through which one lever was left alone.
type stand struct {
	k        int
	from, to int // readings, to excluded
}

// begin is a chain at the empty map.
func (w *walker) begin() *chain {
	c := &chain{h: &hyp{}}
	w.extend(c)
	return c
}

// extend takes a chain on to readings that it has not seen, and gives their
// price.
func (w *walker) extend(c *chain) float64 {
	c.void, c.odd, c.stray = padded(c.void, w.words), padded(c.odd, w.words), padded(c.stray, w.words)
	c.lever = padded(c.lever, len(w.stands))
	if len(c.eff) == 0 {
		w.p.priorOf(c)
	}
	c.sides.hear(w, c.h, len(c.eff))
	t := 0.0
	for i := len(c.eff); i < len(w.raw); i++ {
		o := &w.raw[i]
		c.eff = append(c.eff, o.s)
		c.price = append(c.price, 0)
		if i > 0 && has(c.void, i-1) && !o.closed && o.epoch == w.raw[i-1].epoch && !w.raw[i-1].control {
			c.void[i/64] |= 1 << (i % 64)
		}
		w.settle(c, i)
		c.setPrice(i, w.readingPrice(c.h, c, i))
		t += c.price[i]
	}
	c.h.cost += t
	c.h.energy = c.h.cost + c.prior
	return t
}

// chainOf makes a chain of a map and an explanation of the readings.
func (w *walker) chainOf(h *hyp, faults []fault) *chain {
	c := &chain{h: h.clone()}
	w.extend(c)
	for i, f := range faults {
		switch {
		case f.slip:
			if i == 0 || !faults[i-1].slip {
				c.faults += priceSlip
			}
			c.void[i/64] |= 1 << (i % 64)
		case f.lever >= 0:
			if st := w.standOf[i][f.lever]; c.lever[st] == 0 {
				c.lever[st] = f.actual + 1
				c.faults += w.p.wrong[f.lever]
			}
		}
	}
	for i := range w.raw {
		w.settle(c, i)
	}
	w.rescore(c)
	return c
}

// settle works out the setting of a reading from the stands of its levers.
func (w *walker) settle(c *chain, i int) {
	s := w.raw[i].s
	odd := false
	for k, st := range w.standOf[i] {
		if v := c.lever[st]; v != 0 && int(v)-1 != w.p.position(s, k) {
			s = w.p.moveTo(s, k, int(v)-1)
			odd = true
		}
	}
	c.eff[i] = s
	c.odd[i/64] &^= 1 << (i % 64)
	if odd {
		c.odd[i/64] |= 1 << (i % 64)
	}
}

// rescore prices a chain anew.
func (w *walker) rescore(c *chain) {
	c.h.cost = 0
	for i := range w.raw {
		c.setPrice(i, w.readingPrice(c.h, c, i))
		c.h.cost += c.price[i]
	}
	w.p.priorOf(c)
	c.h.energy = c.h.cost + c.prior
}

func (c *chain) setPrice(i int, v float64) {
	c.price[i] = v
	c.stray[i/64] &^= 1 << (i % 64)
	if v > 0 {
		c.stray[i/64] |= 1 << (i % 64)
	}
}

// readingPrice is the price of a reading under a map and a chain's view of the
// bench.
func (w *walker) readingPrice(h *hyp, c *chain, i int) float64 {
	return w.insisting(w.freePrice(h, c, i), c, i)
}

// insisting adds to the price of a reading what is asked for one that is to be
// believed.
func (w *walker) insisting(v float64, c *chain, i int) float64 {
	if i+1 == c.insisted && (v > 0 || has(c.void, i) || has(c.odd, i)) {
		return v + insistence
	}
	return v
}

// freePrice is the same with no reading insisted on.
func (w *walker) freePrice(h *hyp, c *chain, i int) float64 {
	o := &w.raw[i]
	if v, ok := o.mapless(has(c.void, i)); ok {
		return v
	}
	return h.priceIn(o, c.eff[i], w.latches)
}
