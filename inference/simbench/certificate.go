package simbench

import (
	"fmt"
	"slices"

	"bellout/mapping"
)

// Claim is a pair of ends in a setting, said to be joined or open.
type Claim struct {
	Setting mapping.Setting
	A, B    mapping.EndID
	Joined  bool
}

// provedBits is what turning a proved claim round must cost at least.
const provedBits = 10.0

// Check verifies what is graded proved against the readings, by the oracle's
// prices: each link of the map graded proved, and each further claim that the
// caller says is proved. It looks for a map that turns the claim round and is
// less than 10 bits dearer than the map given, among all maps that differ by
// one link taken out, moved to another end, holding in one position more or
// less, with one switch more or fewer in its condition, or put in under a
// condition of up to two switches. Every such map found is an error, so an
// empty answer means that no near rival speaks against the certificate.
func Check(pod mapping.Pod, readings []mapping.Reading, m mapping.Map, claims ...Claim) []error {
	c := &certificate{o: NewModel(pod), pod: pod}
	c.o.Needle = WithNeedle(pod, readings)
	c.rs = c.o.Readings(readings)
	links, err := c.o.Links(m)
	if err != nil {
		return []error{err}
	}
	c.base = links
	c.price = c.o.Price(links, c.rs)
	c.findChanges()
	var errs []error
	for _, l := range m.Links {
		if l.Grade == mapping.Proved {
			if err := c.checkLink(l); err != nil {
				errs = append(errs, err)
			}
		}
	}
	for _, k := range claims {
		if err := c.checkClaim(k); err != nil {
			errs = append(errs, err)
		}
	}
	return errs
}

type certificate struct {
	o     *Model
	pod   mapping.Pod
	rs    []ModelReading
	base  ModelMap
	price float64
	near  []changed // maps that differ by a change of a link that is there
}

// changed is a rival map with its price above the map that is checked.
type changed struct {
	m     ModelMap
	extra float64
}

// Links writes a map in the oracle's terms, one link a condition.
func (o *Model) Links(m mapping.Map) (ModelMap, error) {
	var out ModelMap
	end := func(id mapping.EndID) int {
		return slices.IndexFunc(o.pod.Ends, func(e mapping.End) bool { return e.ID == id })
	}
	for _, l := range m.Links {
		a, b := end(l.A), end(l.B)
		if a < 0 || b < 0 {
			return nil, fmt.Errorf("link %s-%s names an end that the pod has not", l.A, l.B)
		}
		x := ModelLink{A: min(a, b), B: max(a, b)}
		if len(l.When) == 0 {
			out = append(out, x)
		}
		for _, cond := range l.When {
			y := x
			for _, t := range cond {
				k := slices.IndexFunc(o.pod.Switches, func(s mapping.Switch) bool { return s.Name == t.Switch })
				if k < 0 {
					return nil, fmt.Errorf("link %s-%s names a switch %q that the pod has not", l.A, l.B, t.Switch)
				}
				var mask uint32
				for _, q := range t.Positions {
					i := slices.Index(o.pod.Switches[k].Positions, q)
					if i < 0 {
						return nil, fmt.Errorf("link %s-%s names a position %q that switch %q has not", l.A, l.B, q, t.Switch)
					}
					mask |= 1 << i
				}
				y.Terms = append(y.Terms, ModelTerm{k, mask})
			}
			slices.SortFunc(y.Terms, func(a, b ModelTerm) int { return a.Switch - b.Switch })
			out = append(out, y)
		}
	}
	return o.merged(out), nil
}

