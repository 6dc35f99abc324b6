package inference

import (
	"cmp"
	"math"
	"math/bits"
	"slices"

	"bellout/mapping"
)

// Result is what the readings so far amount to.
func (e *Engine) Result() Result {
	s := e.now()
	if e.result == nil || e.result.state != s {
		e.result = &Result{state: s, adds: s.tableOfAdditions()}
		e.result.conclude()
	}
	return *e.result
}

// additions holds, for every pair of ends and single condition, by how many
// bits the map would become dearer with that link on top.
type additions struct {
	delta []float32
	held  []uint8 // buttons that must be held at once to see it
}

func (s *state) tableOfAdditions() *additions {
	p := s.p
	nc := len(p.conds.terms)
	t := &additions{delta: make([]float32, p.n*(p.n-1)/2*nc)}
	for i := range t.delta {
		t.delta[i] = float32(math.Inf(1))
	}
	t.held = make([]uint8, len(t.delta))
	p.eachAddition(s.best, s.ev, func(a, b, c, held int, d float64) {
		t.delta[pairIndex(a, b)*nc+c] = float32(d)
		t.held[pairIndex(a, b)*nc+c] = uint8(held)
	})
	return t
}

// doubtful is one rival map, as far as it matters to what is said.
type doubtful struct {
	x      atom // a link that would be there as well, for a map with one more
	h      *hyp // the rival, where it is not the best map with x
	delta  float64
	weight float64
	held   int
}

// doubtfuls lists what could be otherwise, heaviest first.
func (r *Result) doubtfuls() []doubtful {
	s, p := r.state, r.state.p
	var out []doubtful
	nc := len(p.conds.terms)
	for b := 1; b < p.n && !s.tiny(); b++ {
		for a := range b {
			row := r.adds.delta[pairIndex(a, b)*nc:][:nc]
			held := r.adds.held[pairIndex(a, b)*nc:][:nc]
			for c, d := range row {
				if d < doubtWindow {
					out = append(out, doubtful{x: p.conds.atom(a, b, c), delta: float64(d), held: int(held[c])})
				}
			}
		}
	}
	for _, v := range s.rivals {
		out = append(out, doubtful{h: v.h, delta: v.delta, held: v.held, weight: v.weight()})
	}
	for i := range out {
		if out[i].h == nil {
			out[i].weight = math.Exp2(-max(out[i].delta, 0))
		}
	}
	slices.SortStableFunc(out, func(a, b doubtful) int { return cmp.Compare(b.weight, a.weight) })
	return out
}

const (
	doubtWindow    = 16.0 // bits
	mostUnresolved = 80   // rivals whose differences are listed
	mostOpenPoints = 40
)

// conclude fills in the map with its grades, what is not vouched for, and what
// is open. The heaviest rivals become unresolved until what is left of the
// doubt meets the stop rule: should one of them be true, nothing else that is
// said is false. The links are the best guess throughout.
func (r *Result) conclude() {
	s := r.state
	for _, x := range s.best.atoms {
		l := s.link(x)
		l.Grade = gradeFor(r.linkBits(x))
		r.Map.Links = append(r.Map.Links, l)
	}
	sortLinks(s.p, r.Map.Links)
	list := r.doubtfuls()
	all := s.rivalMass()
	left := all
	var open unresolved
	for _, d := range list {
		switch {
		case d.held > s.hands:
			// What no hand can test stands as likely, unless not even that.
			if d.delta >= bitsLikely {
				continue
			}
		case left/(1+s.same+all) < stopDoubt || d.weight < 1e-4:
			continue
		default:
			left -= d.weight
		}
		if open.rivals++; open.rivals <= mostUnresolved {
			open.add(s, d)
		} else if d.held <= s.hands {
			left += d.weight
		}
	}
	r.Map.Unresolved = open.links
	sortLinks(s.p, r.Map.Unresolved)
	doubt := s.doubtLeft()
	r.Confidence, r.Done = 1-doubt, doubt < stopDoubt
	r.openPoints(list)
	r.switches()
	r.Doubts = s.doubts()
}

