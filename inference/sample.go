package inference

import (
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"
)

// walker holds what the chains share while they walk.
type walker struct {
	p        *problem
	raw      []obs
	rng      *rand.Rand
	stands   []stand
	standOf  [][]int32 // per reading, per switch
	standNow []int32   // at the latest reading, per switch
	roll     roll
	numbers  []int32    // the setting of each reading, by its number
	table    netTable   // scratch
	slotAt   [][]uint64 // per slot, the readings taken in it, as a bit set
	slotNear [][]uint64 // and those that were, or would have been with a button half pressed
	words    int
	taken    int      // changes of a map so far
	heat     float64  // 1: samples; more: a search that climbs out of valleys
	live     []uint64 // readings that links have a say in
	beeps    []uint64 // those that beeped
	latches  uint64   // slots of latching switches
	scratch  hyp
	touched  []uint64 // readings whose price a change may change
	moved    []uint64 // readings whose nets it may change
	changed  uint64   // switches with a contact among the links of a change
	stray    []int    // readings that the map at hand does not explain
}

func newWalker(p *problem, raw []obs, rng *rand.Rand) *walker {
	w := &walker{p: p, rng: rng, heat: 1, slotNear: make([][]uint64, p.slots), slotAt: make([][]uint64, p.slots), standNow: make([]int32, len(p.npos))}
	for k := range p.npos {
		w.standNow[k] = -1
		if !p.momentary[k] {
			w.latches |= p.swMask[k]
		}
	}
	w.hear(raw)
	return w
}

// hear takes in the readings that come after those that it has.
func (w *walker) hear(raw []obs) {
	p := w.p
	old := len(w.raw)
	w.raw, w.words = raw, (len(raw)+63)/64
	for _, set := range []*[]uint64{&w.live, &w.touched, &w.moved, &w.beeps} {
		*set = padded(*set, w.words)
	}
	for s := range w.slotNear {
		w.slotNear[s], w.slotAt[s] = padded(w.slotNear[s], w.words), padded(w.slotAt[s], w.words)
	}
	w.numbers = padded(w.numbers, len(raw))
	for i := old; i < len(raw); i++ {
		o := &raw[i]
		for k := range p.npos {
			if i == 0 || o.moved>>k&1 == 1 {
				w.standNow[k] = int32(len(w.stands))
				w.stands = append(w.stands, stand{k: k, from: i})
			}
			w.stands[w.standNow[k]].to = i + 1
		}
		w.standOf = append(w.standOf, slices.Clone(w.standNow))
		if o.control {
			continue
		}
		w.numbers[i] = w.roll.of(o.s)
		w.live[i/64] |= 1 << (i % 64)
		if o.closed {
			w.beeps[i/64] |= 1 << (i % 64)
		}
		at := o.s
		for j := range o.nalt { // a half-pressed button may matter as well
			at |= o.alt[j]
		}
		mark(w.slotNear, at, i)
		mark(w.slotAt, o.s, i)
	}
}

// padded is a slice with zeros put to its end, up to a length.
func padded[T any](s []T, n int) []T { return append(s, make([]T, n-len(s))...) }

// walk makes a number of tries. Where there is no pair of ends there is nothing to try.
func (w *walker) walk(c *chain, tries int) {
	if w.p.n < 2 {
		return
	}
	for range tries {
		if r := w.rng.IntN(16); r == 0 && len(w.raw) > 0 {
			w.fault(c)
		} else {
			w.step(c)
		}
	}
}

// step tries one change of the map and takes it by the Metropolis rule.
func (w *walker) step(c *chain) {
	n := &w.scratch
	n.atoms = append(n.atoms[:0], c.h.atoms...)
	clear(w.touched)
	clear(w.moved)
	w.changed = 0
	bonus, way, ok := w.propose(c, n)
	if !ok || len(n.atoms) > maxAtoms-2 {
		return
	}
	perSwitch := c.parts
	prior := w.p.priorBy(n, &perSwitch, w.changed)
	limit := -math.Log2(w.rng.Float64()+1e-300)*w.heat + bonus + c.prior - prior
	old := w.narrow(c, way)
	limit += old
	if limit < 0 {
		return
	}
	sum := 0.0
	for _, closed := range [2]bool{true, false} { // a beep gone is what is dearest
		for i, m := range w.touched {
			if m &= w.beeps[i]; !closed {
				m = w.touched[i] &^ w.beeps[i]
			}
			for ; m != 0; m &= m - 1 {
				sum += w.readingPrice(n, c, i*64+bits.TrailingZeros64(m))
				if sum > limit {
					return
				}
			}
		}
	}
	for i, m := range w.touched {
		for ; m != 0; m &= m - 1 {
			j := i*64 + bits.TrailingZeros64(m)
			c.setPrice(j, w.readingPrice(n, c, j))
		}
	}
	c.sides.turn(w, n)
	w.taken++
	c.h.atoms, n.atoms = n.atoms, c.h.atoms
	c.h.cost += sum - old
	c.prior, c.parts = prior, perSwitch
	c.h.energy = c.h.cost + prior
}

// way is what a change can do to the nets.
type way int

const (
	anyWay way = iota
	joins      // nets can only grow
	parts      // nets can only shrink
)

// narrow leaves in the touched set the readings whose price may change, and
// gives what the chain asks for them: one that is as expected stays so where
// nets grow and it beeped, or shrink and it did not.
func (w *walker) narrow(c *chain, way way) float64 {
	old := 0.0
	for i := range w.touched {
		m := (w.touched[i] | c.odd[i]) &^ c.void[i]
		switch way {
		case joins:
			m &= c.stray[i] | ^w.beeps[i]
		case parts:
			m &= c.stray[i] | w.beeps[i]
		}
		w.touched[i] = m
		for m &= c.stray[i]; m != 0; m &= m - 1 {
			old += c.price[i*64+bits.TrailingZeros64(m)]
		}
	}
	return old
}

// propose changes n and marks the readings that the change touches. bonus is,
// in bits, how much likelier the way back is to be proposed than the way there.
// Births and deaths have it worked out; the other moves count as even, which
// the chases after a beep are not: they are there to find maps at all, at the
// price of some bias.
func (w *walker) propose(c *chain, n *hyp) (bonus float64, way way, ok bool) {
	r := w.rng.IntN(100)
	switch {
	case r < 16:
		return 0, anyWay, w.rewire(c, n)
	case r < 22:
		return 0, anyWay, w.rewireDeeper(c, n)
	case r < 34:
		bonus, ok = w.birth(c, n)
		return bonus, joins, ok
	case r < 46:
		bonus, ok = w.death(c, n)
		return bonus, parts, ok
	case r < 58:
		return 0, anyWay, w.remask(c, n)
	case r < 66:
		return 0, anyWay, w.swapEnds(c, n)
	case r < 70:
		return 0, anyWay, w.swapMasks(c, n)
	case r < 76:
		return 0, anyWay, w.deepen(c, n)
	case r < 88:
		return 0, joins, w.chase(c, n, false)
	default:
		return 0, anyWay, w.chase(c, n, true)
	}
}
