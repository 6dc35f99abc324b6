package inference

import "math/bits"

// condTable numbers every condition of up to three single positions: 0 is
// always, then each slot, then each pair and each triple of slots of different
// switches (no triples if they are too many).
type condTable struct {
	terms [][3]uint64 // slot bits, 0 where unused
	depth []int       // how many terms
	sw    [][3]int8   // switch of each term, -1 where unused
	held  []int       // how many buttons a hand must hold for it
	risk  []uint8     // what may make a silence under it false, see hand

	pairFrom, tripleFrom int // where the conditions of two and of three switches begin
}

func newCondTable(p *problem) condTable {
	t := condTable{}
	add := func(slots ...int) {
		var m [3]uint64
		sw := [3]int8{-1, -1, -1}
		risk := 0
		for i, s := range slots {
			m[i] = 1 << s
			k := p.switchOf(s)
			sw[i] = int8(k)
			if !p.momentary[k] {
				risk++
			}
		}
		held := bits.OnesCount64((m[0] | m[1] | m[2]) & p.heldSlots)
		if held > 0 {
			risk += buttonRisk
		}
		t.terms = append(t.terms, m)
		t.depth = append(t.depth, len(slots))
		t.held = append(t.held, held)
		t.sw = append(t.sw, sw)
		t.risk = append(t.risk, uint8(risk))
	}
	add()
	for s := range p.slots {
		add(s)
	}
	t.pairFrom = len(t.terms)
	for a := range p.slots {
		for b := a + 1; b < p.slots; b++ {
			if p.switchOf(a) != p.switchOf(b) {
				add(a, b)
			}
		}
	}
	t.tripleFrom = len(t.terms)
	if p.tripleCount()*p.n*(p.n-1)/2 > mostTriples {
		return t
	}
	for a := range p.slots {
		for b := a + 1; b < p.slots; b++ {
			if p.switchOf(a) == p.switchOf(b) {
				continue
			}
			for c := b + 1; c < p.slots; c++ {
				if p.switchOf(c) != p.switchOf(b) {
					add(a, b, c)
				}
			}
		}
	}
	return t
}

// mostTriples bounds the table of links that need three switches, pairs of ends
// times conditions: a pod of 24 ends and 10 switches of three positions needs
// 894,240. In a larger one further links are sought to depth two.
const mostTriples = 1_500_000

func (p *problem) tripleCount() int {
	t := 0
	for a := range p.npos {
		for b := range a {
			for c := range b {
				t += p.npos[a] * p.npos[b] * p.npos[c]
			}
		}
	}
	return t
}

func (p *problem) switchOf(slot int) int {
	for k := len(p.base) - 1; k >= 0; k-- {
		if slot >= p.base[k] {
			return k
		}
	}
	return 0
}

// holding lists the conditions that hold in a setting.
func (t *condTable) holding(s uint64, buf []int32) []int32 {
	buf = buf[:0]
	for i := range t.terms {
		if t.holds(i, s) {
			buf = append(buf, int32(i))
		}
	}
	return buf
}

func (t *condTable) holds(i int, s uint64) bool {
	m := &t.terms[i]
	return m[0]&^s|m[1]&^s|m[2]&^s == 0
}

// atom makes the link of a pair under a condition.
func (t *condTable) atom(a, b, cond int) atom {
	x := newAtom(a, b)
	x.n = uint8(t.depth[cond])
	x.t = t.terms[cond]
	x.sw = t.sw[cond]
	return x
}