// openPoints puts the heaviest rivals into words, as data.
func (r *Result) openPoints(list []doubtful) {
	s := r.state
	for _, d := range list {
		if d.weight < stopDoubt/20 || len(r.OpenInWords) >= mostOpenPoints {
			break
		}
		x, joined := d.x, false
		if d.h != nil {
			var ok bool
			if x, joined, ok = s.difference(d.h); !ok {
				continue
			}
		}
		l := s.link(x)
		pt := OpenPoint{A: l.A, B: l.B, Joined: joined, Bits: d.delta}
		if len(l.When) > 0 {
			pt.When = l.When[0]
		}
		if !slices.ContainsFunc(r.OpenInWords, func(o OpenPoint) bool {
			return o.A == pt.A && o.B == pt.B && o.Joined == pt.Joined && sameCondition(o.When, pt.When)
		}) {
			r.OpenInWords = append(r.OpenInWords, pt)
		}
	}
}

// difference names one link that only one of two maps has: one of the best
// map's, or else one of the rival's.
func (s *state) difference(h *hyp) (x atom, joined, ok bool) {
	for _, x := range s.best.atoms {
		if !slices.Contains(h.atoms, x) {
			return x, true, true
		}
	}
	for _, x := range h.atoms {
		if !slices.Contains(s.best.atoms, x) {
			return x, false, true
		}
	}
	return atom{}, false, false
}

func sameCondition(a, b mapping.Condition) bool {
	return slices.EqualFunc(a, b, func(x, y mapping.Term) bool {
		return x.Switch == y.Switch && slices.Equal(x.Positions, y.Positions)
	})
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

func gradeFor(b float64) mapping.Grade {
	switch {
	case b >= bitsProved:
		return mapping.Proved
	case b >= bitsLikely:
		return mapping.Likely
	}
	return mapping.OpenQuestion
}

// linkBits is by how much the cheapest map without that very link is dearer.
func (r *Result) linkBits(x atom) float64 {
	d := rivalWindow
	for _, v := range r.state.rivals {
		if v.delta < d && !slices.Contains(v.h.atoms, x) {
			d = v.delta
		}
	}
	return d
}

// switches says which end is the common of each switch, and which switches
// have changed nothing.
func (r *Result) switches() {
	s := r.state
	r.Commons = map[mapping.SwitchID]Common{}
	for k, sw := range s.p.pod.Switches {
		var count [maxEnds]int
		contacts, acts, settled := 0, false, true
		for _, x := range s.best.atoms {
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
			settled = settled && gradeFor(r.linkBits(x)) >= mapping.Likely
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
	if !v.Joined && !s.tiny() {
		r.openBits(&v, i, j, at)
	}
	v.Grade = gradeFor(v.Bits)
	if direct, over := s.tested(i, j, at); !direct && !(over && v.Bits >= bitsLikely) {
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

// tested tells whether readings were taken across two ends, in each position
// that is off rest in a setting: directly, or across the nets that the ends are
// in by the best map.
func (s *state) tested(i, j int, at uint64) (direct, over bool) {
	rest := at&^s.p.restSet == 0
	off, offNets := at&^s.p.restSet, at&^s.p.restSet
	for k := range s.p.obs {
		o := &s.p.obs[k]
		if o.control {
			continue
		}
		if o.red>>i&1 == 1 && o.black>>j&1 == 1 || o.red>>j&1 == 1 && o.black>>i&1 == 1 {
			if off &^= s.raw[k].s; rest || off == 0 {
				return true, true
			}
		} else if over || offNets&o.s == 0 && !rest {
			continue
		}
		red, black := s.best.net(o.red, o.s), s.best.net(o.black, o.s)
		if red>>i&1 == 1 && black>>j&1 == 1 || red>>j&1 == 1 && black>>i&1 == 1 {
			offNets &^= o.s
			over = over || rest || offNets == 0
		}
	}
	return false, over
}

// Why names the readings that the verdict on a pair in a setting rests on, in
// the order in which they were taken: for a join those that would be wrong
// without one of the links on the way, for an open pair the silences taken
// across the two in a setting that agrees in every switch off rest.
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
					!o.closed && !o.void && !o.control && !s.best.closed(o.red, o.black, o.s) && o.s&x.t[0] == 0 && o.touches(x) {
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
