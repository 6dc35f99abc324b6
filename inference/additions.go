package inference

import "slices"

// shape is what the price of one more link needs to know of a map.
type shape struct {
	use    usage
	count  []int
	shared []int               // wires that a switch shares
	groups []groups            // of each switch's contacts
	throws map[uint64][]uint64 // ends of the contacts that close in one position alone, by its slot
	deepOn uint64
	deep   []cluster
}

type cluster struct {
	on uint64
	g  groups
}

func (p *problem) shapeOf(h *hyp) *shape {
	s := &shape{count: make([]int, len(p.npos)), groups: make([]groups, len(p.npos)), throws: map[uint64][]uint64{}}
	for i := range h.atoms {
		x := &h.atoms[i]
		if x.n == 1 {
			k := int(x.sw[0])
			s.count[k]++
			s.groups[k].add(x.ends)
			s.throws[x.t[0]] = append(s.throws[x.t[0]], x.ends)
			s.use.of[k] |= x.ends
			s.use.by[x.a] |= 1 << k
			s.use.by[x.b] |= 1 << k
			continue
		}
		s.use.other |= x.ends
		if x.n == 0 {
			continue
		}
		on := x.switches()
		s.deepOn |= on
		c := s.clusterOf(on)
		if c < 0 {
			c = len(s.deep)
			s.deep = append(s.deep, cluster{on: on})
		}
		s.deep[c].g.add(x.ends)
	}
	for k := range p.npos {
		s.shared = append(s.shared, p.sharedEnds(&s.use, k))
	}
	return s
}

func (s *shape) clusterOf(on uint64) int {
	for c := range s.deep {
		if s.deep[c].on == on {
			return c
		}
	}
	return -1
}

func (s *shape) acting() uint64 {
	var m uint64
	for k, n := range s.count {
		if n > 0 {
			m |= 1 << k
		}
	}
	return m
}

// clustersCompleted counts the deep clusters whose switches would all have a
// job of their own once switch k has one.
func (s *shape) clustersCompleted(k int) int {
	n := 0
	for i := range s.deep {
		if on := s.deep[i].on; on>>k&1 == 1 && on&^(s.acting()|1<<k) == 0 {
			n++
		}
	}
	return n
}

// condPrice is the part of a further link's price that its condition decides.
type condPrice struct {
	k      int     // the switch, of a contact of one switch, else -1
	masks  float64 // price of the positions
	count  float64 // of one more contact, or one more deep switch
	first  float64 // ends, if there is no contact to share with yet
	share  float64 // ends, shared with an earlier contact
	apart  float64 // ends, shared with none
	groups *groups
	throws []uint64 // ends of the contacts that close in the same position
}

func (p *problem) condPrices(s *shape) []condPrice {
	out := make([]condPrice, len(p.conds.terms))
	for c := range out {
		out[c] = p.condPrice(s, c)
	}
	return out
}

func (p *problem) condPrice(s *shape, c int) condPrice {
	t := &p.conds
	switch t.depth[c] {
	case 0:
		return condPrice{k: -1, first: bitsFixed + p.logPairs}
	case 1:
		k := int(t.sw[c][0])
		deep := s.deepOn>>k&1 == 1
		cp := condPrice{k: k, groups: &s.groups[k], throws: s.throws[t.terms[c][0]]}
		cp.masks = p.maskPrice(k, p.local(k, t.terms[c][0]))
		cp.count = p.jobPrice(k, s.count[k]+1, deep) - p.jobPrice(k, s.count[k], deep)
		if s.count[k] == 0 {
			cp.count += bitsBothAct * float64(s.clustersCompleted(k))
		}
		cp.first = p.logPairs
		cp.share = bitsShare + p.logEnds
		cp.apart = bitsApart + p.logPairs
		return cp
	}
	var on uint64
	cp := condPrice{k: -1, masks: p.deepMasks(uint8(t.depth[c]), t.sw[c], t.terms[c])}
	for d := range t.depth[c] {
		k := int(t.sw[c][d])
		on |= 1 << k
		if s.deepOn>>k&1 == 0 {
			cp.count += p.jobPrice(k, s.count[k], true) - p.jobPrice(k, s.count[k], false)
		}
	}
	i := s.clusterOf(on)
	if i < 0 {
		cp.first = p.deepFirst(uint8(t.depth[c])) + p.logPairs
		if on&^s.acting() == 0 {
			cp.first += bitsBothAct
		}
		return cp
	}
	cp.groups = &s.deep[i].g
	cp.share = bitsDeepMore + p.logEnds
	cp.apart = bitsDeepMore + bitsApart + p.logPairs
	return cp
}

