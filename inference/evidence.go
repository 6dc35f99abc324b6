package inference

import (
	"math"
	"sync"
)

// evidence holds, for every pair of ends and every condition, by how many bits
// the readings speak against joining that pair under that condition on top of
// a map (negative: in favour).
type evidence struct {
	nc int       // how many conditions
	ev []float32 // by pair, then by condition
}

// tables lends evidence, and what it is worked out with: they are large.
type tables struct{ evidence, weighers sync.Pool }

func (t *tables) take() *evidence {
	if ev, ok := t.evidence.Get().(*evidence); ok {
		return ev
	}
	return &evidence{}
}

func (t *tables) giveBack(ev *evidence) { t.evidence.Put(ev) }

func pairIndex(a, b int) int {
	if a > b {
		a, b = b, a
	}
	return b*(b-1)/2 + a
}

// weigh builds the evidence on top of a map. The silences of one clip set-up
// are worth no more than the chance that the clip had slipped, unless a later
// beep shows that it bit; those of one stand of a lever no more than the
// chance that the lever was not there.
func (p *problem) weigh(h *hyp, ev *evidence) {
	np := p.n * (p.n - 1) / 2
	nc := len(p.conds.terms)
	ev.ev, ev.nc = room(ev.ev, np*nc), nc
	clear(ev.ev)
	w, ok := p.tables.weighers.Get().(*weigher)
	if !ok {
		w = &weigher{touched: make([]bool, np)}
	}
	defer p.tables.weighers.Put(w)
	w.bite, w.loose, w.isShown = room(w.bite, np*nc), room(w.loose, np*nc), room(w.isShown, nc)
	w.stand, w.spent = room(w.stand, np*nc), room(w.spent, np*nc)
	clear(w.stand)
	clear(w.spent)
	w.p, w.ev = p, ev
	for i := 0; i < len(p.obs); {
		j := i
		for j < len(p.obs) && p.obs[j].epoch == p.obs[i].epoch {
			j++
		}
		w.epoch(h, p.obs[i:j])
		i = j
	}
}

// slipSays is what so many silences of one clip set-up say at most against a link: that
// the clip had slipped, at one of them.
func slipSays(silences int) float64 {
	return max(priceSilence/2, priceSlip-math.Log2(float64(silences)))
}

// room is a slice of so many, what is beyond its length left as it was.
func room[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}

type weigher struct {
	p       *problem
	ev      *evidence
	bite    []float32 // from readings after which the clip is shown to bite
	loose   []float32 // from the others
	touched []bool
	pairs   []int
	isShown []bool  // conditions shown in the clip set-up at hand
	shown   []int32 // and their list
	caps    []float32
	slots   []int // see bound

	stand []uint16  // the lever's stand that last bore on it
	spent []float32 // and how much that stand has said
}

func (w *weigher) epoch(h *hyp, group []obs) {
	p := w.p
	w.pairs, w.shown = w.pairs[:0], w.shown[:0]
	stands := make([]int, p.slots)   // how often a lever came to stand in a slot
	first := make([]uint16, p.slots) // which stand was the first of these
	last := make([]uint16, p.slots)  // and which the last
	tail := 1
	for i := range group {
		o := &group[i]
		if o.void || o.control {
			continue
		}
		for k := range p.npos {
			slot := lowBit(o.s & p.swMask[k])
			if stands[slot] == 0 {
				first[slot] = o.stand[k]
			}
			if stands[slot] == 0 || last[slot] != o.stand[k] {
				stands[slot]++
			}
			last[slot] = o.stand[k]
		}
		if !o.protected {
			tail = max(tail, o.tail)
		}
		w.reading(h, o)
	}
	slipCap := float32(slipSays(tail))
	nc := w.ev.nc
	w.bound(stands)
	for _, q := range w.pairs {
		w.touched[q] = false
		for j, c := range w.shown {
			i := q*nc + int(c)
			if w.bite[i] == 0 && w.loose[i] == 0 {
				continue
			}
			v := w.bite[i] + min(w.loose[i], slipCap)
			w.bite[i], w.loose[i] = 0, 0
			if slot := w.slots[j]; slot >= 0 && v > 0 {
				// A lever that was not moved since an earlier clip set-up is no
				// fresh witness.
				spent := float32(0)
				if w.stand[i] == first[slot] {
					spent = w.spent[i]
				}
				v = min(v, max(w.caps[j]-spent, 0))
				if w.stand[i] != last[slot] || stands[slot] > 1 {
					spent = 0
				}
				w.stand[i], w.spent[i] = last[slot], spent+v
			}
			w.ev.ev[i] += v
		}
	}
}

// bound bounds what one clip set-up can say of each condition shown in it, by the
// stands of its levers, and names the slot of the lever that bounds it (-1: none).
func (w *weigher) bound(stands []int) {
	p := w.p
	w.caps, w.slots = w.caps[:0], w.slots[:0]
	for _, c := range w.shown {
		w.isShown[c] = false
		most, by := float32(math.MaxFloat32), -1
		for d := range p.conds.depth[c] {
			k := int(p.conds.sw[c][d])
			if p.momentary[k] {
				continue
			}
			slot := lowBit(p.conds.terms[c][d])
			if v := float32(float64(max(stands[slot], 1)) * p.wrong[k]); v < most {
				most, by = v, slot
			}
		}
		w.caps, w.slots = append(w.caps, most), append(w.slots, by)
	}
}

func (w *weigher) reading(h *hyp, o *obs) {
	p := w.p
	red := h.net(o.red, o.s)
	if red&o.black != 0 {
		return
	}
	black := h.net(o.black, o.s)
	into := w.bite
	if !o.protected {
		into = w.loose
	}
	says := o.silent(p.hand.silent)
	if o.closed {
		into = w.bite
		v := -float32(h.priceIn(o, o.s, 0))
		for risk := range says {
			says[risk] = v
		}
	}
	holding := p.holdingConds(o.s)
	for _, c := range holding {
		if !w.isShown[c] {
			w.isShown[c] = true
			w.shown = append(w.shown, c)
		}
	}
	nc := w.ev.nc
	for r := red; r != 0; r &= r - 1 {
		a := lowBit(r)
		for b := black; b != 0; b &= b - 1 {
			q := pairIndex(a, lowBit(b))
			if !w.touched[q] {
				w.touched[q] = true
				w.pairs = append(w.pairs, q)
			}
			row := into[q*nc : (q+1)*nc]
			for _, c := range holding {
				row[c] += says[p.conds.risk[c]]
			}
		}
	}
}

// heldCache remembers the conditions that hold in a setting. Forks of an engine
// share it, and may work at the same time.
type heldCache struct {
	mu sync.Mutex
	by map[uint64][]int32
}

func (p *problem) holdingConds(s uint64) []int32 {
	p.held.mu.Lock()
	defer p.held.mu.Unlock()
	got, ok := p.held.by[s]
	if !ok {
		got = p.conds.holding(s, nil)
		p.held.by[s] = got
	}
	return got
}
