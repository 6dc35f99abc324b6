package inference

import "math"

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
	was, each := c.lever[st], w.p.wrong[k]
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

// oddWithin tells whether a lever is elsewhere at some reading of a range.
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
	for i := range c.stray {
		for m := c.stray[i] | c.void[i] | c.odd[i]; m != 0; m &= m - 1 {
			w.stray = append(w.stray, i*64+lowBit(m))
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
		c.setPrice(i, w.readingPrice(c.h, c, i))
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
