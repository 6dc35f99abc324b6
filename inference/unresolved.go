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
	for _, at := range p.telling {
		mine, other = s.best.nets(at, mine), h.nets(at, other)
		if slices.Equal(mine, other) {
			continue
		}
		for b := 1; b < p.n; b++ {
			for a := range b {
				if touching(mine, 1<<a, 1<<b) != touching(other, 1<<a, 1<<b) {
					differ[pairIndex(a, b)] = append(differ[pairIndex(a, b)], at)
				}
			}
		}
	}
	for b := 1; b < p.n; b++ {
		for a := range b {
			for _, x := range p.tightest(differ[pairIndex(a, b)], conds) {
				x.a, x.b = a, b
				u.put(s.linkUnder(x))
			}
		}
	}
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
func (p *problem) tightest(settings []uint64, links []atom) []under {
	if len(settings) == 0 {
		return nil
	}
	var byLink []under
	for _, at := range settings {
		for i := range links {
			if x := &links[i]; x.holds(at) {
				u := under{slots: p.allSlots()}
				for d := range int(x.n) {
					u.slots = u.slots&^p.swMask[x.sw[d]] | x.t[d]
				}
				if !slices.Contains(byLink, u) {
					byLink = append(byLink, u)
				}
				break
			}
		}
	}
	if len(p.telling) < p.settingsCount() && len(byLink) > 0 {
		return byLink
	}
	span := under{slots: p.span(settings)}
	if len(byLink) == 0 || p.covered([]under{span}) < p.covered(byLink) {
		return []under{span}
	}
	return byLink
}

// span is the slots in which the levers stand in some settings, of those levers
// that matter: some telling setting differs in nothing else and is not among them.
func (p *problem) span(settings []uint64) uint64 {
	var all uint64
	for _, at := range settings {
		all |= at
	}
	out := all
	for _, m := range p.swMask {
		if !slices.ContainsFunc(p.telling, func(at uint64) bool { return at&m&^all != 0 && at&^m&^all == 0 }) {
			out |= m
		}
	}
	return out
}

// covered counts the telling settings in which some condition holds.
func (p *problem) covered(us []under) int {
	n := 0
	for _, at := range p.telling {
		if slices.ContainsFunc(us, func(u under) bool { return at&^u.slots == 0 }) {
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

// put adds one entry, as a further condition of its pair if that is listed.
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
		if !slices.ContainsFunc(o.When, func(c mapping.Condition) bool { return sameCondition(c, l.When[0]) }) {
			o.When = append(o.When, l.When[0])
		}
		return
	}
	u.links = append(u.links, l)
}
