package plan

import (
	"slices"
	"strings"
)

// NoBattery is a plan in which no current can be followed.
const NoBattery = "no-battery"

// Check finds everything that is wrong with a plan, gravest first; what the plan
// marks as expected is left out. No finding means that every rule holds in
// every setting of every pod and every key position.
func Check(p Plan) []Finding {
	return Unmeant(CheckAll(p))
}

// Unmeant are the findings that the plan does not mark.
func Unmeant(all []Judged) []Finding {
	out := []Finding{}
	for _, j := range all {
		if !j.Meant {
			out = append(out, j.Finding)
		}
	}
	return out
}

// CheckAll gives the same with the expected ones in it, marked. A mark that
// fits nothing is a finding itself: the harness has changed under it.
func CheckAll(p Plan) []Judged {
	if !wired(&p, "battery.+") {
		return []Judged{{Finding: Finding{Kind: NoBattery, Where: "battery", Say: "nothing is wired to battery.+, and current is followed from a battery only, so nothing of this plan is checked: " +
			"wire it, or for a machine without one draw a battery where its capacitor is"}}}
	}
	full := withSizes(p)
	n := compile(&full, nil)
	f := gather(n)
	s := solveAll(f)
	var all []Finding
	all = append(all, prove(n)...)
	all = append(all, electrical(&p, s, workOpen(&p, &full, s))...)
	all = append(all, plugRules(&p, n)...)
	all = append(all, loomRules(&p, f)...)
	used := make([]bool, len(p.Expected))
	var out []Judged
	for _, x := range all {
		j := Judged{Finding: x}
		for i, e := range p.Expected {
			if e.Kind == x.Kind && fits(e.Where, x.Where) {
				used[i], j.Meant, j.Why = true, true, e.Why
			}
		}
		out = append(out, j)
	}
	for i, e := range p.Expected {
		if !used[i] {
			out = append(out, Judged{Finding: Finding{Kind: StaleMark, Where: e.Where,
				Say: "the plan expects " + e.Kind + " here and nothing of the kind was found: take the mark out, or see what has changed"}})
		}
	}
	slices.SortStableFunc(out, func(a, b Judged) int { return byGravity(a.Finding, b.Finding) })
	return slices.CompactFunc(out, func(a, b Judged) bool {
		return a.Kind == b.Kind && a.Where == b.Where && a.Setting == b.Setting && a.Say == b.Say
	})
}

// fits compares a mark's place; a trailing * stands for anything.
func fits(mark, where string) bool {
	if rest, ok := strings.CutSuffix(mark, "*"); ok {
		return strings.HasPrefix(where, rest)
	}
	return mark == where
}
