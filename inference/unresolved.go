package inference

import (
	"slices"

	"bellout/mapping"
)

// unresolved collects what is not vouched for: each pair of ends that a rival
// sees otherwise than the best map, under the conditions in which it does.
type unresolved struct {
	links  []mapping.Link
	rivals int
	within []uint64 // settings in which maps are compared
}

// mostCompare is up to how many settings maps are compared in all of them: two that
// differ in a chain of links alone need as many switches moved as the chain has.
const mostCompare = 5000

func (p *problem) newUnresolved() *unresolved {
	u := &unresolved{within: p.telling}
	if n := p.settingsCount(); n > len(p.telling) && n <= mostCompare {
		u.within = nil
		p.eachSetting(func(at uint64) { u.within = append(u.within, at) })
	}
	return u
}

// add lists every pair that a rival sees otherwise: under the conditions of the
// links that only one of the two maps has, or, where that says less, with the
// levers between which all the settings lie in which the two differ.
func (u *unresolved) add(s *state, d doubtful) {
	h := d.h
	if h == nil {
		h = s.best.withAtom(d.x)
	}
	p := s.p
	conds := s.changed(h)
	differ := make([][]uint64, p.n*(p.n-1)/2) // settings, by pair
	var mine, other []uint64
	for _, at := range u.within {
		if !slices.ContainsFunc(conds, func(x atom) bool { return x.holds(at) }) {
			continue
		}
		mine, other = s.best.nets(at, mine), h.nets(at, other)
		if slices.Equal(mine, other) {
			continue
		}
		byEnd, byEndToo := partners(mine), partners(other)
		for b := 1; b < p.n; b++ {
			for m := (byEnd[b] ^ byEndToo[b]) & (1<<b - 1); m != 0; m &= m - 1 {
				q := pairIndex(lowBit(m), b)
				differ[q] = append(differ[q], at)
			}
		}
	}
	var said [][]under // pairs across the same nets differ alike
	var where [][]uint64
	for b := 1; b < p.n; b++ {
		for a := range b {
			at := differ[pairIndex(a, b)]
			if len(at) == 0 {
				continue
			}
			i := slices.IndexFunc(where, func(o []uint64) bool { return slices.Equal(o, at) })
			if i < 0 {
				i = len(where)
				where, said = append(where, at), append(said, u.tightest(p, at, conds))
			}
			for _, x := range said[i] {
				x.a, x.b = a, b
				u.put(s.linkUnder(x))
			}
		}
	}
}

// partners is, for each end that is joined to others, the net it is in.
func partners(nets []uint64) (of [maxEnds]uint64) {
	for _, net := range nets {
		for m := net; m != 0; m &= m - 1 {
			of[lowBit(m)] = net
		}
	}
	return of
}

// under is a condition on any number of switches: the slots in which they may
// stand, all of a switch that does not matter.
type under struct {
	a, b  int
	slots uint64
}

// tightest covers settings by the conditions of links that hold in them, or, where
// every setting is looked at, by the one that spans them if that holds in fewer: among
// more settings there may be some that differ beyond the span.
func (u *unresolved) tightest(p *problem, settings []uint64, links []atom) []under {
	if len(settings) == 0 {
		return nil
	}
	var byLink []under
	for _, at := range settings {
		for i := range links {
			if x := &links[i]; x.holds(at) {
				c := under{slots: p.allSlots()}
				for d := range int(x.n) {
					c.slots = c.slots&^p.swMask[x.sw[d]] | x.t[d]
				}
				if !slices.Contains(byLink, c) {
					byLink = append(byLink, c)
				}
				break
			}
		}
	}
	if len(u.within) < p.settingsCount() && len(byLink) > 0 {
		return byLink
	}
	span := under{slots: u.span(p, settings)}
	if len(byLink) == 0 || u.covered([]under{span}) < u.covered(byLink) {
		return []under{span}
	}
	return byLink
}

// span is the slots in which the levers stand in some settings, of those levers
// that matter: some setting compared differs in nothing else and is not among them.
func (u *unresolved) span(p *problem, settings []uint64) uint64 {
	var all uint64
	for _, at := range settings {
		all |= at
	}
	out := all
	for _, m := range p.swMask {
		if !slices.ContainsFunc(u.within, func(at uint64) bool { return at&m&^all != 0 && at&^m&^all == 0 }) {
			out |= m
		}
	}
	return out
}

// covered counts the settings compared in which some condition holds.
func (u *unresolved) covered(us []under) int {
	n := 0
	for _, at := range u.within {
		if slices.ContainsFunc(us, func(c under) bool { return at&^c.slots == 0 }) {
			n++
		}
	}
	return n
}

func (p *problem) allSlots() uint64 { return uint64(1)<<p.slots - 1 }

// linkUnder puts a pair and its condition into the pod's words.
func (s *state) linkUnder(u under) mapping.Link {
	p := s.p
	l := mapping.Link{A: p.pod.Ends[u.a].ID, B: p.pod.Ends[u.b].ID}
	var c mapping.Condition
	for k, m := range p.swMask {
		if m&^u.slots != 0 {
			c = append(c, p.term(k, m&u.slots))
		}
	}
	if len(c) > 0 {
		l.When = []mapping.Condition{c}
	}
	return l
}

// changed lists the links that only one of two maps has.
func (s *state) changed(h *hyp) []atom {
	var out []atom
	for _, x := range h.atoms {
		if !slices.Contains(s.best.atoms, x) {
			out = append(out, x)
		}
	}
	for _, x := range s.best.atoms {
		if !slices.Contains(h.atoms, x) {
			out = append(out, x)
		}
	}
	return out
}

// put adds one entry, as a further condition of its pair if that is listed; of two
// conditions of a pair the wider one says both.
func (u *unresolved) put(l mapping.Link) {
	for i := range u.links {
		o := &u.links[i]
		if o.A != l.A || o.B != l.B {
			continue
		}
		if len(o.When) == 0 {
			return
		}
		if len(l.When) == 0 {
			o.When = nil
			return
		}
		if !slices.ContainsFunc(o.When, func(c mapping.Condition) bool { return within(l.When[0], c) }) {
			o.When = slices.DeleteFunc(o.When, func(c mapping.Condition) bool { return within(c, l.When[0]) })
			o.When = append(o.When, l.When[0])
		}
		return
	}
	u.links = append(u.links, l)
}

// within tells whether a condition holds in no setting in which the other does not.
func within(c, other mapping.Condition) bool {
	return !slices.ContainsFunc(other, func(x mapping.Term) bool {
		return !slices.ContainsFunc(c, func(y mapping.Term) bool {
			return y.Switch == x.Switch && !slices.ContainsFunc(y.Positions, func(q mapping.PositionID) bool {
				return !slices.Contains(x.Positions, q)
			})
		})
	})
}
