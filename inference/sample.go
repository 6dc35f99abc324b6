package inference

import (
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"
)

// chain is one sample of what may be: a map, and what went wrong at the bench.
// It walks by the Metropolis rule at the temperature at which one bit halves
// the odds.
type chain struct {
	h     *hyp
	price []float64 // of each reading
	prior float64

	lever  []int8   // of each stand: where the lever was (position + 1), 0: as believed
	eff    []uint64 // of each reading: the setting that was
	void   []uint64 // readings taken while the clip was off, as a bit set
	odd    []uint64 // readings with a lever elsewhere, as a bit set
	faults float64  // price of all that
}

func (c *chain) clone() *chain {
	d := *c
	d.h = c.h.clone()
	d.price = slices.Clone(c.price)
	d.lever = slices.Clone(c.lever)
	d.eff = slices.Clone(c.eff)
	d.void = slices.Clone(c.void)
	d.odd = slices.Clone(c.odd)
	return &d
}

func (c *chain) energy() float64 { return c.h.cost + c.prior + c.faults }

func has(set []uint64, i int) bool { return set[i/64]>>(i%64)&1 == 1 }

// stand is a run of readings through which one lever was left alone.
type stand struct {
	k        int
	from, to int // readings, to excluded
}

// walker holds what the chains share while they walk.
type walker struct {
	p       *problem
	raw     []obs
	rng     *rand.Rand
	stands  []stand
	standOf [][]int32  // per reading, per switch
	slotObs [][]uint64 // per slot, the readings taken in it, as a bit set
	words   int
	heat    float64  // 1: fair samples; more: a search that climbs out of valleys
	live    []uint64 // readings that links have a say in
	latches uint64   // slots of latching switches
	scratch hyp
	touched []uint64
	stray   []int // readings that the map at hand does not explain
}

func newWalker(p *problem, raw []obs, rng *rand.Rand) *walker {
	w := &walker{p: p, raw: raw, rng: rng, heat: 1, words: (len(raw) + 63) / 64}
	w.slotObs = make([][]uint64, p.slots)
	for s := range w.slotObs {
		w.slotObs[s] = make([]uint64, w.words)
	}
	w.live = make([]uint64, w.words)
	w.touched = make([]uint64, w.words)
	last := make([]int32, len(p.npos))
	for k := range p.npos {
		last[k] = -1
		if !p.momentary[k] {
			w.latches |= p.swMask[k]
		}
	}
	for i := range raw {
		o := &raw[i]
		of := make([]int32, len(p.npos))
		for k := range p.npos {
			if i == 0 || o.moved>>k&1 == 1 {
				last[k] = int32(len(w.stands))
				w.stands = append(w.stands, stand{k: k, from: i})
			}
			w.stands[last[k]].to = i + 1
			of[k] = last[k]
		}
		w.standOf = append(w.standOf, of)
		if o.control {
			continue
		}
		w.live[i/64] |= 1 << (i % 64)
		at := o.s
		for j := range o.nalt { // a half-pressed button may matter as well
			at |= o.alt[j]
		}
		for m := at; m != 0; m &= m - 1 {
			w.slotObs[lowBit(m)][i/64] |= 1 << (i % 64)
		}
	}
	return w
}

