package inference

import "sync"

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
	w.stands = room(w.stands, np*nc)
	clear(w.stands)
	w.p, w.ev = p, ev
	clips := p.crossings(h).clips
	for i := range clips {
		w.take(&clips[i])
	}
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
	isShown []bool    // conditions shown in the clip set-up at hand
	shown   []int32   // and their list
	bounds  []bound   // and what bounds each
	stands  []witness // by pair, then by condition
}

func (w *weigher) take(group *setUp) {
	w.pairs, w.shown, w.bounds = w.pairs[:0], w.shown[:0], w.bounds[:0]
	for i := range group.across {
		w.reading(&group.across[i])
	}
	for _, c := range w.shown {
		w.isShown[c] = false
		w.bounds = append(w.bounds, group.bound(w.p, int(c)))
	}
	nc := w.ev.nc
	for _, q := range w.pairs {
		w.touched[q] = false
		for j, c := range w.shown {
			i := q*nc + int(c)
			if w.bite[i] == 0 && w.loose[i] == 0 {
				continue
			}
			w.ev.ev[i] += w.stands[i].says(w.bite[i]+min(w.loose[i], group.slip), w.bounds[j])
			w.bite[i], w.loose[i] = 0, 0
		}
	}
}

func (w *weigher) reading(o *across) {
	p := w.p
	into := w.loose
	if o.closed || o.protected {
		into = w.bite
	}
	says := o.says(&p.hand)
	holding := p.holdingConds(o.s)
	for _, c := range holding {
		if !w.isShown[c] {
			w.isShown[c] = true
			w.shown = append(w.shown, c)
		}
	}
	nc := w.ev.nc
	o.eachPair(func(q int) {
		if !w.touched[q] {
			w.touched[q] = true
			w.pairs = append(w.pairs, q)
		}
		row := into[q*nc : (q+1)*nc]
		for _, c := range holding {
			row[c] += says[p.conds.risk[c]]
		}
	})
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
