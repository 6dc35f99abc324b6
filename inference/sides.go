package inference

import "slices"

// sides tells, for each end, the readings that have it in the net of their red ends and
// in that of their black ones, under the map of a chain and with the levers where they
// were put: by word of the readings' set, then by end.
type sides struct{ red, black []uint64 }

func (t *sides) clone() sides { return sides{slices.Clone(t.red), slices.Clone(t.black)} }

// hear takes in the readings from a number on.
func (t *sides) hear(w *walker, h *hyp, from int) {
	t.red, t.black = padded(t.red, w.words*w.p.n), padded(t.black, w.words*w.p.n)
	w.table.begin(h, w.roll.settings)
	for i := from; i < len(w.raw); i++ {
		if has(w.live, i) {
			t.put(w, i)
		}
	}
}

// put enters a reading under the map that the table of the walker is of.
func (t *sides) put(w *walker, i int) {
	o, at := &w.raw[i], i/64*w.p.n
	nets := w.table.in(w.numbers[i])
	bit := uint64(1) << (i % 64)
	for m := joinedTo(nets, o.red); m != 0; m &= m - 1 {
		t.red[at+lowBit(m)] |= bit
	}
	for m := joinedTo(nets, o.black); m != 0; m &= m - 1 {
		t.black[at+lowBit(m)] |= bit
	}
}

// turn enters the readings anew whose nets a change to another map has moved.
func (t *sides) turn(w *walker, h *hyp) {
	w.table.begin(h, w.roll.settings)
	n := w.p.n
	for k, moved := range w.moved {
		if moved == 0 {
			continue
		}
		red, black := t.red[k*n:(k+1)*n], t.black[k*n:(k+1)*n]
		for e := range red {
			red[e] &^= moved
			black[e] &^= moved
		}
		for m := moved; m != 0; m &= m - 1 {
			t.put(w, k*64+lowBit(m))
		}
	}
}

// lose notes that a change takes a link away: a beep may be lost where the link is in
// the net that beeped, and nothing is said by silences that were expected.
func (w *walker) lose(c *chain, x *atom) {
	w.note(x)
	t := &c.sides
	for i := range w.words {
		at := i*w.p.n + int(x.a)
		here := w.holding(x, w.slotAt, i)
		w.moved[i] |= here & (t.red[at] | t.black[at])
		w.touched[i] |= here&w.beeps[i]&t.red[at]&t.black[at]&^c.stray[i] | w.holding(x, w.slotNear, i)&c.stray[i]
	}
}

// gain notes that a change puts a link there: a silence may be odd where it joins
// the two sides. Of links that exchange ends or positions no two join them together
// that did not before: a way by both led over the end, or the ends, that they hung on.
func (w *walker) gain(c *chain, x *atom) {
	w.note(x)
	t := &c.sides
	for i := range w.words {
		a, b := i*w.p.n+int(x.a), i*w.p.n+int(x.b)
		here := w.holding(x, w.slotAt, i)
		w.moved[i] |= here & (t.red[a] | t.black[a] | t.red[b] | t.black[b])
		w.touched[i] |= here&^w.beeps[i]&^c.stray[i]&(t.red[a]&t.black[b]|t.red[b]&t.black[a]) | w.holding(x, w.slotNear, i)&c.stray[i]
	}
}

// note notes the switch of a link that comes or goes.
func (w *walker) note(x *atom) {
	if x.n == 1 {
		w.changed |= 1 << x.sw[0]
	}
}

// holding is a word of the readings for which a link holds, by the sets of each slot.
func (w *walker) holding(x *atom, slots [][]uint64, i int) uint64 {
	return w.live[i] & x.holdingWord(slots, i)
}
