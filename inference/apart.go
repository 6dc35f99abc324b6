package inference

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
