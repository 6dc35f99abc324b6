package inference

import (
	"cmp"
	"fmt"
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"

	"bellout/mapping"
)

// MinimalConflict finds a smallest set of items that still conflicts, in the
// sense that dropping any one of them ends the conflict, by divide and
// conquer. conflicts must be true of all items together; it is asked of
// subsets, which keep the items' order.
func MinimalConflict[T any](items []T, conflicts func([]T) bool) []T {
	var rec func(background []T, changed bool, rest []T) []T
	rec = func(background []T, changed bool, rest []T) []T {
		if changed && conflicts(background) {
			return nil
		}
		if len(rest) <= 1 {
			return rest
		}
		half := len(rest) / 2
		first, second := rest[:half], rest[half:]
		d2 := rec(slices.Concat(background, first), len(first) > 0, second)
		d1 := rec(slices.Concat(background, d2), len(d2) > 0, first)
		return slices.Concat(d1, d2)
	}
	return rec(nil, false, items)
}

const (
	mostDoubts    = 4
	mostInDoubt   = 40   // readings looked at for one doubt
	firstInDoubt  = 2    // of these, at first
	mostSuspects  = 12   // readings of one doubt that are priced as culprits
	clashChains   = 4    // searched from scratch at first
	clashTries    = 400  // for each of them
	clashStarts   = 3    // maps met before that are gone down from, besides the best and the empty one
	culpritWindow = 12.0 // bits: a dearer odd reading is no culprit

	clashBits  = 5.0 // by which maps that have all readings of a doubt right are dearer at least
	clashShare = 0.8 // of the samples that take one of them for wrong, at least
)

// doubts finds the readings that the cheapest map calls wrong and, for each, a
// smallest set that cannot all be right. While little is known the cheapest of all maps
// may well be one that calls a true reading wrong, a bit or two before many others that
// do not: nothing is said then.
func (s *state) doubts() []Doubt {
	var out []Doubt
	told := map[mapping.ReadingID]bool{}
	court := s.court()
	for i := range s.raw {
		o := &s.raw[i]
		if o.control || told[o.id] || !s.wrong(i) {
			continue
		}
		if d, ok := court.doubtAbout(i); ok {
			for _, id := range d.Readings {
				told[id] = true
			}
			out = append(out, d)
		}
		if len(out) == mostDoubts {
			break
		}
	}
	return out
}

// wrong tells whether the cheapest explanation takes reading i for something
// else than what it says.
func (s *state) wrong(i int) bool {
	return s.p.plainPrice(s.best, &s.raw[i]) > 0
}

// wrongIn is the share of the samples that take some of the readings for something else
// than what they say.
func (s *state) wrongIn(readings []int) float64 {
	n := 0
	for _, c := range s.chains {
		if slices.ContainsFunc(readings, func(i int) bool {
			return i < len(c.price) && (c.price[i] > 0 || has(c.odd, i) || has(c.void, i) && !s.raw[i].closed)
		}) {
			n++
		}
	}
	return float64(n) / float64(len(s.chains))
}

// court hears readings, by their numbers, and remembers which of them clash, and the
// maps that were cheapest for some of them.
type court struct {
	s     *state
	known map[string]float64 // how dear it is to have them all right, see right
	maps  []*hyp
	drawn map[uint64]bool
}

func (s *state) court() *court {
	return &court{s: s, known: map[string]float64{}, drawn: map[uint64]bool{}}
}

// clashes tells whether some readings cannot all be right: the cheapest map
// for them alone calls one of them wrong.
func (c *court) clashes(readings []int) bool { return c.right(readings) > 0 }

// right is by how many bits a map that has some readings all right is dearer than the
// cheapest for them; above 0 if that calls one wrong, and infinite if none was met.
func (c *court) right(readings []int) float64 {
	if len(readings) < 2 {
		return 0
	}
	readings = slices.Sorted(slices.Values(readings)) // as they were taken
	key := fmt.Sprint(readings)
	if by, ok := c.known[key]; ok {
		return by
	}
	maps := c.mapsFor(readings)
	best, by := slices.MinFunc(maps, byEnergy), math.Inf(1)
	if best.cost <= 1e-9 {
		by = 0
	} else {
		for _, h := range maps {
			if h.cost <= 1e-9 {
				by = min(by, max(h.energy-best.energy, 1e-9))
			}
		}
	}
	c.known[key] = by
	return by
}