// merged puts links of one site together: the same ends and one and the same
// switch make one contact.
func (o *Model) merged(m ModelMap) ModelMap {
	var out ModelMap
	for _, l := range m {
		l.Terms = slices.DeleteFunc(slices.Clone(l.Terms), func(t ModelTerm) bool {
			return t.Mask == o.all(t.Switch)
		})
		i := slices.IndexFunc(out, func(x ModelLink) bool { return clashesAtSite(x, l) })
		switch {
		case i < 0:
			out = append(out, l)
		case len(l.Terms) == 1:
			t := out[i].Terms[0]
			t.Mask |= l.Terms[0].Mask
			out[i].Terms = []ModelTerm{t}
			if t.Mask == o.all(t.Switch) {
				out[i].Terms = nil
				return o.merged(out)
			}
		}
	}
	return out
}

func (o *Model) all(k int) uint32 { return 1<<len(o.pod.Switches[k].Positions) - 1 }

// findChanges lists the maps that differ in one link that is there and are
// less than 10 bits dearer.
func (c *certificate) findChanges() {
	for i, l := range c.base {
		rest := slices.Delete(slices.Clone(c.base), i, i+1)
		c.try(rest)
		for e := range c.pod.Ends {
			if e != l.A && e != l.B {
				c.try(append(slices.Clone(rest), ModelLink{min(l.A, e), max(l.A, e), l.Terms}))
				c.try(append(slices.Clone(rest), ModelLink{min(l.B, e), max(l.B, e), l.Terms}))
			}
		}
		for _, terms := range c.conditionsNear(l.Terms) {
			c.try(append(slices.Clone(rest), ModelLink{l.A, l.B, terms}))
		}
	}
}

// conditionsNear lists conditions with one position more or less, one switch
// fewer, or one switch more.
func (c *certificate) conditionsNear(terms []ModelTerm) [][]ModelTerm {
	var out [][]ModelTerm
	with := func(i int, t ModelTerm) []ModelTerm {
		x := slices.Clone(terms)
		x[i] = t
		return x
	}
	used := map[int]bool{}
	for i, t := range terms {
		used[t.Switch] = true
		for q := range c.pod.Switches[t.Switch].Positions {
			if m := t.Mask ^ 1<<q; m != 0 {
				out = append(out, with(i, ModelTerm{t.Switch, m}))
			}
			out = append(out, with(i, ModelTerm{t.Switch, 1 << q}))
		}
		out = append(out, slices.Delete(slices.Clone(terms), i, i+1))
	}
	if len(terms) == 3 {
		return out
	}
	for k, sw := range c.pod.Switches {
		if used[k] {
			continue
		}
		for q := range sw.Positions {
			for _, m := range []uint32{1 << q, c.o.all(k) &^ (1 << q)} {
				x := append(slices.Clone(terms), ModelTerm{k, m})
				slices.SortFunc(x, func(a, b ModelTerm) int { return a.Switch - b.Switch })
				out = append(out, x)
			}
		}
	}
	return out
}

// try keeps a rival if it is near.
func (c *certificate) try(m ModelMap) {
	m = c.o.merged(m)
	if extra, ok := c.nearBy(m); ok {
		c.near = append(c.near, changed{m, extra})
	}
}

// nearBy prices a rival above the map that is checked; ok when that is less
// than 10 bits.
func (c *certificate) nearBy(m ModelMap) (float64, bool) {
	const slack = 1e-6
	prior := c.o.Prior(m)
	if prior-c.price >= provedBits-slack { // readings can only add to it
		return 0, false
	}
	extra := prior + c.o.Explain(m, c.rs) - c.price
	return extra, extra < provedBits-slack
}

// checkLink wants every near rival to join the link's ends wherever the link
// says that they are joined.
func (c *certificate) checkLink(l mapping.Link) error {
	stated, err := c.o.Links(mapping.Map{Links: []mapping.Link{l}})
	if err != nil {
		return err
	}
	for _, r := range c.near {
		if lever := c.parts(stated, r.m); lever != nil {
			return fmt.Errorf("link %s-%s is graded proved, but a map only %.2f bits dearer has them open in %v: %v",
				l.A, l.B, r.extra, c.o.setting(lever), c.o.Tell(r.m))
		}
	}
	return nil
}

