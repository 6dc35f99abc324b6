package standards

import (
	"slices"

	"bellout/mapping"
)

// Form is a contact form: what a switch is called by what it joins at rest and
// when it is moved. Letter follows the forms of NARM/RSIA (ANSI), Zb is
// IEC 60947-5-1's; Digits are the function digits of EN 50005 where it has
// them. Sources in testdata/reference/contact_forms.csv.
type Form struct {
	Letter string
	Alias  string
	Digits string
	Ends   int
}

// The forms that continuity can tell apart. Double-gap contacts (X, Y) look
// like A and B from outside; early-make and late-break contacts, and D without
// a half-way detent, show only while the lever moves: a steady reading cannot
// name them, so FormOf never does.
var (
	formA  = Form{"A", "make (SPST-NO)", "3-4", 2}
	formB  = Form{"B", "break (SPST-NC)", "1-2", 2}
	formC  = Form{"C", "changeover (SPDT), break before make as far as detents show", "1-2-4", 3}
	formD  = Form{"D", "changeover, make before break", "", 3}
	formK  = Form{"K", "changeover, centre off", "", 3}
	formZb = Form{"Zb", "changeover of two separate pairs, no common", "", 4}
)

// FormOf names a contact by its table: for each position of the switch, in the
// lever's order, the groups of ends that it joins there (ends that are joined
// to nothing may be left out); rest is the index of the rest position. It also
// gives the common end, empty where the form has none. It is false where the
// contact has no form of the standard, such as a cumulative lights switch.
func FormOf(positions [][][]mapping.EndID, rest int) (f Form, common mapping.EndID, ok bool) {
	if rest < 0 || rest >= len(positions) {
		return Form{}, "", false
	}
	var ends []mapping.EndID
	for _, nets := range positions {
		for _, net := range nets {
			if len(net) < 2 {
				continue
			}
			for _, e := range net {
				if !slices.Contains(ends, e) {
					ends = append(ends, e)
				}
			}
		}
	}
	slices.Sort(ends)
	t := table{positions, rest}
	switch len(ends) {
	case 2:
		return t.pair(ends)
	case 3:
		return t.three(ends)
	case 4:
		return t.four(ends)
	}
	return Form{}, "", false
}

type table struct {
	positions [][][]mapping.EndID
	rest      int
}

// joined lists the positions in which two ends are joined.
func (t table) joined(a, b mapping.EndID) []bool {
	out := make([]bool, len(t.positions))
	for i, nets := range t.positions {
		for _, net := range nets {
			out[i] = out[i] || slices.Contains(net, a) && slices.Contains(net, b)
		}
	}
	return out
}

func count(b []bool) (n int) {
	for _, v := range b {
		if v {
			n++
		}
	}
	return n
}

func (t table) pair(ends []mapping.EndID) (Form, mapping.EndID, bool) {
	j := t.joined(ends[0], ends[1])
	switch n := count(j); {
	case n == 0 || n == len(j):
		return Form{}, "", false
	case j[t.rest]:
		return formB, "", true
	}
	return formA, "", true
}

func (t table) three(ends []mapping.EndID) (Form, mapping.EndID, bool) {
	for i, common := range ends {
		x, y := ends[(i+1)%3], ends[(i+2)%3]
		a, b, ab := t.joined(common, x), t.joined(common, y), t.joined(x, y)
		none, both, one := 0, 0, 0
		for k := range a {
			switch {
			case a[k] && b[k]:
				both++
			case ab[k]:
				one = -len(a) // two outputs joined without the common: not this one
			case a[k] || b[k]:
				one++
			default:
				none++
			}
		}
		if one < 2 || !differ(a, b) {
			continue
		}
		switch {
		case none == 0 && both == 0 && len(a) == 2:
			return formC, common, true
		case none == 0 && both > 0 && !(a[t.rest] && b[t.rest]):
			return formD, common, true
		case both == 0 && none == 1 && len(a) == 3 && !a[1] && !b[1]:
			return formK, common, true
		}
	}
	return Form{}, "", false
}

// differ tells whether each of two contacts is closed somewhere where the
// other is open.
func differ(a, b []bool) bool {
	var onlyA, onlyB bool
	for k := range a {
		onlyA = onlyA || a[k] && !b[k]
		onlyB = onlyB || b[k] && !a[k]
	}
	return onlyA && onlyB
}

func (t table) four(ends []mapping.EndID) (Form, mapping.EndID, bool) {
	for _, split := range [][4]int{{0, 1, 2, 3}, {0, 2, 1, 3}, {0, 3, 1, 2}} {
		p, q := ends[split[0]], ends[split[1]]
		r, s := ends[split[2]], ends[split[3]]
		a, b := t.joined(p, q), t.joined(r, s)
		opposite := len(a) == 2
		for k := range a {
			opposite = opposite && a[k] != b[k] && !t.joined(p, r)[k] && !t.joined(p, s)[k] &&
				!t.joined(q, r)[k] && !t.joined(q, s)[k]
		}
		if opposite {
			return formZb, "", true
		}
	}
	return Form{}, "", false
}
