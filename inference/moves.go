package inference

import (
	"math"
	"math/bits"
)

// The moves of a walk: each changes a copy of the chain's map and marks the readings
// that the change may touch. A move puts one link there at the most, or links exchange
// ends or positions: for more than that, gain marks too few readings.

func (w *walker) pick(n *hyp) (int, bool) {
	if len(n.atoms) == 0 {
		return 0, false
	}
	return w.rng.IntN(len(n.atoms)), true
}

// clash tells whether a changed link now doubles another one.
func clash(n *hyp, i int) bool {
	for j := range n.atoms {
		if j != i && n.atoms[j].sameSite(&n.atoms[i]) {
			return true
		}
	}
	return false
}

func (w *walker) rewire(c *chain, n *hyp) bool {
	i, ok := w.pick(n)
	if !ok {
		return false
	}
	x := &n.atoms[i]
	keep, e := int(x.a), w.rng.IntN(w.p.n)
	if w.rng.IntN(2) == 0 {
		keep = int(x.b)
	}
	if x.ends>>e&1 == 1 {
		return false
	}
	w.lose(c, x)
	x.rewire(keep, e)
	w.gain(c, x)
	return !clash(n, i)
}

// rewireDeeper moves one end of a link and makes it need one more switch, or
// one fewer, in one move.
func (w *walker) rewireDeeper(c *chain, n *hyp) bool {
	i, ok := w.pick(n)
	if !ok || len(w.p.npos) < 2 {
		return false
	}
	x := &n.atoms[i]
	keep, e := int(x.a), w.rng.IntN(w.p.n)
	if w.rng.IntN(2) == 0 {
		keep = int(x.b)
	}
	if x.ends>>e&1 == 1 {
		return false
	}
	w.lose(c, x)
	x.rewire(keep, e)
	if x.n >= 2 && w.rng.IntN(2) == 0 {
		w.shallow(x)
	} else if k := w.rng.IntN(len(w.p.npos)); x.n < 3 && x.switches()>>k&1 == 0 {
		*x = x.narrowed(k, w.slot(k))
	} else {
		return false
	}
	w.gain(c, x)
	return !clash(n, i)
}

// shallow drops one term of a link.
func (w *walker) shallow(x *atom) {
	d := w.rng.IntN(int(x.n))
	copy(x.t[d:], x.t[d+1:])
	copy(x.sw[d:], x.sw[d+1:])
	x.n--
	x.t[x.n], x.sw[x.n] = 0, -1
}

func (w *walker) pair() (int, int) {
	a := w.rng.IntN(w.p.n)
	b := w.rng.IntN(w.p.n - 1)
	if b >= a {
		b++
	}
	return a, b
}

func (w *walker) mask(k int) uint64 {
	return uint64(1+w.rng.IntN(1<<w.p.npos[k]-2)) << w.p.base[k]
}

func (w *walker) slot(k int) uint64 {
	return 1 << (w.p.base[k] + w.rng.IntN(w.p.npos[k]))
}

func (w *walker) birth(on *chain, n *hyp) (float64, bool) {
	a, b := w.pair()
	x := newAtom(a, b)
	k := len(w.p.npos)
	q := w.p.logPairs + math.Log2(float64(len(n.atoms)+1))*-1
	kinds := k + 2
	c := w.rng.IntN(kinds)
	q += math.Log2(float64(kinds))
	switch {
	case c < k:
		x = throw(a, b, c, w.mask(c))
		q += math.Log2(float64(uint64(1)<<w.p.npos[c] - 2))
	case c == k:
	default:
		if k < 2 {
			return 0, false
		}
		k1, k2 := w.rng.IntN(k), w.rng.IntN(k)
		if k1 == k2 {
			return 0, false
		}
		x = throw(a, b, k1, w.slot(k1)).narrowed(k2, w.slot(k2))
		q += w.p.logSwPairs + math.Log2(float64(w.p.npos[k1]*w.p.npos[k2]))
	}
	n.atoms = append(n.atoms, x)
	w.gain(on, &x)
	return q, !clash(n, len(n.atoms)-1)
}

func (w *walker) death(c *chain, n *hyp) (float64, bool) {
	i, ok := w.pick(n)
	if !ok {
		return 0, false
	}
	x := n.atoms[i]
	k := len(w.p.npos)
	q := w.p.logPairs + math.Log2(float64(k+2)) - math.Log2(float64(len(n.atoms)))
	for d := range int(x.n) {
		np := w.p.npos[x.sw[d]]
		if x.n == 1 {
			q += math.Log2(float64(uint64(1)<<np - 2))
		} else {
			q += math.Log2(float64(np))
		}
	}
	if x.n > 1 {
		q += w.p.logSwPairs
	}
	w.lose(c, &x)
	last := len(n.atoms) - 1
	n.atoms[i] = n.atoms[last]
	n.atoms = n.atoms[:last]
	return -q, true
}

