package inference

import "slices"

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

// challenge turns claims round that have not been turned round yet, up to so
// many: it takes for sworn that the meter was silent where a link is said to
// hold, and goes down from the best map to the cheapest that agrees. By how much
// that is dearer is what the claim rests on; a change of one link does not tell,
// where what the link explains can be explained by another. It tells whether there
// were any.
func (s *state) challenge(most int) bool {
	l := s.looksAtBest()
	var todo []claim
	for _, c := range s.claims() {
		if !l.turned[c] && len(todo) < most {
			todo = append(todo, c)
		}
	}
	if len(todo) == 0 {
		return false
	}
	for _, c := range todo {
		l.turned[c] = true
	}
	found := make([]*hyp, len(todo))
	parallel(len(todo), func(i int) { found[i] = s.turnRound(todo[i]) })
	s.takeIn(found)
	return true
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
	ev := p.tables.take()
	defer p.tables.giveBack(ev)
	// Going down from the best map makes good the false claim first, which may be at
	// the wrong place: the claim is also cut out and what is missing put back.
	down, cut := p.descend(s.best.clone(), ev), p.regrown(c.cutFrom(s.best))
	if cut = p.descend(cut, ev); cut.energy < down.energy {
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
