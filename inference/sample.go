package inference

import (
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"
)

// chain is one sample of the maps that fit, and walks among them by the
// Metropolis rule at the temperature at which one bit halves the odds.
type chain struct {
	h     *hyp
	price []float64 // of each reading under h
	prior float64
}

func (c *chain) clone() *chain {
	d := *c
	d.h = c.h.clone()
	d.price = slices.Clone(c.price)
	return &d
}

// walker holds what the chains share while they walk.
type walker struct {
	p       *problem
	rng     *rand.Rand
	slotObs [][]uint64 // per slot, the readings taken in it, as a bit set
	words   int
	live    []uint64 // readings that count
	scratch hyp
	touched []uint64
	stray   []int // readings that beep and should not, under the map at hand
}

func newWalker(p *problem, rng *rand.Rand) *walker {
	w := &walker{p: p, rng: rng, words: (len(p.obs) + 63) / 64}
	w.slotObs = make([][]uint64, p.slots)
	for s := range w.slotObs {
		w.slotObs[s] = make([]uint64, w.words)
	}
	w.live = make([]uint64, w.words)
	w.touched = make([]uint64, w.words)
	for i := range p.obs {
		o := &p.obs[i]
		if o.void || o.control {
			continue
		}
		w.live[i/64] |= 1 << (i % 64)
		at := o.s
		for j := range o.nalt { // a half-pressed button may matter as well
			at |= o.alt[j]
		}
		for m := at; m != 0; m &= m - 1 {
			s := lowBit(m)
			w.slotObs[s][i/64] |= 1 << (i % 64)
		}
	}
	return w
}

func (w *walker) rescore(c *chain) {
	if cap(c.price) < len(w.p.obs) {
		c.price = make([]float64, len(w.p.obs))
	}
	c.price = c.price[:len(w.p.obs)]
	c.h.cost = 0
	for i := range w.p.obs {
		c.price[i] = c.h.readingPrice(&w.p.obs[i])
		c.h.cost += c.price[i]
	}
	c.prior = w.p.prior(c.h)
	c.h.energy = c.h.cost + c.prior
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
		w.step(c)
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
	limit := -math.Log2(w.rng.Float64()+1e-300) + bonus + c.prior - prior
	old := 0.0
	for i, m := range w.touched {
		for ; m != 0; m &= m - 1 {
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
			sum += n.readingPrice(&w.p.obs[i*64+bits.TrailingZeros64(m)])
			if sum > limit {
				return
			}
		}
	}
	for i, m := range w.touched {
		for ; m != 0; m &= m - 1 {
			j := i*64 + bits.TrailingZeros64(m)
			c.price[j] = n.readingPrice(&w.p.obs[j])
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
	case r < 22:
		return 0, w.rewire(n)
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

func (w *walker) rewire(n *hyp) bool {
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
	w.touch(x)
	x.rewire(keep, e)
	return !clash(n, i)
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

func (w *walker) birth(n *hyp) (float64, bool) {
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
	w.touch(&x)
	return q, !clash(n, len(n.atoms)-1)
}

func (w *walker) death(n *hyp) (float64, bool) {
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
	w.touch(&x)
	last := len(n.atoms) - 1
	n.atoms[i] = n.atoms[last]
	n.atoms = n.atoms[:last]
	return -q, true
}

func (w *walker) remask(n *hyp) bool {
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
	w.touch(x)
	x.t[d] = m
	w.touch(x)
	return !clash(n, i)
}

// swapEnds exchanges two ends, everywhere or in the contacts of one switch.
func (w *walker) swapEnds(n *hyp) bool {
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
		w.touch(x)
		x.rewire(other, to)
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

func (w *walker) swapMasks(n *hyp) bool {
	i, ok := w.pick(n)
	if !ok || n.atoms[i].n != 1 {
		return false
	}
	j, _ := w.pick(n)
	x, y := &n.atoms[i], &n.atoms[j]
	if y.n != 1 || y.sw[0] != x.sw[0] || x.t[0] == y.t[0] {
		return false
	}
	w.touch(x)
	w.touch(y)
	x.t[0], y.t[0] = y.t[0], x.t[0]
	return true
}

// deepen makes a link need one more switch, or one fewer.
func (w *walker) deepen(n *hyp) bool {
	i, ok := w.pick(n)
	if !ok || len(w.p.npos) == 0 {
		return false
	}
	x := &n.atoms[i]
	w.touch(x)
	if x.n >= 2 && w.rng.IntN(2) == 0 {
		d := w.rng.IntN(int(x.n))
		y := *x
		copy(y.t[d:], x.t[d+1:])
		copy(y.sw[d:], x.sw[d+1:])
		y.n--
		y.t[y.n], y.sw[y.n] = 0, -1
		*x = y
		w.touch(x)
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
	return !clash(n, i)
}

// chase goes after a beep that the map does not explain: with a new link, or
// by moving one that is there.
func (w *walker) chase(c *chain, n *hyp, move bool) bool {
	w.stray = w.stray[:0]
	for i, v := range c.price {
		if v > 0 && w.p.obs[i].closed {
			w.stray = append(w.stray, i)
		}
	}
	if len(w.stray) == 0 {
		return false
	}
	o := &w.p.obs[w.stray[w.rng.IntN(len(w.stray))]]
	a, b := w.member(o.red), w.member(o.black)
	if move {
		i, ok := w.pick(n)
		if !ok {
			return false
		}
		x := &n.atoms[i]
		w.touch(x)
		if !x.holds(o.s) {
			if x.n != 1 {
				return false
			}
			k := int(x.sw[0])
			x.t[0] = o.s & w.p.swMask[k]
		}
		x.rewire(a, b)
		w.touch(x)
		return !clash(n, i)
	}
	x := newAtom(a, b)
	if k := len(w.p.npos); k > 0 && w.rng.IntN(8) > 0 {
		sw := w.rng.IntN(k)
		m := o.s & w.p.swMask[sw]
		if w.rng.IntN(4) == 0 {
			m |= w.mask(sw)
		}
		x = throw(a, b, sw, m)
		if k > 1 && w.rng.IntN(8) == 0 {
			if k2 := w.rng.IntN(k); k2 != sw {
				x = x.narrowed(k2, o.s&w.p.swMask[k2])
			}
		}
	}
	if x.n == 1 && x.t[0] == w.p.swMask[x.sw[0]] {
		return false
	}
	for i := range n.atoms {
		if y := &n.atoms[i]; y.n == 1 && x.n == 1 && y.ends == x.ends && y.sw[0] == x.sw[0] {
			if y.t[0]|x.t[0] == w.p.swMask[x.sw[0]] {
				return false
			}
			y.t[0] |= x.t[0]
			w.touch(&x)
			return true
		}
	}
	n.atoms = append(n.atoms, x)
	w.touch(&x)
	return !clash(n, len(n.atoms)-1)
}

func (w *walker) member(m uint64) int {
	i := w.rng.IntN(bits.OnesCount64(m))
	for ; i > 0; i-- {
		m &= m - 1
	}
	return lowBit(m)
}
