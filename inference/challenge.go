package inference

import (
	"cmp"
	"slices"
)

const sworn = 7 // tellings of a reading that nothing but a dearer map could call false

// witnesses tell of a reading so often, each for itself.
func (o obs) witnesses() []obs {
	out := make([]obs, sworn)
	o.protected = true
	for i := range out {
		for k := range o.stand {
			o.stand[k] = ^uint16(i)
		}
		o.epoch = -1 - i
		out[i] = o
	}
	return out
}

// claim is that a link holds in one position of one of its switches (none: that
// it is there at all).
type claim struct {
	link atom
	slot uint64
}

// claims lists what the best map says of its links, one position at a time.
func (s *state) claims() []claim {
	var out []claim
	for _, x := range s.best.atoms {
		if x.n == 0 {
			out = append(out, claim{link: x})
		}
		for d := range int(x.n) {
			for m := x.t[d]; m != 0; m &= m - 1 {
				out = append(out, claim{x, m & -m})
			}
		}
	}
	return out
}

// challenge turns claims round, up to so many, those first that were not turned round
// yet or the longest ago: it takes for sworn that the meter was silent where a link is
// said to hold, and goes down from the best map to the cheapest that agrees. By how much
// that is dearer is what the claim rests on; a change of one link does not tell,
// where what the link explains can be explained by another. What was the cheapest then
// need not be after further readings. It tells whether any claim was turned round for
// the first time.
func (s *state) challenge(most int) (first bool) {
	l := s.looksAtBest()
	var todo []claim
	for _, c := range s.claims() {
		if at, done := l.turned[c]; !done || len(s.raw)-at >= lookAgain {
			todo = append(todo, c)
			first = first || !done
		}
	}
	if len(todo) == 0 {
		return false
	}
	slices.SortStableFunc(todo, func(a, b claim) int { return cmp.Compare(l.turned[a], l.turned[b]) })
	todo = todo[:min(len(todo), most)]
	for _, c := range todo {
		l.turned[c] = len(s.raw)
	}
	found := make([]*hyp, len(todo))
	parallel(len(todo), func(i int) { found[i] = s.turnRound(todo[i]) })
	s.takeIn(found)
	return first
}

// turnRound gives the cheapest map near the best under which a claim is false.
func (s *state) turnRound(c claim) *hyp {
	p := *s.p
	at := p.restSet
	for d := range int(c.link.n) {
		slots := c.link.t[d]
		if slots&c.slot != 0 {
			slots = c.slot
		} else if slots&at != 0 {
			continue
		}
		k := int(c.link.sw[d])
		at = at&^p.swMask[k] | slots&-slots
	}
	silent := obs{red: 1 << c.link.a, black: 1 << c.link.b, s: at}
	p.obs = slices.Concat(p.obs, silent.witnesses())
	// Going down from the best map makes good the false claim first, which may be at
	// the wrong place: the claim is also cut out and what is missing put back.
	down, cut := p.descend(s.best.clone()), p.regrown(c.cutFrom(s.best))
	if cut = p.descend(cut); cut.energy < down.energy {
		return cut
	}
	return down
}

// cutFrom is a map without what the claim says.
func (c claim) cutFrom(h *hyp) *hyp {
	h = h.clone()
	i := slices.Index(h.atoms, c.link)
	if i < 0 {
		return h
	}
	for d := range int(c.link.n) {
		if left := c.link.t[d] &^ c.slot; left != c.link.t[d] && left != 0 {
			h.atoms[i].t[d] = left
			return h
		}
	}
	h.atoms = slices.Delete(h.atoms, i, i+1)
	return h
}
