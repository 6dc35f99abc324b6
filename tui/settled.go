package tui

import (
	"slices"

	"bellout/inference"
	"bellout/mapping"
)

// stage is how far the map can be taken for settled. Every screen that says so
// goes by it, so that none sends on whom another lets go.
type stage int

const (
	clashing  stage = iota // readings contradict each other, and nobody has set that aside
	unsettled              // more doubt than the stop rule allows
	moreHands              // the rule is met; what is open takes more buttons held than this builder holds
	settled
)

func (s *session) standsAt() stage {
	switch {
	case len(s.openDoubts()) > 0:
		return clashing
	case !s.th.sum.Done:
		return unsettled
	case len(openPairs(s.th.sum)) > 0:
		return moreHands
	}
	return settled
}

// openPairs gathers what nobody vouches for by pairs of ends. What the engine
// names in words beyond that is doubt within the stop rule: it lends its guess,
// and comes first, the heaviest of it before the rest.
func openPairs(sum inference.Result) []openPair {
	var out []openPair
	add := func(a, b mapping.EndID, when, guess string) {
		i := slices.IndexFunc(out, func(o openPair) bool { return o.a == a && o.b == b })
		if i < 0 {
			i = len(out)
			out = append(out, openPair{a: a, b: b})
		}
		if !slices.ContainsFunc(out[i].when, func(said string) bool { return said == when || said == when+perhapsJoined || said == when+perhapsApart }) {
			out[i].when = append(out[i].when, when+guess)
		}
	}
	for _, p := range sum.OpenInWords {
		if !slices.ContainsFunc(sum.Map.Unresolved, func(l mapping.Link) bool { return l.A == p.A && l.B == p.B && holdsWhen(l, p.When) }) ||
			isProved(sum.Map, p.A, p.B, p.When) {
			continue
		}
		guess := perhapsApart
		if p.Joined {
			guess = perhapsJoined
		}
		add(p.A, p.B, conditionWords(p.When), guess)
	}
	for _, l := range sum.Map.Unresolved {
		for _, c := range l.Whens() {
			if !isProved(sum.Map, l.A, l.B, c) {
				add(l.A, l.B, conditionWords(c), "")
			}
		}
	}
	return out
}

const (
	perhapsJoined = " (perhaps joined)"
	perhapsApart  = " (perhaps apart)"
)

// isProved tells that the map joins two ends under that very condition, and that
// it is proved: the last of the doubt is spread so thin that what is proved comes
// into it again, and is no more open for that.
func isProved(m mapping.Map, a, b mapping.EndID, when mapping.Condition) bool {
	return slices.ContainsFunc(m.Links, func(l mapping.Link) bool {
		return l.Grade == mapping.Proved && l.A == a && l.B == b && holdsWhen(l, when)
	})
}

func holdsWhen(l mapping.Link, when mapping.Condition) bool {
	return slices.ContainsFunc(l.Whens(), when.Equal)
}
