package inference

import (
	"cmp"
	"slices"

	"bellout/mapping"
)

// Result is what the readings so far amount to.
func (e *Engine) Result() Result {
	s := e.now().counted()
	if e.result == nil || e.result.state != s {
		e.result = &Result{state: s, adds: s.tableOfAdditions()}
		e.result.conclude()
	}
	return *e.result
}

// conclude fills in the map with its grades, what is not vouched for, and what
// is open. The heaviest rivals become unresolved until what is left of the
// doubt meets the stop rule: should one of them be true, nothing else that is
// said is false. The links are the best guess throughout.
func (r *Result) conclude() {
	s := r.state
	grades := make([]mapping.Grade, len(s.best.atoms))
	for i, x := range s.best.atoms {
		grades[i] = gradeFor(r.linkBits(x))
		l := s.link(x)
		l.Grade = grades[i]
		r.Map.Links = append(r.Map.Links, l)
	}
	sortLinks(s.p, r.Map.Links)
	list := r.doubtfuls()
	all := s.rivalMass()
	left := all
	reached := s.reached()
	open := s.p.newUnresolved()
	for _, d := range list {
		switch {
		case d.held > s.hands:
			// No hand can test it: from so many bits on the look of the rest vouches
			// for it. Where the hands find nothing to reach an end, what they cannot
			// test is likelier than it looks.
			if d.delta >= s.p.hand.byLook() && (d.delta >= bitsBeyond || !s.lonely(d, reached)) {
				continue
			}
		case left/(1+s.same+all) < stopDoubt || d.weight < leastNamed:
			continue
		default:
			left -= d.weight * s.unlisted()
		}
		if open.rivals++; open.rivals <= mostUnresolved {
			open.add(s, d)
		} else if d.held <= s.hands {
			left += d.weight * s.unlisted()
		}
	}
	r.Map.Unresolved = open.links
	sortLinks(s.p, r.Map.Unresolved)
	doubt := s.doubtLeft()
	r.Confidence, r.Done = 1-doubt, s.enough()
	r.openPoints(list)
	r.switches(grades)
	r.Doubts = s.doubts()
}

func gradeFor(b float64) mapping.Grade {
	switch {
	case b >= bitsProved:
		return mapping.Proved
	case b >= bitsLikely:
		return mapping.Likely
	}
	return mapping.OpenQuestion
}

// linkBits is by how much the cheapest map is dearer that lacks a link and by that joins
// its two ends, or leaves them apart, otherwise in some setting; at the most the window
// within which maps are looked at. One that draws the link elsewhere in the same nets says
// nothing against it: an end of which nothing was read can be thought into any of them.
func (r *Result) linkBits(x atom) float64 {
	s := r.state
	d := rivalWindow
	for _, v := range s.rivals {
		if v.delta < d && !slices.Contains(v.h.atoms, x) && s.tellsApart(v.h, x.a, x.b) {
			d = v.delta
		}
	}
	return d
}

// tellsApart tells whether a map says otherwise of two ends than the best one in some
// setting that is compared.
func (s *state) tellsApart(h *hyp, a, b uint8) bool {
	return slices.ContainsFunc(s.p.telling, func(at uint64) bool {
		return s.best.closed(1<<a, 1<<b, at) != h.closed(1<<a, 1<<b, at)
	})
}

// switches says which end is the common of each switch, and which switches
// have changed nothing, given the grades of the best map's links.
func (r *Result) switches(grades []mapping.Grade) {
	s := r.state
	r.Commons = map[mapping.SwitchID]Common{}
	for k, sw := range s.p.pod.Switches {
		var count [maxEnds]int
		contacts, acts, settled := 0, false, true
		for i, x := range s.best.atoms {
			if x.switches()>>k&1 == 0 {
				continue
			}
			acts = true
			if x.n != 1 {
				continue
			}
			contacts++
			count[x.a]++
			count[x.b]++
			settled = settled && grades[i] >= mapping.Likely
		}
		if !acts {
			r.SilentOnly = append(r.SilentOnly, sw.Name)
		}
		c := Common{Known: settled && contacts > 0 && s.doubtLeft() < 0.5, None: true}
		if contacts >= 2 {
			top, ties := 0, 0
			for e := range s.p.n {
				switch {
				case count[e] > count[top]:
					top, ties = e, 0
				case count[e] == count[top] && e != top:
					ties++
				}
			}
			if count[top] >= 2 && ties == 0 {
				c.None, c.End = false, s.p.pod.Ends[top].ID
			}
		}
		r.Commons[sw.Name] = c
	}
}

func (s *state) link(x atom) mapping.Link {
	l := mapping.Link{A: s.p.pod.Ends[x.a].ID, B: s.p.pod.Ends[x.b].ID}
	if x.n > 0 {
		var c mapping.Condition
		for d := range int(x.n) {
			c = append(c, s.p.term(int(x.sw[d]), x.t[d]))
		}
		l.When = []mapping.Condition{c}
	}
	return l
}

func (p *problem) term(k int, slots uint64) mapping.Term {
	sw := p.pod.Switches[k]
	t := mapping.Term{Switch: sw.Name}
	for q, name := range sw.Positions {
		if slots>>(p.base[k]+q)&1 == 1 {
			t.Positions = append(t.Positions, name)
		}
	}
	return t
}

func sortLinks(p *problem, links []mapping.Link) {
	slices.SortStableFunc(links, func(a, b mapping.Link) int {
		return cmp.Or(
			cmp.Compare(p.endAt[a.A], p.endAt[b.A]), cmp.Compare(p.endAt[a.B], p.endAt[b.B]),
			compareConditions(p, a.When, b.When),
		)
	})
}

func compareConditions(p *problem, a, b []mapping.Condition) int {
	return slices.CompareFunc(a, b, func(x, y mapping.Condition) int {
		return slices.CompareFunc(x, y, func(s, t mapping.Term) int {
			i := slices.IndexFunc(p.pod.Switches, func(sw mapping.Switch) bool { return sw.Name == s.Switch })
			j := slices.IndexFunc(p.pod.Switches, func(sw mapping.Switch) bool { return sw.Name == t.Switch })
			return cmp.Or(cmp.Compare(i, j), slices.Compare(s.Positions, t.Positions))
		})
	})
}
