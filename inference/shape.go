package inference

// shape is what the price of one more link needs to know of a map.
type shape struct {
	use    usage
	count  []int               // contacts of each switch
	shared []int               // wires that each switch shares
	groups []groups            // of each switch's contacts
	throws map[uint64][]uint64 // ends of the contacts of one switch, by the slots in which they close
	deepOn uint64              // switches of the links of several switches
	deep   []cluster
	merged []uint64 // the switches of all of these, merged where they have some in common
}

// cluster is the links that need the same several switches.
type cluster struct {
	on   uint64
	ends uint64
	g    groups
	idle float64 // idlePrice of its links
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
			s.merged = merge(s.merged, on)
		}
		s.deep[c].g.add(x.ends)
		s.deep[c].ends |= x.ends
		s.deep[c].idle += p.idlePrice(x.n, x.sw, x.t)
	}
	for k := range p.npos {
		s.shared = append(s.shared, p.sharedEnds(&s.use, k))
	}
	return s
}

// clusterOf finds the cluster of a set of switches; -1 if there is none.
func (s *shape) clusterOf(on uint64) int {
	for c := range s.deep {
		if s.deep[c].on == on {
			return c
		}
	}
	return -1
}

// acting is the set of switches with a contact of their own.
func (s *shape) acting() uint64 {
	var m uint64
	for k, n := range s.count {
		if n > 0 {
			m |= 1 << k
		}
	}
	return m
}

// completed prices the deep clusters whose switches would all have a job of their
// own once switch k has one.
func (p *problem) completed(s *shape, k int) float64 {
	t := 0.0
	for i := range s.deep {
		if on := s.deep[i].on; on>>k&1 == 1 && on&^(s.acting()|1<<k) == 0 {
			t += p.bothAct + s.deep[i].idle
		}
	}
	return t
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
	throws []uint64 // ends of the contacts that close in that position alone
	busy   bool     // of several switches that all have a job of their own
	own    uint64   // ends of the links that these have already
}

func (p *problem) condPrices(s *shape) []condPrice {
	out := make([]condPrice, len(p.conds.terms))
	for c := range out {
		out[c] = p.condPrice(s, c)
	}
	return out
}

// condPrice is that of a condition of single positions, by its number.
func (p *problem) condPrice(s *shape, c int) condPrice {
	t := &p.conds
	return p.conditionPrice(s, t.depth[c], t.sw[c], t.terms[c])
}

// conditionPrice is that of a condition of so many switches, each in some positions.
func (p *problem) conditionPrice(s *shape, depth int, sw [3]int8, terms [3]uint64) condPrice {
	switch depth {
	case 0:
		return condPrice{k: -1, first: p.fixed + p.logPairs}
	case 1:
		k := int(sw[0])
		deep := s.deepOn>>k&1 == 1
		cp := condPrice{k: k, groups: &s.groups[k], throws: s.throws[terms[0]]}
		cp.masks = p.maskPrice(k, p.local(k, terms[0]))
		cp.count = p.jobPrice(k, s.count[k]+1, deep) - p.jobPrice(k, s.count[k], deep)
		if s.count[k] == 0 {
			cp.count += p.completed(s, k)
		}
		cp.first = p.logPairs
		cp.share = bitsShare + p.logEnds
		cp.apart = bitsApart + p.logPairs
		return cp
	}
	var on uint64
	cp := condPrice{k: -1, masks: p.deepMasks(uint8(depth), sw, terms)}
	for d := range depth {
		k := int(sw[d])
		on |= 1 << k
		if s.deepOn>>k&1 == 0 {
			cp.count += p.jobPrice(k, s.count[k], true) - p.jobPrice(k, s.count[k], false)
		}
	}
	bothAct := on&^s.acting() == 0
	if bothAct {
		cp.masks += p.idlePrice(uint8(depth), sw, terms)
		cp.busy = true
	}
	i := s.clusterOf(on)
	if i < 0 {
		cp.first = p.deepFirst(uint8(depth)) + p.logPairs
		cp.first += oneMoreSet(s.merged, on)
		if bothAct {
			cp.first += p.bothAct
		}
		return cp
	}
	cp.groups, cp.own = &s.deep[i].g, s.deep[i].ends
	more := deepMore(uint8(depth), cp.groups.contacts+1) - deepMore(uint8(depth), cp.groups.contacts)
	cp.share = more + p.logEnds
	cp.apart = more + bitsDeepApart + p.logPairs
	return cp
}

// least is a price under which addPrice does not fall; of a condition of one switch, but
// for ends that links of busy switches lose (see leastPrice).
func (cp *condPrice) least() float64 {
	t := cp.masks + cp.count - 2*bitsDeadEnd
	if cp.groups == nil || cp.groups.n == 0 {
		return t + cp.first
	}
	return t + min(cp.share, cp.apart, 2*cp.share-cp.apart)
}

// addPrice is what the prior asks for one more link, without merging it into
// a contact that already joins the pair.
func (p *problem) addPrice(s *shape, cp *condPrice, a, b int) float64 {
	t := cp.masks + cp.count
	ends := uint64(1)<<a | 1<<b
	if cp.groups == nil || cp.groups.n == 0 {
		t += cp.first
	} else {
		touch := 0
		for i := range cp.groups.n {
			if cp.groups.ends[i]&ends != 0 {
				touch++
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
			t += cp.groups.rowPriceWith(ends)
		}
	}
	t += p.usePrice(s, a) + p.usePrice(s, b)
	for _, x := range cp.throws {
		if x&ends != 0 {
			t += bitsSameThrow
		}
	}
	switch {
	case cp.busy:
		t += ownEnds(cp.own|ends, s.use.contact) - ownEnds(cp.own, s.use.contact)
	case cp.k >= 0:
		t += s.lessOwn(cp.k, ends)
	}
	if cp.k >= 0 {
		t += p.addShared(s, cp.k, ends&^s.use.of[cp.k]&^p.bodies)
	}
	return t
}

// usePrice is what the prior asks for an end's being used, where it was not.
func (p *problem) usePrice(s *shape, e int) float64 {
	if s.use.by[e] != 0 || s.use.other>>e&1 == 1 {
		return 0
	}
	return p.endPrice(e, true) - p.endPrice(e, false)
}

// lessOwn prices that a contact of switch k takes ends which links of busy switches
// had to themselves.
func (s *shape) lessOwn(k int, ends uint64) float64 {
	t := 0.0
	for i := range s.deep {
		c := &s.deep[i]
		if c.on&^(s.acting()|1<<k) != 0 {
			continue
		}
		t += ownEnds(c.ends, func(e int) bool { return s.use.by[e] != 0 || ends>>e&1 == 1 })
		if c.on&^s.acting() == 0 {
			t -= ownEnds(c.ends, s.use.contact)
		}
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
		t += p.sharePrice(s.shared[k]+own) - p.sharePrice(s.shared[k])
	}
	switch {
	case n == 2 && other[0] == other[1]:
		t += p.sharePrice(s.shared[other[0]]+2) - p.sharePrice(s.shared[other[0]])
	default:
		for _, j := range other[:n] {
			t += p.sharePrice(s.shared[j]+1) - p.sharePrice(s.shared[j])
		}
	}
	return t
}
