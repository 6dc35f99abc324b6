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
	return l
}

// standing is a map's nets over the settings of a ledger: the net of each end.
type standing struct {
	n    int
	nets []uint64 // by setting, then by end
}

func (t *standing) at(s int32) []uint64 { return t.nets[int(s)*t.n : (int(s)+1)*t.n] }

// stand works out the nets of a drawing, one of its links left out (none with
// -1).
func (l *ledger) stand(t *standing, drawn []atom, without int) {
	t.n = l.p.n
	t.nets = slices.Grow(t.nets[:0], len(l.settings)*t.n)[:len(l.settings)*t.n]
	for i, s := range l.settings {
		net := t.nets[i*t.n : (i+1)*t.n]
		for e := range net {
			net[e] = 1 << e
		}
		for j := range drawn {
			if j != without && drawn[j].holds(s) {
				join(net, &drawn[j])
			}
		}
	}
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

// price is what a map asks for a line, once, if it had one more link (nil: as it
// is). holds tells in which settings that link does; beeps whether the line is
// expected to beep without it.
func (t *standing) price(n *ledgerLine, beeps bool, x *atom, holds []bool) float64 {
	if !beeps && x != nil && holds[n.s] {
		beeps = reachesWith(t.at(n.s), x, n.red, n.black)
	}
	return surprise(n.closed, beeps, int(n.nalt), func(j int) bool {
		net := t.at(n.alt[j])
		return reaches(net, n.red, n.black) || x != nil && holds[n.alt[j]] && reachesWith(net, x, n.red, n.black)
	})
}

// holding tells in which settings of the ledger a link holds.
func (l *ledger) holding(x *atom, buf []bool) []bool {
	buf = buf[:0]
	for _, s := range l.settings {
		buf = append(buf, x.holds(s))
	}
	return buf
}

// heeds tells whether a link that holds in the given settings has a say in a
// line.
func (n *ledgerLine) heeds(holds []bool) bool {
	if holds[n.s] {
		return true
	}
	for _, alt := range n.alt[:n.nalt] {
		if holds[alt] {
			return true
		}
	}
	return false
}