// parts finds a setting in which a stated link holds and a rival has its ends
// open: the switches of the link in every position that it needs, the others
// at rest, and one of those moved.
func (c *certificate) parts(stated, rival ModelMap) []int {
	rest := c.o.rest
	for _, lever := range nearRest(c.pod, rest, min(2, len(rest))) {
		for _, l := range stated {
			at := slices.Clone(lever)
			for _, t := range l.Terms {
				if t.Mask>>at[t.Switch]&1 == 0 {
					at[t.Switch] = firstPosition(t.Mask)
				}
			}
			if !rival.joiner(len(c.pod.Ends))(at, []int{l.A}, []int{l.B}) {
				return at
			}
		}
	}
	return nil
}

func firstPosition(mask uint32) int {
	q := 0
	for mask>>q&1 == 0 {
		q++
	}
	return q
}

// checkClaim wants every near rival to say the same of the claim; for an open
// pair the rivals with one link more are tried as well.
func (c *certificate) checkClaim(k Claim) error {
	lever := c.o.lever(k.Setting)
	a := slices.IndexFunc(c.pod.Ends, func(e mapping.End) bool { return e.ID == k.A })
	b := slices.IndexFunc(c.pod.Ends, func(e mapping.End) bool { return e.ID == k.B })
	if a < 0 || b < 0 {
		return fmt.Errorf("claim about %s-%s: the pod has no such end", k.A, k.B)
	}
	n := len(c.pod.Ends)
	against := func(m ModelMap, extra float64) error {
		if m.joiner(n)(lever, []int{a}, []int{b}) == k.Joined {
			return nil
		}
		return fmt.Errorf("%s-%s is proved %s in %v, but a map only %.2f bits dearer says otherwise: %v",
			k.A, k.B, joinWord(k.Joined), k.Setting, extra, c.o.Tell(m))
	}
	if err := against(c.base, 0); err != nil {
		return fmt.Errorf("the map itself: %w", err)
	}
	for _, r := range c.near {
		if err := against(r.m, r.extra); err != nil {
			return err
		}
	}
	if k.Joined {
		return nil
	}
	name := c.base.nets(n, lever)
	for x := range n {
		for y := range n {
			if name[x] != name[a] || name[y] != name[b] {
				continue
			}
			for _, terms := range conditionsAt(lever) {
				m := c.o.merged(append(slices.Clone(c.base), ModelLink{min(x, y), max(x, y), terms}))
				if extra, ok := c.nearBy(m); ok {
					if err := against(m, extra); err != nil {
						return err
					}
				}
			}
		}
	}
	return nil
}

// conditionsAt lists the conditions of up to two single positions that hold in
// a setting.
func conditionsAt(lever []int) [][]ModelTerm {
	out := [][]ModelTerm{nil}
	for k, q := range lever {
		out = append(out, []ModelTerm{{k, 1 << q}})
		for j, p := range lever[:k] {
			out = append(out, []ModelTerm{{j, 1 << p}, {k, 1 << q}})
		}
	}
	return out
}

func (o *Model) setting(lever []int) mapping.Setting {
	s := mapping.Setting{}
	for k, sw := range o.pod.Switches {
		s[sw.Name] = sw.Positions[lever[k]]
	}
	return s
}

// Tell writes a map for people: ends, and for each switch its positions from
// the last to the first, 1 where the link needs it.
func (o *Model) Tell(m ModelMap) string {
	out := ""
	for _, l := range m {
		out += fmt.Sprintf("%s-%s", o.pod.Ends[l.A].ID, o.pod.Ends[l.B].ID)
		for _, t := range l.Terms {
			out += fmt.Sprintf(" %s:%0*b", o.pod.Switches[t.Switch].Name, len(o.pod.Switches[t.Switch].Positions), t.Mask)
		}
		out += "; "
	}
	return out
}
