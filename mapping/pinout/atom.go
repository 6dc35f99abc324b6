package pinout

import (
	"cmp"
	"slices"

	"bellout/mapping"
)

// atom is one way in which two ends come to be joined: a link with one of its
// conditions.
type atom struct {
	a, b  mapping.EndID
	when  mapping.Condition
	grade mapping.Grade
}

func split(links []mapping.Link) []atom {
	var out []atom
	for _, l := range links {
		for _, c := range l.When {
			out = append(out, atom{l.A, l.B, c, l.Grade})
		}
	}
	return out
}

// reduce leaves out what follows from the rest: a map may list every joined
// pair, while a function is read from the contacts themselves. Deep atoms go
// first, then those with the fewest positions, then those away from a common.
func (b *builder) reduce(atoms []atom) []atom {
	degree := map[mapping.EndID]int{}
	for _, a := range atoms {
		degree[a.a]++
		degree[a.b]++
	}
	for _, sw := range b.pod.Switches {
		if c, ok := b.ev.Common(sw.Name); ok && c != "" {
			degree[c] += len(atoms)
		}
	}
	positions := func(a atom) (n int) {
		for _, t := range a.when {
			n += len(t.Positions)
		}
		return n
	}
	try := make([]int, len(atoms))
	for i := range try {
		try[i] = i
	}
	slices.SortStableFunc(try, func(i, j int) int {
		x, y := atoms[i], atoms[j]
		return cmp.Or(
			cmp.Compare(len(y.when), len(x.when)),
			cmp.Compare(positions(x), positions(y)),
			cmp.Compare(degree[x.a]+degree[x.b], degree[y.a]+degree[y.b]),
			cmp.Compare(j, i),
		)
	})
	gone := make([]bool, len(atoms))
	for _, i := range try {
		gone[i] = b.implied(atoms, gone, i)
	}
	var out []atom
	for i, a := range atoms {
		if !gone[i] {
			out = append(out, a)
		}
	}
	return out
}

// implied tells whether an atom follows from the others that are left, in each
// combination of the positions that its condition names.
func (b *builder) implied(atoms []atom, gone []bool, i int) bool {
	for _, s := range combinations(atoms[i].when) {
		m := mapping.Map{}
		for _, l := range b.known {
			if len(l.When) == 0 {
				m.Links = append(m.Links, l)
			}
		}
		for j, o := range atoms {
			if j != i && !gone[j] && sure(o.when, s) {
				m.Links = append(m.Links, mapping.Link{A: o.a, B: o.b})
			}
		}
		if !m.Joined(b.pod, nil, atoms[i].a, atoms[i].b) {
			return false
		}
	}
	return true
}

// sure tells whether a condition holds whatever the switches that are not
// named do.
func sure(c mapping.Condition, s mapping.Setting) bool {
	for _, t := range c {
		if at, named := s[t.Switch]; !named || !slices.Contains(t.Positions, at) {
			return false
		}
	}
	return true
}

func combinations(c mapping.Condition) []mapping.Setting {
	out := []mapping.Setting{{}}
	for _, t := range c {
		var next []mapping.Setting
		for _, s := range out {
			for _, q := range t.Positions {
				next = append(next, s.With(t.Switch, q))
			}
		}
		out = next
	}
	return out
}

// group is the part of a switch's contacts that hangs together: ends, and for
// each end pair the positions in which the switch joins them. Ends that are
// always joined stand for one, the first of them.
type group struct {
	sw    mapping.Switch
	role  role
	ends  []mapping.EndID
	atoms []atom
	deep  []mapping.Term // what other switches must do, from a deep atom
}

// head is the first end of an end's permanent net.
func (b *builder) head(e mapping.EndID) mapping.EndID {
	if net := b.always[e]; len(net) > 0 {
		return net[0]
	}
	return e
}