// addPrice is what the prior asks for one more link, without merging it into
// a contact that already joins the pair.
func (p *problem) addPrice(s *shape, cp *condPrice, a, b int) float64 {
	t := cp.masks + cp.count
	ends := uint64(1)<<a | 1<<b
	if cp.groups == nil || cp.groups.n == 0 {
		t += cp.first
	} else {
		touch, chains, common := 0, 0, ends
		for i := range cp.groups.n {
			if cp.groups.ends[i]&ends != 0 {
				touch++
				common &= cp.groups.common[i]
				if cp.groups.common[i] == 0 {
					chains++
				}
			}
		}
		switch touch {
		case 0:
			t += cp.apart
		case 1:
			t += cp.share
		default:
			t += 2*cp.share - cp.apart
		}
		if cp.k >= 0 && touch > 0 {
			if common == 0 {
				chains--
			}
			t -= bitsChain * float64(chains)
		}
	}
	for m := ends; m != 0; m &= m - 1 {
		if e := lowBit(m); s.use.by[e] == 0 && s.use.other>>e&1 == 0 {
			t += p.endPrice(e, true) - p.endPrice(e, false)
		}
	}
	for _, x := range cp.throws {
		if x&ends != 0 {
			t += bitsSameThrow
		}
	}
	if cp.k >= 0 {
		t += p.addShared(s, cp.k, ends&^s.use.of[cp.k]&^p.bodies)
	}
	return t
}

// addShared prices the wires that become shared once switch k uses some more
// ends.
func (p *problem) addShared(s *shape, k int, ends uint64) float64 {
	own, t := 0, 0.0
	var other [2]int
	n := 0
	for m := ends; m != 0; m &= m - 1 {
		by := s.use.by[lowBit(m)]
		if by == 0 {
			continue
		}
		own++
		if by&(by-1) == 0 {
			other[n] = lowBit(by)
			n++
		}
	}
	if own > 0 {
		t += sharePrice(s.shared[k]+own) - sharePrice(s.shared[k])
	}
	switch {
	case n == 2 && other[0] == other[1]:
		t += sharePrice(s.shared[other[0]]+2) - sharePrice(s.shared[other[0]])
	default:
		for _, j := range other[:n] {
			t += sharePrice(s.shared[j]+1) - sharePrice(s.shared[j])
		}
	}
	return t
}

// addition is one more link that would make another map of this one.
type addition struct {
	x     atom
	cond  int
	delta float64
}

// implied gives, for a condition, the ends joined to each end by links that
// hold whenever the condition does.
func (p *problem) implied(h *hyp, c int, net []uint64) {
	t := &p.conds.terms[c]
	var act [maxAtoms]uint64
	m := 0
	for i := range h.atoms {
		x := &h.atoms[i]
		ok := true
		for d := range int(x.n) {
			ok = ok && (t[0]&x.t[d]|t[1]&x.t[d]|t[2]&x.t[d]) != 0
		}
		if ok {
			act[m] = x.ends
			m++
		}
	}
	for e := range net {
		var copied [maxAtoms]uint64
		copy(copied[:m], act[:m])
		net[e] = spread(copied[:m], 1<<e, 0)
	}
}

// eachAddition calls f for every further link of a single condition that would
// change the nets of some setting, with what it would change in bits.
// A contact is never dearer than one that makes no sense, of a random switch in
// a random position between random ends: what was not read must not be vouched
// for by the look of the rest alone. held is how many buttons a hand must hold to see it.
func (p *problem) eachAddition(h *hyp, ev *evidence, f func(a, b, cond, held int, delta float64)) {
	s := p.shapeOf(h)
	prices := p.condPrices(s)
	nets := make([]uint64, p.n)
	apart := p.apartness(h)
	site := map[[2]uint64]int{}
	for i := range h.atoms {
		if x := &h.atoms[i]; x.n == 1 {
			site[[2]uint64{x.ends, uint64(x.sw[0])}] = i + 1
		}
	}
	for c := range prices {
		p.implied(h, c, nets)
		cp := &prices[c]
		one := p.conds.depth[c] == 1
		for b := 1; b < p.n; b++ {
			for a := range b {
				if nets[a]>>b&1 == 1 {
					continue
				}
				q := pairIndex(a, b)
				d := float64(ev.ev[q*ev.nc+c])
				price := 0.0
				held := p.conds.held[c]
				if d < 24 {
					if held = apart.held(q, &p.conds.terms[c]); held < 0 {
						continue
					}
				}
				if one {
					if i := site[[2]uint64{1<<a | 1<<b, uint64(p.conds.sw[c][0])}]; i > 0 {
						price = p.widen(h, i-1, p.conds.terms[c][0])
						f(a, b, c, held, d+min(price, p.odd))
						continue
					}
				}
				price = p.addPrice(s, cp, a, b)
				switch p.conds.depth[c] {
				case 0:
					price = min(price, p.oddFixed)
				case 1:
					price = min(price, p.odd)
				}
				f(a, b, c, held, d+price)
			}
		}
	}
}