// mapsFor seeks the cheapest map for some readings alone, each taken by itself. From
// the best map, from none and from the cheapest maps met so far it goes down, then with
// the readings sworn to be right, and from there down again: what is alike in maps
// that explain the readings and in maps that call one wrong does not decide between
// them.
func (c *court) mapsFor(readings []int) []*hyp {
	p := *c.s.p
	p.obs = make([]obs, len(readings))
	for i, k := range readings {
		p.obs[i] = c.s.raw[k]
		p.obs[i].void = false
	}
	p.bites(p.obs)
	oath := p.underOath()
	starts := c.starts(&p)
	found := make([][]*hyp, len(starts))
	parallel(len(starts), func(i int) {
		h := p.descend(p.pruned(starts[i]))
		found[i] = []*hyp{h}
		if h.cost > 1e-9 {
			right := oath.descend(h.clone())
			p.score(right)
			found[i] = append(found[i], right, p.descend(right.clone()))
		}
	})
	all := slices.Concat(found...)
	for _, h := range all {
		if key := drawing(h); !c.drawn[key] {
			c.drawn[key] = true
			c.maps = append(c.maps, h)
		}
	}
	return all
}

// starts is where to look for the cheapest map for some readings. The first time
// samples are drawn as well.
func (c *court) starts(p *problem) []*hyp {
	var out []*hyp
	if len(c.maps) == 0 {
		w := newWalker(p, p.obs, rand.New(rand.NewPCG(4, uint64(len(p.obs)))))
		for range clashChains {
			c := w.begin()
			w.walk(c, clashTries)
			out = append(out, c.h)
		}
	}
	for _, h := range c.maps {
		h = h.clone()
		p.score(h)
		out = append(out, h)
	}
	slices.SortStableFunc(out, byEnergy)
	return append(out[:min(len(out), clashStarts)], c.s.best, &hyp{})
}

// underOath is the problem with each reading sworn to be right, so that hardly a map is
// too dear to have it so.
func (p *problem) underOath() *problem {
	c := *p
	c.obs = nil
	for _, o := range p.obs {
		c.obs = append(c.obs, o.witnesses()...)
	}
	return &c
}

func byEnergy(a, b *hyp) int { return cmp.Compare(a.energy, b.energy) }

// pruned is a map without the links that it is cheaper without, looked at one after
// the other. What few readings leave of a map is soon found that way.
func (p *problem) pruned(h *hyp) *hyp {
	h = h.clone()
	p.tidy(h)
	p.score(h)
	for i := len(h.atoms) - 1; i >= 0; i-- {
		c := h.clone()
		c.atoms = slices.Delete(c.atoms, i, i+1)
		if p.score(c); c.energy < h.energy {
			h = c
		}
	}
	return h
}

// bearing lists the readings that can bear on another, those that are nearest to the
// same question first: across the same nets, with the fewest switches elsewhere, the
// latest.
func (s *state) bearing(i int) []int {
	o := &s.raw[i]
	red, black := s.best.net(o.red, o.s), s.best.net(o.black, o.s)
	far := func(k int) int {
		q := &s.raw[k]
		elsewhere := bits.OnesCount64(q.s &^ o.s)
		if q.red&red != 0 && q.black&black != 0 || q.red&black != 0 && q.black&red != 0 {
			return elsewhere
		}
		return len(s.p.npos) + 1 + elsewhere
	}
	var out []int
	for k := range s.raw {
		if q := &s.raw[k]; k != i && !q.control && (q.red|q.black)&(red|black) != 0 {
			out = append(out, k)
		}
	}
	slices.SortFunc(out, func(a, b int) int { return cmp.Or(cmp.Compare(far(a), far(b)), cmp.Compare(b, a)) })
	return out[:min(len(out), mostInDoubt)]
}

// doubtAbout finds a smallest set of readings with which an odd one clashes, among as
// few as possible of those that bear on it.
func (c *court) doubtAbout(i int) (Doubt, bool) {
	s := c.s
	bearing := s.bearing(i)
	var all []int
	for n := firstInDoubt; ; n += (n + 1) / 2 {
		n = min(n, len(bearing))
		// The odd one last: divide and conquer keeps it.
		if all = append(slices.Clone(bearing[:n]), i); c.clashes(all) {
			break
		}
		if n == len(bearing) {
			return Doubt{}, false
		}
	}
	set := MinimalConflict(all, c.clashes)
	for again := true; again; { // the conflict need not be monotone: make each member needed
		again = false
		for k := range set {
			if rest := slices.Delete(slices.Clone(set), k, k+1); c.clashes(rest) {
				set, again = rest, true
				break
			}
		}
	}
	if c.right(set) < clashBits || s.wrongIn(set) < clashShare {
		return Doubt{}, false
	}
	slices.Sort(set)
	o := &s.raw[i]
	d := Doubt{Retest: mapping.Sweep{Red: s.p.unends(o.red), Black: s.p.unends(o.black),
		Steps: []mapping.Setting{s.p.unsetting(o.s)}, Why: mapping.Why{Reason: mapping.Settle}}}
	var readings []obs
	for _, k := range set {
		readings = append(readings, s.raw[k])
		d.Readings = append(d.Readings, s.raw[k].id)
	}
	d.Culprits = s.culprits(readings, i)
	return d, true
}
