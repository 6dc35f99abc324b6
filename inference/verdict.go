package inference

import (
	"math/bits"
	"slices"

	"bellout/mapping"
)

// Cell is the verdict on a pair of ends with one switch in one position and
// every other switch at rest: one cell of the contact table.
func (r Result) Cell(a, b mapping.EndID, sw mapping.SwitchID, pos mapping.PositionID) Verdict {
	return r.Joined(r.state.p.pod.Rest().With(sw, pos), a, b)
}

// Joined is the verdict on a pair of ends in any setting. An end or a position
// that the pod does not have gives the zero verdict.
func (r Result) Joined(set mapping.Setting, a, b mapping.EndID) Verdict {
	p, s := r.state.p, r.state
	at, ok := p.setting(set)
	i, okA := p.endAt[a]
	j, okB := p.endAt[b]
	if !ok || !okA || !okB {
		return Verdict{}
	}
	if i == j {
		return Verdict{Joined: true, Grade: mapping.Proved, Bits: rivalWindow}
	}
	v := Verdict{Joined: s.best.closed(1<<i, 1<<j, at), Bits: rivalWindow}
	for _, w := range s.rivals {
		if w.delta < v.Bits && w.h.closed(1<<i, 1<<j, at) != v.Joined {
			v.Bits = w.delta
		}
	}
	if !v.Joined && !s.counts {
		r.openBits(&v, i, j, at)
	}
	v.Grade = gradeFor(v.Bits)
	if !s.tested(i, j, at) {
		v.Grade = mapping.NotTested
	}
	return v
}

// openBits lowers the bits of an open pair to what the likeliest further link
// would cost.
func (r *Result) openBits(v *Verdict, i, j int, at uint64) {
	p, s := r.state.p, r.state
	holding := p.holdingConds(at)
	nc := len(p.conds.terms)
	na, nb := s.best.net(1<<i, at), s.best.net(1<<j, at)
	for ra := na; ra != 0; ra &= ra - 1 {
		for rb := nb; rb != 0; rb &= rb - 1 {
			q := pairIndex(lowBit(ra), lowBit(rb))
			for _, c := range holding {
				v.Bits = min(v.Bits, float64(r.adds.delta[q*nc+int(c)]))
			}
		}
	}
}

// tested tells whether readings bear on a pair in a setting: each of the two
// ends was in one, in each position that is off rest.
func (s *state) tested(i, j int, at uint64) bool {
	off := at &^ s.p.restSet
	left := [2]uint64{off, off}
	var met [2]bool
	for k := range s.raw {
		o := &s.raw[k]
		if o.control {
			continue
		}
		for side, e := range [2]int{i, j} {
			if (o.red|o.black)>>e&1 == 1 {
				met[side] = true
				left[side] &^= o.s
			}
		}
	}
	return met[0] && met[1] && left == [2]uint64{}
}

// Why names the readings that the verdict on a pair in a setting rests on, in
// the order in which they were taken: for a join those that would be dearer
// without one of the links on the way, and the silences across the ends of one
// while its lever was elsewhere; for an open pair the silences taken across the
// nets of the two in a setting that agrees in every switch off rest.
func (r Result) Why(set mapping.Setting, a, b mapping.EndID) []mapping.ReadingID {
	p, s := r.state.p, r.state
	at, ok := p.setting(set)
	i, okA := p.endAt[a]
	j, okB := p.endAt[b]
	if !ok || !okA || !okB || i == j {
		return nil
	}
	var out []mapping.ReadingID
	if s.best.closed(1<<i, 1<<j, at) {
		for _, x := range s.path(i, j, at) {
			without := s.best.clone()
			without.atoms = slices.DeleteFunc(without.atoms, func(y atom) bool { return y == x })
			for k := range p.obs {
				o := &p.obs[k]
				if s.best.readingPrice(o) < without.readingPrice(o) ||
					!o.closed && !o.void && !o.control && !s.best.closed(o.red, o.black, o.s) && !x.holds(o.s) && o.touches(x) {
					out = append(out, o.id)
				}
			}
		}
	} else {
		off := at &^ p.restSet
		na, nb := s.best.net(1<<i, at), s.best.net(1<<j, at)
		for k := range p.obs {
			o := &p.obs[k]
			if o.closed || o.control || o.void || off&^o.s != 0 || off == 0 && o.s&p.restSet != p.restSet {
				continue
			}
			red, black := s.best.net(o.red, o.s), s.best.net(o.black, o.s)
			if red&na != 0 && black&nb != 0 || red&nb != 0 && black&na != 0 {
				out = append(out, o.id)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// touches tells whether a reading was taken across the ends of a link.
func (o *obs) touches(x atom) bool {
	return o.red>>x.a&1 == 1 && o.black>>x.b&1 == 1 || o.red>>x.b&1 == 1 && o.black>>x.a&1 == 1
}

// path is a shortest way from one end to another over the links that hold.
func (s *state) path(from, to int, at uint64) []atom {
	var via [maxEnds]int
	for i := range via {
		via[i] = -1
	}
	reached := uint64(1) << from
	queue := []int{from}
	for len(queue) > 0 && reached>>to&1 == 0 {
		e := queue[0]
		queue = queue[1:]
		for k, x := range s.best.atoms {
			if x.holds(at) && x.ends>>e&1 == 1 {
				if f := int(x.a) + int(x.b) - e; reached>>f&1 == 0 {
					reached |= 1 << f
					via[f] = k
					queue = append(queue, f)
				}
			}
		}
	}
	var out []atom
	for e := to; e != from && via[e] >= 0; {
		x := s.best.atoms[via[e]]
		out = append(out, x)
		e = bits.TrailingZeros64(x.ends &^ (1 << e))
	}
	return out
}
