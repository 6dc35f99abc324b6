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

// add lists every pair that a rival sees otherwise. Where nets differ, a link
// that only one of the two maps has must hold, so the conditions of those links
// say when.
func (u *unresolved) add(s *state, d doubtful) {
	h := d.h
	if h == nil {
		h = s.best.withAtom(d.x)
	}
	conds := s.changed(h)
	var mine, other []uint64
	for _, at := range s.p.telling {
		mine, other = s.best.nets(at, mine), h.nets(at, other)
		if slices.Equal(mine, other) {
			continue
		}
		for b := 1; b < s.p.n; b++ {
			for a := range b {
				if touching(mine, 1<<a, 1<<b) == touching(other, 1<<a, 1<<b) {
					continue
				}
				for _, x := range conds {
					if x.holds(at) {
						x.rewire(a, b)
						u.put(s.link(x))
						break
					}
				}
			}
		}
	}
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
