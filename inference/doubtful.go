package inference

import (
	"cmp"
	"math"
	"slices"
)

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
	p.eachAddition(s.best, s.ev, math.Inf(1), func(a, b, c, held int, d float64) {
		t.delta[pairIndex(a, b)*nc+c] = float32(d)
		t.held[pairIndex(a, b)*nc+c] = uint8(held)
	})
	return t
}

const (
	doubtWindow    = 16.0 // bits
	leastNamed     = 1e-4 // weight beside the best map's of what is named as unresolved
	mostUnresolved = 80   // rivals whose differences are listed
	bitsBeyond     = 14.0 // up to which a link that takes more hands may reach a lonely end
	mostOpenPoints = 40   // rivals that are named one by one
)

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
	for b := 1; b < p.n && !s.counts; b++ {
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
	shown := s.shares()
	for _, v := range s.rivals {
		d := doubtful{h: v.h, delta: v.delta, held: v.held, weight: v.weight()}
		if shown != nil {
			d.weight = max(d.weight, shown[p.signature(v.h)])
		}
		out = append(out, d)
	}
	for i := range out {
		if out[i].h == nil {
			out[i].weight = math.Exp2(-max(out[i].delta, 0))
		}
	}
	slices.SortStableFunc(out, func(a, b doubtful) int { return cmp.Compare(b.weight, a.weight) })
	return out
}

// openPoints names what the heaviest rivals say otherwise, as data for words.
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
			return o.A == pt.A && o.B == pt.B && o.Joined == pt.Joined && o.When.Equal(pt.When)
		}) {
			r.OpenInWords = append(r.OpenInWords, pt)
		}
	}
}

// difference names one link that only one of two maps has and by which its ends are
// joined in one and apart in the other: one of the best map's, or else one of the rival's.
// Where each such link is only drawn elsewhere it names the first.
func (s *state) difference(h *hyp) (x atom, joined, ok bool) {
	for _, tells := range []bool{true, false} {
		for _, x := range s.best.atoms {
			if !slices.Contains(h.atoms, x) && (!tells || s.tellsApart(h, x.a, x.b)) {
				return x, true, true
			}
		}
		for _, x := range h.atoms {
			if !slices.Contains(s.best.atoms, x) && (!tells || s.tellsApart(h, x.a, x.b)) {
				return x, false, true
			}
		}
	}
	return atom{}, false, false
}

// reached is the ends that the hands find something to reach: the metal goes for
// one, since it often carries nothing.
func (s *state) reached() uint64 {
	m := s.p.bodies
	for _, x := range s.best.atoms {
		if s.p.handsFor(x) <= s.hands {
			m |= x.ends
		}
	}
	return m
}

// lonely tells whether a rival says otherwise about an end that is not reached: the
// best map has no link there, or only such as take more hands.
func (s *state) lonely(d doubtful, reached uint64) bool {
	if d.h == nil {
		return d.x.ends&^reached != 0
	}
	return slices.ContainsFunc(s.changed(d.h), func(x atom) bool { return x.ends&^reached != 0 })
}

// handsFor counts the buttons that must be held for a link.
func (p *problem) handsFor(x atom) int {
	n := 0
	for d := range int(x.n) {
		if x.t[d]&^p.heldSlots == 0 {
			n++
		}
	}
	return n
}
