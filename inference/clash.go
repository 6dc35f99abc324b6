package inference

import (
	"cmp"
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

// MinimalHittingSets lists the sets that meet every conflict and of which no
// part does: the diagnoses, in the words of Reiter 1987. Conflicts are sets of
// numbers; sets come sorted, smaller first.
func MinimalHittingSets(conflicts [][]int) [][]int {
	sets := [][]int{nil}
	for _, c := range conflicts {
		var next [][]int
		for _, s := range sets {
			if slices.ContainsFunc(s, func(x int) bool { return slices.Contains(c, x) }) {
				next = append(next, s)
				continue
			}
			for _, x := range c {
				t := append(slices.Clone(s), x)
				slices.Sort(t)
				next = append(next, t)
			}
		}
		sets = minimalOnly(next)
	}
	return sets
}

func minimalOnly(sets [][]int) [][]int {
	slices.SortFunc(sets, func(a, b []int) int {
		return cmp.Or(cmp.Compare(len(a), len(b)), slices.Compare(a, b))
	})
	var out [][]int
	for _, s := range sets {
		dominated := slices.ContainsFunc(out, func(t []int) bool {
			return !slices.ContainsFunc(t, func(x int) bool { return !slices.Contains(s, x) })
		})
		if !dominated {
			out = append(out, s)
		}
	}
	return out
}

const (
	mostDoubts    = 4
	mostInDoubt   = 160  // readings looked at for one doubt: the latest that can bear on it
	mostSuspects  = 12   // readings of one doubt that are priced as culprits
	clashChains   = 4    // searched from scratch, besides the best map and the empty one
	clashTries    = 400  // for each of them
	culpritWindow = 12.0 // bits: a dearer odd reading is no culprit
)

// doubts finds the readings that the cheapest map calls wrong and, for each, a
// smallest set that cannot all be right.
func (s *state) doubts() []Doubt {
	var out []Doubt
	told := map[mapping.ReadingID]bool{}
	for i := range s.raw {
		o := &s.raw[i]
		if o.control || told[o.id] || !s.wrong(i) {
			continue
		}
		if d, ok := s.doubtAbout(i); ok {
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

// clashes tells whether some readings cannot all be right: the cheapest map
// for them alone calls one of them wrong.
func (s *state) clashes(raw []obs) bool {
	if len(raw) < 2 {
		return false
	}
	p := *s.p
	p.obs = slices.Clone(raw)
	for i := range p.obs {
		p.obs[i].void = false
	}
	p.bites(p.obs)
	var ev evidence
	best := -1.0
	price := 0.0
	starts := []*hyp{s.best.clone(), {}}
	w := newWalker(&p, p.obs, rand.New(rand.NewPCG(4, uint64(len(raw)))))
	for range clashChains {
		c := w.begin()
		w.walk(c, clashTries)
		starts = append(starts, c.h)
	}
	for _, start := range starts {
		h := p.descend(start, &ev)
		if best < 0 || h.energy < best-1e-9 {
			best, price = h.energy, h.cost
		}
	}
	return price > 1e-9
}

func (s *state) doubtAbout(i int) (Doubt, bool) {
	o := s.raw[i]
	// What can bear on it: readings with an end in the net of either side, the
	// odd one last so that the divide and conquer keeps it.
	near := s.best.net(o.red, o.s) | s.best.net(o.black, o.s)
	var bearing []obs
	for k := range s.raw {
		q := s.raw[k]
		if k != i && !q.control && (q.red|q.black)&near != 0 {
			bearing = append(bearing, q)
		}
	}
	if len(bearing) > mostInDoubt {
		bearing = bearing[len(bearing)-mostInDoubt:]
	}
	all := append(slices.Clone(bearing), o)
	if !s.clashes(all) {
		return Doubt{}, false
	}
	set := MinimalConflict(all, s.clashes)
	for again := true; again; { // the conflict need not be monotone: make each member needed
		again = false
		for k := range set {
			if rest := slices.Delete(slices.Clone(set), k, k+1); s.clashes(rest) {
				set, again = rest, true
				break
			}
		}
	}
	d := Doubt{Retest: mapping.Sweep{Red: s.p.unends(o.red), Black: s.p.unends(o.black),
		Steps: []mapping.Setting{s.p.unsetting(o.s)}, Why: mapping.Why{Reason: mapping.Settle}}}
	for _, q := range set {
		d.Readings = append(d.Readings, q.id)
	}
	d.Culprits = s.culprits(set, i)
	return d, true
}

// culprits prices what may have gone wrong: each clashing reading by itself,
// and what the cheapest explanation says of the bench.
func (s *state) culprits(set []obs, odd int) []Culprit {
	var out []Culprit
	if f := s.faults[odd]; f != noFault {
		c := Culprit{Kind: SlippedClip}
		if f.lever >= 0 {
			sw := s.p.pod.Switches[f.lever]
			c = Culprit{Kind: WrongLever, Switch: sw.Name, Actual: sw.Positions[f.actual]}
		}
		for i := range s.raw {
			if s.faults[i] == f && s.wrong(i) {
				c.Readings = append(c.Readings, s.raw[i].id)
			}
		}
		out = append(out, c)
	}
	for _, q := range set[:min(len(set), mostSuspects)] {
		p := *s.p
		p.obs = slices.DeleteFunc(slices.Clone(s.p.obs), func(o obs) bool { return o.id == q.id })
		var ev evidence
		h := p.descend(s.best.clone(), &ev)
		raw := slices.DeleteFunc(slices.Clone(s.raw), func(o obs) bool { return o.id == q.id })
		price := priceSilence
		kind := OddReading
		if q.closed {
			price = priceBeep
		}
		if q.s&s.p.heldSlots != 0 && !q.closed {
			kind = HalfPressed
		}
		for j := range set {
			if set[j].red == q.red && set[j].black == q.black && set[j].s == q.s && set[j].closed != q.closed {
				kind = Intermittent
			}
		}
		b := p.explain(h, raw, nil) + p.prior(h) + price - s.total
		if b < culpritWindow {
			out = append(out, Culprit{Kind: kind, Readings: []mapping.ReadingID{q.id}, Bits: max(b, 0)})
		}
	}
	slices.SortStableFunc(out, func(a, b Culprit) int { return cmp.Compare(a.Bits, b.Bits) })
	return out
}