func (w *walker) remask(c *chain, n *hyp) bool {
	i, ok := w.pick(n)
	if !ok || n.atoms[i].n == 0 {
		return false
	}
	x := &n.atoms[i]
	d := w.rng.IntN(int(x.n))
	k := int(x.sw[d])
	m := w.mask(k)
	if m == x.t[d] {
		return false
	}
	w.lose(c, x)
	x.t[d] = m
	w.gain(c, x)
	return !clash(n, i)
}

// swapEnds exchanges two ends, everywhere or in the contacts of one switch.
func (w *walker) swapEnds(c *chain, n *hyp) bool {
	a, b := w.pair()
	only := -1
	if k := len(w.p.npos); k > 0 && w.rng.IntN(2) == 0 {
		only = w.rng.IntN(k)
	}
	done := false
	for i := range n.atoms {
		x := &n.atoms[i]
		if only >= 0 && (x.n != 1 || int(x.sw[0]) != only) {
			continue
		}
		hasA, hasB := x.ends>>a&1, x.ends>>b&1
		if hasA == hasB {
			continue
		}
		from, to := a, b
		if hasB == 1 {
			from, to = b, a
		}
		other := int(x.a) + int(x.b) - from
		w.lose(c, x)
		x.rewire(other, to)
		w.gain(c, x)
		done = true
	}
	if only >= 0 && done {
		for i := range n.atoms {
			if clash(n, i) {
				return false
			}
		}
	}
	return done
}

func (w *walker) swapMasks(c *chain, n *hyp) bool {
	i, ok := w.pick(n)
	if !ok || n.atoms[i].n != 1 {
		return false
	}
	j, _ := w.pick(n)
	x, y := &n.atoms[i], &n.atoms[j]
	if y.n != 1 || y.sw[0] != x.sw[0] || x.t[0] == y.t[0] {
		return false
	}
	w.lose(c, x)
	w.lose(c, y)
	x.t[0], y.t[0] = y.t[0], x.t[0]
	w.gain(c, x)
	w.gain(c, y)
	return true
}

// deepen makes a link need one more switch, or one fewer.
func (w *walker) deepen(c *chain, n *hyp) bool {
	i, ok := w.pick(n)
	if !ok || len(w.p.npos) == 0 {
		return false
	}
	x := &n.atoms[i]
	w.lose(c, x)
	if x.n >= 2 && w.rng.IntN(2) == 0 {
		w.shallow(x)
		w.gain(c, x)
		return !clash(n, i)
	}
	if x.n == 3 {
		return false
	}
	k := w.rng.IntN(len(w.p.npos))
	if x.switches()>>k&1 == 1 {
		return false
	}
	*x = x.narrowed(k, w.slot(k))
	w.gain(c, x)
	return !clash(n, i)
}

// chase goes after a beep that the map does not explain: with a new link, or
// by moving one that is there.
func (w *walker) chase(c *chain, n *hyp, move bool) bool {
	w.stray = w.stray[:0]
	for i, m := range c.stray {
		for m &= w.beeps[i]; m != 0; m &= m - 1 {
			w.stray = append(w.stray, i*64+lowBit(m))
		}
	}
	if len(w.stray) == 0 {
		return false
	}
	j := w.stray[w.rng.IntN(len(w.stray))]
	o := w.raw[j]
	o.s = c.eff[j]
	a, b := w.member(o.red), w.member(o.black)
	if move {
		i, ok := w.pick(n)
		if !ok {
			return false
		}
		x := &n.atoms[i]
		w.lose(c, x)
		if !x.holds(o.s) {
			if x.n != 1 {
				return false
			}
			k := int(x.sw[0])
			x.t[0] = o.s & w.p.swMask[k]
		}
		x.rewire(a, b)
		w.gain(c, x)
		return !clash(n, i)
	}
	x := newAtom(a, b)
	if k := len(w.p.npos); k > 0 && w.rng.IntN(8) > 0 {
		sw := w.rng.IntN(k)
		m := o.s & w.p.swMask[sw]
		if w.rng.IntN(4) == 0 {
			m |= w.mask(sw)
		}
		if m == w.p.swMask[sw] {
			return false // a switch that does not matter is no term
		}
		x = throw(a, b, sw, m)
		if k > 1 && w.rng.IntN(8) == 0 {
			if k2 := w.rng.IntN(k); k2 != sw {
				x = x.narrowed(k2, o.s&w.p.swMask[k2])
			}
		}
	}
	for i := range n.atoms {
		if y := &n.atoms[i]; y.n == 1 && x.n == 1 && y.ends == x.ends && y.sw[0] == x.sw[0] {
			if y.t[0]|x.t[0] == w.p.swMask[x.sw[0]] {
				return false
			}
			y.t[0] |= x.t[0]
			w.gain(c, &x)
			return true
		}
	}
	n.atoms = append(n.atoms, x)
	w.gain(c, &x)
	return !clash(n, len(n.atoms)-1)
}

func (w *walker) member(m uint64) int {
	i := w.rng.IntN(bits.OnesCount64(m))
	for ; i > 0; i-- {
		m &= m - 1
	}
	return lowBit(m)
}
