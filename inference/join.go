package inference

import (
	"cmp"
	"math"
	"slices"
)

// joined is a map with the further link that makes it cheapest; the map itself
// if none does.
func (p *problem) joined(h *hyp) *hyp {
	if len(h.atoms) >= maxAtoms-2 { // as many as samples may have
		return h
	}
	x, ok := p.newJoiner(h).cheapest()
	if !ok {
		return h
	}
	c := h.withAtom(x)
	p.tidy(c)
	p.score(c)
	if c.energy < h.energy-1e-9 {
		return c
	}
	return h
}

// joiner finds the further link that makes a map cheapest without the table of all of
// them. Only what explains a beep that the map does not expect makes it cheaper, or
// what the prior asks for by itself, and most of that is too dear before any silence
// is heard.
type joiner struct {
	crossings
	p      *problem
	adding *adding
	beeps  [][]int32 // of each pair of ends, those of the readings that beep between their nets
	all    [][]int32 // and all of them, once asked for
	gain   []float32 // scratch, by condition
	shown  []int32   // and the conditions for which there is any
	list   []oneMore // scratch
}

func (p *problem) newJoiner(h *hyp) *joiner {
	np := p.n * (p.n - 1) / 2
	j := &joiner{crossings: p.crossings(h), p: p, adding: p.newAdding(h, nil),
		beeps: make([][]int32, np), all: make([][]int32, np), gain: make([]float32, len(p.conds.terms))}
	for i := range j.readings {
		if o := &j.readings[i]; o.closed {
			o.eachPair(func(q int) { j.beeps[q] = append(j.beeps[q], int32(i)) })
		}
	}
	return j
}

// oneMore is a further link by its ends and its condition.
type oneMore struct {
	a, b, c int
	least   float64 // bits that it changes at least, no silence heard
	price   float64 // what the prior asks for it
	bits    float64 // that it changes, once known
}

// before tells whether a link is cheaper than another, or alike and the first by
// condition and then by ends.
func (v *oneMore) before(w *oneMore) bool {
	if math.Abs(v.bits-w.bits) > 1e-9 {
		return v.bits < w.bits
	}
	return cmp.Or(v.c-w.c, v.b-w.b, v.a-w.a) < 0
}

// cheapest is the link that takes off most; not ok if none takes anything off. The
// pairs of ends between which most is to be explained come first: what they leave to
// be beaten makes an end of most others before any of their links is priced.
func (j *joiner) cheapest() (x atom, ok bool) {
	p := j.p
	prices := p.condPrices(j.adding.shape)
	var asked []int32 // conditions of several switches that the prior may ask for
	for c := p.conds.pairFrom; c < len(prices); c++ {
		if prices[c].least() < 0 {
			asked = append(asked, int32(c))
		}
	}
	best := oneMore{bits: -1e-9, c: -1}
	for _, q := range j.pairs() {
		for _, v := range j.links(q, prices, asked, best.bits) {
			if v.least < best.bits+rounding32 && j.hear(&v, best.bits+1e-9) && v.before(&best) && j.tells(&v) {
				best, x, ok = v, p.conds.atom(v.a, v.b, v.c), true
			}
		}
	}
	return x, ok
}

// pairs lists the pairs of ends, those first between which most is to be explained.
func (j *joiner) pairs() [][2]int {
	p := j.p
	gain := make([]float32, len(j.beeps))
	var out [][2]int
	for b := 1; b < p.n; b++ {
		for a := range b {
			q := pairIndex(a, b)
			for _, i := range j.beeps[q] {
				gain[q] += j.readings[i].gain
			}
			out = append(out, [2]int{a, b})
		}
	}
	slices.SortStableFunc(out, func(v, w [2]int) int {
		return cmp.Compare(gain[pairIndex(v[0], v[1])], gain[pairIndex(w[0], w[1])])
	})
	return out
}

