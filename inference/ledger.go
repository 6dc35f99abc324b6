package inference

import (
	"cmp"
	"slices"
)

// ledger is the readings of a problem as a change of one link is priced by
// them: equal readings are one line, and beeps come first, since a change that
// is far too dear shows there soonest.
type ledger struct {
	p        *problem
	settings []uint64 // all that lines name
	lines    []ledgerLine
	words    int        // of a set of lines
	closed   []uint64   // lines that beeped
	at       [][]uint64 // per slot, the lines taken in it
	near     [][]uint64 // and those that were, or would have been with a button half pressed
}

// ledgerLine is a reading as often as it was taken. Settings are by their number in
// the ledger.
type ledgerLine struct {
	red, black uint64
	numbered
	nalt   int8
	closed bool
	times  float64
}

func newLedger(p *problem) *ledger {
	l := &ledger{p: p}
	var settings roll
	type key struct {
		red, black, s uint64
		closed        bool
	}
	at := map[key]int{}
	for i := range p.obs {
		o := &p.obs[i]
		if o.void || o.control {
			continue
		}
		k := key{o.red, o.black, o.s, o.closed}
		if j, ok := at[k]; ok {
			l.lines[j].times++
			continue
		}
		at[k] = len(l.lines)
		l.lines = append(l.lines, ledgerLine{red: o.red, black: o.black, numbered: settings.numbersOf(o),
			nalt: int8(o.nalt), closed: o.closed, times: 1})
	}
	l.settings = settings.settings
	slices.SortStableFunc(l.lines, func(a, b ledgerLine) int {
		switch {
		case a.closed == b.closed:
			return cmp.Compare(a.s, b.s)
		case a.closed:
			return -1
		}
		return 1
	})
	l.index()
	return l
}

func (l *ledger) index() {
	l.words = (len(l.lines) + 63) / 64
	l.closed = make([]uint64, l.words)
	l.at, l.near = sets(l.p.slots, l.words), sets(l.p.slots, l.words)
	for k := range l.lines {
		n := &l.lines[k]
		if n.closed {
			l.closed[k/64] |= 1 << (k % 64)
		}
		mark(l.at, l.settings[n.s], k)
		mark(l.near, l.settings[n.s], k)
		for _, alt := range n.alt[:n.nalt] {
			mark(l.near, l.settings[alt], k)
		}
	}
}

// all is the lines of a word.
func (l *ledger) all(w int) uint64 {
	if left := len(l.lines) - w*64; left < 64 {
		return 1<<left - 1
	}
	return ^uint64(0)
}

// sets are so many sets of so many words.
func sets(n, words int) [][]uint64 {
	flat := make([]uint64, n*words)
	out := make([][]uint64, n)
	for i := range out {
		out[i] = flat[i*words : (i+1)*words]
	}
	return out
}

// mark puts i into the sets of all members of m.
func mark(sets [][]uint64, m uint64, i int) {
	for ; m != 0; m &= m - 1 {
		sets[lowBit(m)][i/64] |= 1 << (i % 64)
	}
}

// unmark takes i out of the sets of all members of m.
func unmark(sets [][]uint64, m uint64, i int) {
	for ; m != 0; m &= m - 1 {
		sets[lowBit(m)][i/64] &^= 1 << (i % 64)
	}
}

// holding fills in, by the sets of each slot, where a link holds: of the lines near
// a setting, where it may.
func holding(x *atom, slots [][]uint64, into []uint64) {
	for i := range into {
		into[i] = x.holdingWord(slots, i)
	}
}

// holdingWord is a word of that.
func (x *atom) holdingWord(slots [][]uint64, i int) uint64 {
	m := ^uint64(0)
	for d := range int(x.n) {
		var any uint64
		for t := x.t[d]; t != 0; t &= t - 1 {
			any |= slots[lowBit(t)][i]
		}
		m &= any
	}
	return m
}

// standing is a map's nets over the settings of a ledger: the net of each end.
type standing struct {
	n    int
	nets []uint64 // by setting, then by end
}

func (t *standing) at(s int32) []uint64 { return t.nets[int(s)*t.n : (int(s)+1)*t.n] }

// stand works out the nets of some links.
func (l *ledger) stand(t *standing, links []atom) {
	t.n = l.p.n
	t.nets = make([]uint64, len(l.settings)*t.n)
	for i := range l.settings {
		l.standIn(t, i, links, -1)
	}
}

// standIn works out the nets in one setting, a link left out (none with -1).
func (l *ledger) standIn(t *standing, i int, links []atom, without int) {
	net := t.at(int32(i))
	for e := range net {
		net[e] = 1 << e
	}
	for j := range links {
		if j != without && links[j].holds(l.settings[i]) {
			join(net, &links[j])
		}
	}
}

// joined is the ends that share a net with some of m.
func (t *standing) joined(s int32, m uint64) uint64 {
	net, out := t.at(s), m
	for ; m != 0; m &= m - 1 {
		out |= net[lowBit(m)]
	}
	return out
}

// join merges the nets of a link's two ends.
func join(net []uint64, x *atom) {
	a, b := net[x.a], net[x.b]
	if a == b {
		return
	}
	all := a | b
	for m := all; m != 0; m &= m - 1 {
		net[lowBit(m)] = all
	}
}

// reaches tells whether some end of red shares a net with some end of black.
func reaches(net []uint64, red, black uint64) bool {
	for red != 0 {
		m := net[lowBit(red)]
		if m&black != 0 {
			return true
		}
		red &^= m
	}
	return false
}

// reachesWith tells the same with one more link, where the nets without it
// do not reach.
func reachesWith(net []uint64, x *atom, red, black uint64) bool {
	a, b := net[x.a], net[x.b]
	return a&red != 0 && b&black != 0 || a&black != 0 && b&red != 0
}

// beeps tells whether a map expects a line to beep.
func (t *standing) beeps(n *ledgerLine) bool { return reaches(t.at(n.s), n.red, n.black) }

// price is what a map asks for a line that it expects to beep or not, once.
func (t *standing) price(n *ledgerLine, beeps bool) float64 {
	return surprise(n.closed, beeps, int(n.nalt), func(j int) bool { return reaches(t.at(n.alt[j]), n.red, n.black) })
}

// beepPrice is what a map asks for a beep that it does not expect, with more links
// between two ends.
func (t *standing) beepPrice(n *ledgerLine, settings []uint64, links []atom) float64 {
	closed := func(s int32) bool {
		net := t.at(s)
		for i := range links {
			if links[i].holds(settings[s]) {
				return reachesWith(net, &links[i], n.red, n.black)
			}
		}
		return false
	}
	return surprise(true, closed(n.s), int(n.nalt), func(j int) bool {
		return reaches(t.at(n.alt[j]), n.red, n.black) || closed(n.alt[j])
	})
}
