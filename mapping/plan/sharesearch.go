package plan

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
)

// item is loads that go together. Currents are in milliamps, so that sums are
// exact.
type item struct {
	loads        []int
	steady, peak int
	limit        float64
	groups       []Group
	mask         uint16 // groups that the rules look at
}

const (
	gHead = 1 << iota
	gRear
	gBrake
	gTurn
	gIgnition
	gStart
	gAccessory
	gOther
)

func maskOfGroup(g Group) uint16 {
	switch g {
	case "":
		return 0
	case Headlamp:
		return gHead
	case Rear:
		return gRear
	case Brake:
		return gBrake
	case Indicator:
		return gTurn
	case Ignition:
		return gIgnition
	case Start, Motor:
		return gStart
	case Accessory:
		return gAccessory
	}
	return gOther
}

// The rules that a way can break, as bits.
const (
	bLamps = 1 << iota
	bBrake
	bIgnition
	bAccessory
	bFuse
)

// brokenBy gives the grouping rules that a set of groups on one fuse breaks;
// it agrees with breaches.
func brokenBy(m uint16) uint8 {
	var b uint8
	if m&gHead != 0 && m&gRear != 0 {
		b |= bLamps
	}
	if m&gBrake != 0 && m&gTurn != 0 {
		b |= bBrake
	}
	if m&gIgnition != 0 && m&^(gIgnition|gStart) != 0 {
		b |= bIgnition
	}
	if m&gAccessory != 0 && m&^gAccessory != 0 {
		b |= bAccessory
	}
	return b
}

type bin struct {
	steady, peak int
	limit        float64
	mask         uint16
	used         bool
	rules        uint8 // broken ones
}

func (b bin) broken() int { return bits.OnesCount8(b.rules) }

func (b bin) with(it item) bin {
	if !b.used {
		b.limit = math.Inf(1)
	}
	b.used = true
	b.steady += it.steady
	b.peak += it.peak
	b.limit = min(b.limit, it.limit)
	b.mask |= it.mask
	b.rules |= brokenBy(b.mask)
	if b.fuse() == 0 {
		b.rules |= bFuse
	}
	return b
}

func (b bin) fuse() float64 {
	if !b.used {
		return 0
	}
	for _, r := range usualRatings() {
		if float64(b.steady) <= continuousShare*1000*r+1e-6 && float64(b.peak) <= 1000*r+1e-6 {
			if r > b.limit {
				return 0
			}
			return r
		}
	}
	return 0
}

// kind is which loads a way takes without breaking a rule more: 0 ignition, 1
// accessories, 2 the rest.
func kindOfMask(m uint16) int {
	switch {
	case m&gIgnition != 0:
		return 0
	case m&gAccessory != 0:
		return 1
	}
	return 2
}

type sharer struct {
	items []item
	bins  []bin
	at    []int
	best  []int
	// bestBroken and bestMax are the price of the best sharing so far
	bestBroken, bestMax int
	floorMax            int
	rest                [][3]int // steady still to place from an item on, by kind
	alone               []uint8  // from an item on: rules that one of them breaks even alone
	nodes               int
	cut                 bool
	seen                map[[2]uint64]struct{} // arrangements that lead to nothing better
}

// maxShareNodes bounds the search; about half a second.
const maxShareNodes = 800_000

func itemsOf(loads []ShareLoad) []item {
	var out []item
	index := map[string]int{}
	for i, l := range loads {
		k := len(out)
		if l.Circuit != "" {
			if have, ok := index[l.Circuit]; ok {
				k = have
			} else {
				index[l.Circuit] = k
			}
		}
		if k == len(out) {
			out = append(out, item{limit: math.Inf(1)})
		}
		it := &out[k]
		it.loads = append(it.loads, i)
		it.steady += int(math.Round(l.Steady * 1000))
		it.peak += int(math.Round(max(l.Peak, l.Steady) * 1000))
		if l.FuseMax > 0 {
			it.limit = min(it.limit, l.FuseMax)
		}
		it.groups = append(it.groups, l.Group)
		it.mask |= maskOfGroup(l.Group)
	}
	slices.SortStableFunc(out, func(a, b item) int {
		ra, rb := bits.OnesCount8(bin{}.with(a).rules), bits.OnesCount8(bin{}.with(b).rules)
		return cmp.Or(cmp.Compare(rb, ra), cmp.Compare(b.steady, a.steady), cmp.Compare(b.peak, a.peak), cmp.Compare(a.mask, b.mask), cmp.Compare(a.limit, b.limit))
	})
	return out
}

func same(a, b item) bool {
	return a.steady == b.steady && a.peak == b.peak && a.limit == b.limit && a.mask == b.mask
}