// widen is what the prior asks for one more position of a contact that is
// there.
func (p *problem) widen(h *hyp, i int, slot uint64) float64 {
	c := h.clone()
	c.atoms[i].t[0] |= slot
	p.tidy(c)
	return p.prior(c) - p.prior(h)
}

// withAtom adds a link, as further positions of a contact that is already
// there if it can be.
func (h *hyp) withAtom(x atom) *hyp {
	c := h.clone()
	c.add(x)
	return c
}

func (h *hyp) add(x atom) {
	if x.n == 1 {
		for i := range h.atoms {
			y := &h.atoms[i]
			if y.n == 1 && y.ends == x.ends && y.sw[0] == x.sw[0] {
				y.t[0] |= x.t[0]
				return
			}
		}
	}
	h.atoms = append(h.atoms, x)
}

// tidy drops what says nothing: contacts of one switch on the same ends are one
// contact, one that closes in every position is a bridge, a repeated link is
// one link.
func (p *problem) tidy(h *hyp) {
	w := 0
	for i := range h.atoms {
		x := h.atoms[i]
		merged := false
		for j := range w {
			if y := &h.atoms[j]; x.n == 1 && y.n == 1 && y.ends == x.ends && y.sw[0] == x.sw[0] {
				y.t[0] |= x.t[0]
				merged = true
				break
			}
		}
		if !merged {
			h.atoms[w] = x
			w++
		}
	}
	h.atoms = h.atoms[:w]
	for i := range h.atoms {
		x := &h.atoms[i]
		w := 0
		for d := range int(x.n) {
			if x.t[d] != p.swMask[x.sw[d]] {
				x.t[w], x.sw[w] = x.t[d], x.sw[d]
				w++
			}
		}
		for d := w; d < int(x.n); d++ {
			x.t[d], x.sw[d] = 0, -1
		}
		x.n = uint8(w)
	}
	w = 0
	for i := range h.atoms {
		if !slices.Contains(h.atoms[:w], h.atoms[i]) {
			h.atoms[w] = h.atoms[i]
			w++
		}
	}
	h.atoms = h.atoms[:w]
}

// apartness says, for every pair, in which telling settings a map keeps its
// two ends apart.
type apartness struct {
	words int
	slot  [][]uint64 // per slot, the settings in which it holds, as a bit set
	pair  [][]uint64 // per pair, the settings in which the two are apart

	buttons []int // per setting, how many are held; it never falls
}

func (p *problem) apartness(h *hyp) *apartness {
	settings := p.telling
	t := &apartness{words: (len(settings) + 63) / 64}
	t.slot = make([][]uint64, p.slots)
	for s := range t.slot {
		t.slot[s] = make([]uint64, t.words)
	}
	t.pair = make([][]uint64, p.n*(p.n-1)/2)
	flat := make([]uint64, len(t.pair)*t.words)
	for q := range t.pair {
		t.pair[q] = flat[q*t.words : (q+1)*t.words]
		for i := range settings {
			t.pair[q][i/64] |= 1 << (i % 64)
		}
	}
	var buf []uint64
	for i, s := range settings {
		t.buttons = append(t.buttons, p.buttons(s))
		for m := s; m != 0; m &= m - 1 {
			t.slot[lowBit(m)][i/64] |= 1 << (i % 64)
		}
		buf = h.nets(s, buf)
		for _, net := range buf {
			for x := net; x != 0; x &= x - 1 {
				a := lowBit(x)
				for y := x & (x - 1); y != 0; y &= y - 1 {
					t.pair[pairIndex(a, lowBit(y))][i/64] &^= 1 << (i % 64)
				}
			}
		}
	}
	return t
}

// held is the least number of buttons held in a telling setting in which the
// pair is apart and all the terms hold; -1 if there is none.
func (t *apartness) held(q int, terms *[3]uint64) int {
	for i := range t.words {
		m := t.pair[q][i]
		for _, x := range terms {
			if x != 0 {
				m &= t.slot[lowBit(x)][i]
			}
		}
		if m != 0 {
			return t.buttons[i*64+lowBit(m)]
		}
	}
	return -1
}