// groups gives each switch its groups. A deep atom belongs to the switch of its
// condition that chooses, the others only let through.
func (b *builder) groups() []*group {
	var out []*group
	for _, sw := range b.pod.Switches {
		var mine []atom
		for _, a := range b.atoms {
			if b.chooser(a.when) == sw.Name {
				a.a, a.b = b.head(a.a), b.head(a.b)
				if a.a != a.b {
					mine = append(mine, a)
				}
			}
		}
		out = append(out, b.connected(sw, mine)...)
	}
	return out
}

func (b *builder) connected(sw mapping.Switch, atoms []atom) []*group {
	net := map[mapping.EndID]int{}
	for _, a := range atoms {
		for _, e := range []mapping.EndID{a.a, a.b} {
			if _, ok := net[e]; !ok {
				net[e] = b.order[e]
			}
		}
		from, to := net[a.b], net[a.a]
		for e, n := range net {
			if n == from {
				net[e] = to
			}
		}
	}
	var out []*group
	at := map[int]*group{}
	for _, e := range b.pod.Ends {
		n, ok := net[e.ID]
		if !ok {
			continue
		}
		g := at[n]
		if g == nil {
			g = &group{sw: sw, role: roleOf(sw)}
			at[n] = g
			out = append(out, g)
		}
		g.ends = append(g.ends, e.ID)
	}
	for _, a := range atoms {
		g := at[net[a.a]]
		g.atoms = append(g.atoms, a)
		for _, t := range a.when {
			if t.Switch != sw.Name && g.deep == nil {
				g.deep = append(g.deep, t)
			}
		}
	}
	for _, g := range out {
		if slices.ContainsFunc(g.atoms, func(a atom) bool { return len(a.when) == 1 }) {
			g.deep = nil
		}
	}
	return out
}

// chooser is the switch that a condition belongs to: of several, the one that
// chooses between outputs or is pressed, before the one that lets through.
func (b *builder) chooser(c mapping.Condition) mapping.SwitchID {
	var best mapping.SwitchID
	rank := -1
	for _, t := range c {
		sw, ok := b.pod.Switch(t.Switch)
		if !ok {
			continue
		}
		r := roleOf(sw).rank()
		if sw.Momentary && roleOf(sw) == noRole {
			r = 3
		}
		if r > rank {
			best, rank = sw.Name, r
		}
	}
	return best
}

// at lists the positions in which the group joins two ends; shallow atoms
// alone where there are any for the pair.
func (g *group) at(x, y mapping.EndID) []mapping.PositionID {
	var shallow, deep []mapping.PositionID
	for _, a := range g.atoms {
		if !(a.a == x && a.b == y || a.a == y && a.b == x) {
			continue
		}
		for _, t := range a.when {
			if t.Switch != g.sw.Name {
				continue
			}
			if len(a.when) == 1 {
				shallow = append(shallow, t.Positions...)
			} else {
				deep = append(deep, t.Positions...)
			}
		}
	}
	if len(shallow) > 0 {
		return shallow
	}
	return deep
}

// nets gives for each position of the switch the ends that the group joins.
func (g *group) nets() [][][]mapping.EndID {
	var out [][][]mapping.EndID
	pod := mapping.Pod{}
	for _, e := range g.ends {
		pod.Ends = append(pod.Ends, mapping.End{ID: e})
	}
	for _, q := range g.sw.Positions {
		m := mapping.Map{}
		for i, x := range g.ends {
			for _, y := range g.ends[i+1:] {
				if slices.Contains(g.at(x, y), q) {
					m.Links = append(m.Links, mapping.Link{A: x, B: y})
				}
			}
		}
		out = append(out, m.Nets(pod, nil))
	}
	return out
}

// grade is the weakest grade of the atoms at an end; of all with no end.
func (g *group) grade(e mapping.EndID) mapping.Grade {
	w := mapping.Proved
	for _, a := range g.atoms {
		if e == "" || a.a == e || a.b == e {
			w = min(w, a.grade)
		}
	}
	return w
}