// search places item i and all after it. It returns true when nothing better
// can be.
func (s *sharer) search(i, broken, fullest int) bool {
	if s.nodes++; s.nodes > maxShareNodes {
		s.cut = true
		return true
	}
	if i == len(s.items) {
		s.bestBroken, s.bestMax, s.best = broken, fullest, slices.Clone(s.at)
		return broken == 0 && fullest <= s.floorMax
	}
	it := s.items[i]
	if i > 3 && i < len(s.items)-2 && !same(it, s.items[i-1]) {
		// the same ways filled in another order lead to the same; where equal
		// items keep an order among themselves there is more to an arrangement
		k := s.key(i)
		if _, was := s.seen[k]; was {
			return false
		}
		if len(s.seen) < maxSeen {
			s.seen[k] = struct{}{}
		}
	}
	type choice struct {
		at   int
		next bin
		more int
	}
	var room [maxWays]choice
	order := room[:0]
	fresh := false
	first := 0
	if i > 0 && same(it, s.items[i-1]) {
		first = s.at[i-1] // equal items keep the order of ways
	}
	for b := range s.bins {
		if !s.bins[b].used {
			if fresh {
				continue // empty ways are all alike
			}
			fresh = true
		} else if b < first || s.twin(b, first) {
			continue
		}
		next := s.bins[b].with(it)
		more := next.broken() - s.bins[b].broken()
		if br := broken + more; br > s.bestBroken || br == s.bestBroken && max(fullest, next.steady, s.floorMax) >= s.bestMax {
			continue
		}
		c := choice{b, next, more}
		k := len(order)
		order = append(order, c)
		for ; k > 0 && (order[k-1].more > more || order[k-1].more == more && order[k-1].next.steady > next.steady); k-- {
			order[k] = order[k-1]
		}
		order[k] = c
	}
	for _, c := range order {
		br, mx := broken+c.more, max(fullest, c.next.steady)
		if br > s.bestBroken || br == s.bestBroken && max(mx, s.floorMax) >= s.bestMax {
			continue
		}
		old := s.bins[c.at]
		s.bins[c.at], s.at[i] = c.next, c.at
		if s.roomFor(i+1, br) && s.search(i+1, br, mx) {
			return true
		}
		s.bins[c.at] = old
	}
	return false
}

// maxSeen bounds the memory of the search, some 30 MB.
const maxSeen = 400_000

// key names an arrangement of the first i items whatever the order of the
// ways: sums of two independent hashes, 128 bits in all. Broken rules and the
// fullest way follow from it.
func (s *sharer) key(i int) [2]uint64 {
	sum := [2]uint64{uint64(i), uint64(i)}
	for _, b := range s.bins {
		if !b.used {
			continue
		}
		h := uint64(b.steady)<<36 ^ uint64(b.peak)<<12 ^ uint64(b.mask) ^ math.Float64bits(b.limit)
		sum[0] += mix(h + uint64(b.rules)<<8)
		sum[1] += mix(h ^ 0x9e3779b97f4a7c15 ^ uint64(b.rules)<<56)
	}
	return sum
}

// mix spreads the bits of a number (the finisher of splitmix64).
func mix(x uint64) uint64 {
	x ^= x >> 30
	x *= 0xbf58476d1ce4e5b9
	x ^= x >> 27
	x *= 0x94d049bb133111eb
	return x ^ x>>31
}

// twin tells whether an earlier way that may be chosen looks just like this
// one.
func (s *sharer) twin(b, first int) bool {
	for a := first; a < b; a++ {
		if s.bins[a] == s.bins[b] {
			return true
		}
	}
	return false
}

// roomFor tells whether what is left could still make a better sharing. Where
// not one rule more may break, the three kinds of loads need room of their own
// under the fullest way so far.
func (s *sharer) roomFor(i, broken int) bool {
	if s.alone[i] != 0 { // rules that something still to place breaks wherever it goes
		have := uint8(0)
		for _, b := range s.bins {
			have |= b.rules
		}
		broken += bits.OnesCount8(s.alone[i] &^ have)
	}
	if broken != s.bestBroken {
		return broken < s.bestBroken
	}
	room := s.bestMax - 1
	var free [3]int
	open := 0 // kinds apart only in ways that are whole
	empty := 0
	for _, b := range s.bins {
		switch {
		case !b.used:
			empty++
		case b.rules != 0 || b.mask == 0: // coils alone: open to any kind
			open += max(0, room-b.steady)
		default:
			free[kindOfMask(b.mask)] += max(0, room-b.steady)
		}
	}
	need, ways := 0, 0
	for k := range free {
		lack := max(0, s.rest[i][k]-free[k])
		need += lack
		if open == 0 && room > 0 {
			ways += (lack + room - 1) / room
		}
	}
	return need <= open+empty*room && ways <= empty
}