// extend takes a chain on to readings that it has not seen.
func (w *walker) extend(c *chain) {
	for len(c.void) < w.words {
		c.void = append(c.void, 0)
		c.odd = append(c.odd, 0)
	}
	for len(c.lever) < len(w.stands) {
		c.lever = append(c.lever, 0)
	}
	for i := len(c.eff); i < len(w.raw); i++ {
		o := &w.raw[i]
		c.eff = append(c.eff, o.s)
		c.price = append(c.price, 0)
		if i > 0 && has(c.void, i-1) && !o.closed && o.epoch == w.raw[i-1].epoch && !w.raw[i-1].control {
			c.void[i/64] |= 1 << (i % 64)
		}
		w.settle(c, i)
	}
	w.rescore(c)
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
				c.faults += priceLever + math.Log2(float64(w.p.npos[f.lever]-1))
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

func (w *walker) rescore(c *chain) {
	c.h.cost = 0
	for i := range w.raw {
		c.price[i] = w.readingPrice(c.h, c, i)
		c.h.cost += c.price[i]
	}
	c.prior = w.p.prior(c.h)
	c.h.energy = c.h.cost + c.prior
}

// readingPrice is the price of a reading under a map and a chain's view of the
// bench.
func (w *walker) readingPrice(h *hyp, c *chain, i int) float64 {
	o := &w.raw[i]
	if has(c.void, i) {
		if o.closed {
			return priceBeep
		}
		return 0
	}
	if o.control {
		if o.closed {
			return 0
		}
		return priceSilence
	}
	s := c.eff[i]
	pred := h.closed(o.red, o.black, s)
	switch {
	case pred == o.closed:
		return 0
	case pred:
		return priceSilence
	}
	for j := range o.nalt {
		if h.closed(o.red, o.black, o.alt[j]&^w.latches|s&w.latches) {
			return priceHalf
		}
	}
	return priceBeep
}

// touch adds the readings on which a link has a say to the touched set.
func (w *walker) touch(x *atom) {
	for i := range w.words {
		m := w.live[i]
		for d := range int(x.n) {
			var any uint64
			for t := x.t[d]; t != 0; t &= t - 1 {
				any |= w.slotObs[lowBit(t)][i]
			}
			m &= any
		}
		w.touched[i] |= m
	}
}

// walk makes a number of tries.
func (w *walker) walk(c *chain, tries int) {
	for range tries {
		if r := w.rng.IntN(16); r == 0 && len(w.raw) > 0 {
			w.fault(c)
		} else {
			w.step(c)
		}
	}
}

func (w *walker) step(c *chain) {
	n := &w.scratch
	n.atoms = append(n.atoms[:0], c.h.atoms...)
	clear(w.touched)
	bonus, ok := w.propose(c, n)
	if !ok || len(n.atoms) > maxAtoms-2 {
		return
	}
	prior := w.p.prior(n)
	limit := -math.Log2(w.rng.Float64()+1e-300)*w.heat + bonus + c.prior - prior
	old := 0.0
	for i := range w.touched {
		w.touched[i] = (w.touched[i] | c.odd[i]) &^ c.void[i]
		for m := w.touched[i]; m != 0; m &= m - 1 {
			old += c.price[i*64+bits.TrailingZeros64(m)]
		}
	}
	limit += old
	sum := 0.0
	if sum > limit {
		return
	}
	for i, m := range w.touched {
		for ; m != 0; m &= m - 1 {
			sum += w.readingPrice(n, c, i*64+bits.TrailingZeros64(m))
			if sum > limit {
				return
			}
		}
	}
	for i, m := range w.touched {
		for ; m != 0; m &= m - 1 {
			j := i*64 + bits.TrailingZeros64(m)
			c.price[j] = w.readingPrice(n, c, j)
		}
	}
	c.h.atoms, n.atoms = n.atoms, c.h.atoms
	c.h.cost += sum - old
	c.prior = prior
	c.h.energy = c.h.cost + prior
}

// propose changes n and marks the readings that the change touches. bonus is
// the log of the ratio of the chances to propose there and back.
func (w *walker) propose(c *chain, n *hyp) (bonus float64, ok bool) {
	r := w.rng.IntN(100)
	switch {
	case r < 16:
		return 0, w.rewire(n)
	case r < 22:
		return 0, w.rewireDeeper(n)
	case r < 34:
		return w.birth(n)
	case r < 46:
		return w.death(n)
	case r < 58:
		return 0, w.remask(n)
	case r < 66:
		return 0, w.swapEnds(n)
	case r < 70:
		return 0, w.swapMasks(n)
	case r < 76:
		return 0, w.deepen(n)
	case r < 88:
		return 0, w.chase(c, n, false)
	default:
		return 0, w.chase(c, n, true)
	}
}

// fault changes a chain's view of the bench: a lever's stand, or a run of
// silences under a slipped clip.
func (w *walker) fault(c *chain) {
	i, ok := w.suspect(c)
	if !ok {
		return
	}
	if w.rng.IntN(3) == 0 {
		w.slip(c, i)
		return
	}
	if len(w.p.npos) == 0 {
		return
	}
	k := w.rng.IntN(len(w.p.npos))
	if w.p.momentary[k] {
		return
	}
	st := w.standOf[i][k]
	v := int8(w.rng.IntN(w.p.npos[k]) + 1)
	if c.lever[st] != 0 && w.rng.IntN(2) == 0 {
		v = 0
	}
	if v == c.lever[st] || v != 0 && int(v)-1 == w.p.position(w.raw[i].s, k) {
		return
	}
	was, each := c.lever[st], priceLever+math.Log2(float64(w.p.npos[k]-1))
	change := 0.0
	if was == 0 {
		change += each
	}
	if v == 0 {
		change -= each
	}
	from, to := w.stands[st].from, w.stands[st].to
	if was == 0 && w.oddWithin(c, from, to) {
		return // one lever at a time
	}
	c.lever[st] = v
	if !w.accept(c, from, to, change, func(i int) { w.settle(c, i) }) {
		c.lever[st] = was
		for i := from; i < to; i++ {
			w.settle(c, i)
		}
	}
}

func (w *walker) oddWithin(c *chain, from, to int) bool {
	for i := from; i < to; i++ {
		if has(c.odd, i) {
			return true
		}
	}
	return false
}

// suspect picks a reading to look for a fault at: one that is not explained,
// or one that a fault explains.
func (w *walker) suspect(c *chain) (int, bool) {
	w.stray = w.stray[:0]
	for i, v := range c.price {
		if v > 0 || has(c.void, i) || has(c.odd, i) {
			w.stray = append(w.stray, i)
		}
	}
	if len(w.stray) == 0 {
		return 0, false
	}
	return w.stray[w.rng.IntN(len(w.stray))], true
}

// accept settles the readings of a range anew and takes the change by the
// Metropolis rule; else the caller must put back what it changed.
func (w *walker) accept(c *chain, from, to int, change float64, settle func(i int)) bool {
	old, sum := 0.0, 0.0
	for i := from; i < to; i++ {
		settle(i)
		old += c.price[i]
		sum += w.readingPrice(c.h, c, i)
	}
	if sum-old+change > -math.Log2(w.rng.Float64()+1e-300)*w.heat {
		return false
	}
	for i := from; i < to; i++ {
		c.price[i] = w.readingPrice(c.h, c, i)
	}
	c.h.cost += sum - old
	c.h.energy = c.h.cost + c.prior
	c.faults += change
	return true
}

// slip makes a run of silences from reading i on a slipped clip's, or ends
// that explanation for the run that i is in.
func (w *walker) slip(c *chain, i int) {
	from, to := i, i
	change := priceSlip
	set := !has(c.void, i)
	if set {
		if w.raw[i].closed {
			return
		}
		for to < len(w.raw) && !w.raw[to].closed && !has(c.void, to) &&
			w.raw[to].epoch == w.raw[i].epoch && w.raw[to].session == w.raw[i].session {
			to++
			if w.raw[to-1].control {
				break
			}
		}
	} else {
		change = -priceSlip
		for from > 0 && has(c.void, from-1) && w.raw[from-1].epoch == w.raw[i].epoch {
			from--
		}
		for to < len(w.raw) && has(c.void, to) && w.raw[to].epoch == w.raw[i].epoch {
			to++
		}
	}
	flip := func(i int) { c.void[i/64] ^= 1 << (i % 64) }
	if !w.accept(c, from, to, change, flip) {
		for i := from; i < to; i++ {
			flip(i)
		}
	}
}

// now is what the chain believes of the bench at the latest reading.
func (w *walker) now(c *chain) fault {
	n := len(w.raw)
	if n == 0 {
		return noFault
	}
	if has(c.void, n-1) && !w.raw[n-1].control {
		return fault{slip: true, lever: -1}
	}
	for k, st := range w.standOf[n-1] {
		if v := c.lever[st]; v != 0 {
			return fault{lever: int8(k), actual: v - 1}
		}
	}
	return noFault
}
