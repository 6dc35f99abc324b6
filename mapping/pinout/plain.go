package pinout

import (
	"slices"

	"bellout/mapping"
	"bellout/mapping/standards"
)

// plain names the ends of a contact by the generic switch terminals of
// DIN 72552, for switches that nobody has named or whose form fits no role.
func (b *builder) plain(g *group, hub mapping.EndID) {
	what := b.called(g.sw.Name)
	form, _, ok := standards.FormOf(g.nets(), g.sw.Index(g.sw.Rest))
	guess := ""
	if ok && g.role == noRole && !g.sw.Momentary {
		switch form.Letter {
		case "K":
			guess = "; moves as a turn switch does"
		case "C", "D", "Zb":
			guess = "; moves as a dip switch does"
		}
	}
	do := "name the switch after its legend, or say what it does"
	if hub == "" {
		for _, e := range g.ends {
			b.claim(e, claim{sw: g.sw.Name, function: what + ", no common" + b.needs(g) + guess, side: generic, cap: mapping.OpenQuestion, grade: g.grade(e), says: Matters, do: do})
		}
		return
	}
	family := "83"
	if ok && (form.Letter == "C" || form.Letter == "D") {
		family = "81"
	}
	b.claim(hub, claim{sw: g.sw.Name, function: what + " common" + b.needs(g) + guess, terminal: family, side: generic, cap: mapping.OpenQuestion, grade: g.grade(""), says: Matters, do: do})
	var seen []string // outputs of the same positions have the same letter
	g.spokes(hub, func(e mapping.EndID, at []mapping.PositionID) {
		c := claim{sw: g.sw.Name, function: what + " output at " + b.positions(at) + b.needs(g), side: generic, cap: mapping.OpenQuestion, grade: g.grade(e), says: Matters, do: do}
		n := slices.Index(seen, b.positions(at))
		if n < 0 {
			n, seen = len(seen), append(seen, b.positions(at))
		}
		if n < 2 {
			c.terminal = family + "ab"[n:n+1]
		}
		b.claim(e, c)
	})
}

func (b *builder) positions(at []mapping.PositionID) string {
	s := ""
	for i, q := range at {
		if i > 0 {
			s += "/"
		}
		s += mapping.Clean(string(q), mapping.MaxName)
	}
	return s
}