// links lists those between two ends that would be under a limit if no silence spoke
// against them, the one first that would be cheapest then.
func (j *joiner) links(ends [2]int, prices []condPrice, asked []int32, limit float64) []oneMore {
	p := j.p
	a, b := ends[0], ends[1]
	j.shown = j.gains(pairIndex(a, b), j.shown[:0])
	dead := 0.0 // by how much more than these ends a link could save in dead ends
	for _, e := range ends {
		dead += bitsDeadEnd + p.usePrice(j.adding.shape, e)
	}
	out := j.list[:0]
	consider := func(c int) {
		gain := float64(j.gain[c])
		if gain+j.leastPrice(&prices[c], a, b, c, dead) >= limit+rounding32 {
			return
		}
		price := j.adding.price(&prices[c], a, b, c, false)
		if least := gain + price; least < limit+rounding32 {
			out = append(out, oneMore{a: a, b: b, c: c, least: least, price: price})
		}
	}
	for c := range p.conds.pairFrom {
		consider(c)
	}
	for _, c := range j.shown {
		if int(c) >= p.conds.pairFrom {
			consider(int(c))
		}
	}
	for _, c := range asked {
		if j.gain[c] == 0 {
			consider(int(c))
		}
	}
	for _, c := range j.shown {
		j.gain[c] = 0
	}
	for i := range out {
		if out[i].least < out[0].least {
			out[0], out[i] = out[i], out[0]
		}
	}
	j.list = out
	return out
}

// leastPrice is a price under which that of a link does not fall. dead is by how much
// more than its ends a link could save in dead ends.
func (j *joiner) leastPrice(cp *condPrice, a, b, c int, dead float64) float64 {
	least := cp.least() + dead
	switch {
	case c >= j.p.conds.pairFrom:
		return least
	case c == 0:
		return min(least, j.p.oddFixed)
	case j.adding.siteOf(a, b, c) > 0:
		return math.Inf(-1)
	}
	// Links of busy switches may lose ends of their own.
	return min(least-bitsOwnSome*float64(len(j.adding.shape.deep)), j.p.odd)
}

// gains fills in what links between a pair of ends explain, and lists the conditions
// under which that is anything.
func (j *joiner) gains(q int, shown []int32) []int32 {
	for _, i := range j.beeps[q] {
		o := &j.readings[i]
		for _, c := range j.p.holdingConds(o.s) {
			if j.gain[c] == 0 {
				shown = append(shown, c)
			}
			j.gain[c] += o.gain
		}
	}
	return shown
}

// hear works out by how many bits a link makes the map dearer, as long as that may be
// under a limit.
func (j *joiner) hear(v *oneMore, limit float64) bool {
	p := j.p
	risk := p.conds.risk[v.c]
	list := j.between(v.a, v.b)
	ev, least := float32(0), v.least
	var w witness
	for len(list) > 0 {
		u := j.readings[list[0]].clip
		bite, loose, gain := float32(0), float32(0), float32(0)
		for ; len(list) > 0 && j.readings[list[0]].clip == u; list = list[1:] {
			o := &j.readings[list[0]]
			if !p.conds.holds(v.c, o.s) {
				continue
			}
			says := o.says(&p.hand)[risk]
			if o.closed || o.protected {
				bite += says
			} else {
				loose += says
			}
			gain += o.gain
		}
		if bite == 0 && loose == 0 {
			continue
		}
		says := w.says(bite+min(loose, j.clips[u].slip), j.clips[u].bound(p, v.c))
		ev += says
		if least += float64(says - gain); least >= limit+rounding32 {
			return false
		}
	}
	v.bits = float64(ev) + v.price
	return v.bits < limit
}

// rounding32 is more than sums of what readings say differ by, in different order.
const rounding32 = 1e-2

// between lists the readings whose nets a link between two ends would join.
func (j *joiner) between(a, b int) []int32 {
	q := pairIndex(a, b)
	if j.all[q] == nil {
		list := make([]int32, 0, 16)
		for i := range j.readings {
			if j.readings[i].joins(a, b) {
				list = append(list, int32(i))
			}
		}
		j.all[q] = list
	}
	return j.all[q]
}

// tells tells whether a link would join anything in a setting that tells.
func (j *joiner) tells(v *oneMore) bool {
	terms := &j.p.conds.terms[v.c]
	var s uint64
	for _, t := range terms {
		s |= t
	}
	for _, t := range j.p.telling {
		if s&^t == 0 && j.adding.h.net(1<<v.a, t)>>v.b&1 == 0 {
			return true
		}
	}
	return false
}
