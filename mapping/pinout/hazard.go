package pinout

import (
	"slices"

	"bellout/mapping"
)

// hazard claims a hazard switch whose contacts tell its common.
func (b *builder) hazard(g *group, hub mapping.EndID) {
	b.claim(hub, claim{sw: g.sw.Name, function: "hazard common, from the flasher", terminal: "49a", side: feed, cap: mapping.Likely, grade: g.grade("")})
	g.spokes(hub, func(e mapping.EndID, _ []mapping.PositionID) { b.hazardSide(g, e) })
}

// hazardSide claims an output that no turn switch says the side of.
func (b *builder) hazardSide(g *group, e mapping.EndID) {
	b.claim(e, claim{
		sw: g.sw.Name, function: "indicators of one side, for hazard", terminal: "L/R", side: either, cap: mapping.Likely, grade: g.grade(e),
		says: Harmless, do: "choose which side; both flash",
	})
}

// hazardByTurn claims a hazard switch that joins all of its ends at once, from
// what the turn switch says of them: the lamps that both reach are outputs, and
// what is left is the feed. A hazard switch has a flasher of its own or a live
// feed (common practice), so that no terminal number fits. It reports whether
// the turn switch says anything.
func (b *builder) hazardByTurn(g *group, shared map[mapping.EndID]int) bool {
	var lamps, rest []mapping.EndID
	for _, e := range g.ends {
		if b.turned(e) {
			lamps = append(lamps, e)
		} else {
			rest = append(rest, e)
		}
	}
	if len(lamps) == 0 || len(rest) == 0 {
		return false
	}
	for _, e := range lamps {
		b.hazardLamp(g, e)
	}
	if from := mostShared(rest, shared); from != "" {
		b.hazardFeed(g, from)
		for _, e := range rest {
			if e != from {
				b.hazardSide(g, e)
			}
		}
		return true
	}
	for _, e := range rest {
		b.claim(e, claim{
			sw: g.sw.Name, function: "hazard feed, or the indicators of one side, alike with " + b.others(rest, e), side: either, cap: mapping.Proved,
			grade: g.grade(e), says: Harmless, do: "choose one of them as the feed: they are the same to the switch",
		})
	}
	return true
}

// hazardPair claims a hazard contact of two ends where the turn switch tells
// the lamps from the feed, and reports whether it does.
func (b *builder) hazardPair(g *group, x, y mapping.EndID) bool {
	switch {
	case b.turned(x) && b.turned(y):
		b.hazardLamp(g, x)
		b.hazardLamp(g, y)
	case b.turned(x):
		b.hazardLamp(g, x)
		b.hazardFeed(g, y)
	case b.turned(y):
		b.hazardLamp(g, y)
		b.hazardFeed(g, x)
	default:
		return false
	}
	return true
}

// hazardLamp claims what the turn switch names.
func (b *builder) hazardLamp(g *group, e mapping.EndID) {
	b.claim(e, claim{sw: g.sw.Name, function: "hazard" + b.needs(g), side: output, cap: mapping.Proved, grade: g.grade(e), late: true})
}

func (b *builder) hazardFeed(g *group, e mapping.EndID) {
	what := "hazard feed" + b.needs(g)
	if !b.has(e, common) && !b.has(e, feed) {
		what += ", from a flasher of its own or a live feed"
	}
	b.claim(e, claim{sw: g.sw.Name, function: what, side: feed, cap: mapping.Likely, grade: g.grade("")})
}

// turned tells whether an end has a part in a contact of a turn switch and is
// not its common.
func (b *builder) turned(e mapping.EndID) bool {
	return !b.has(e, common) && slices.ContainsFunc(b.groups(), func(g *group) bool { return g.role == turnRole && slices.Contains(g.ends, e) })
}

// flashes tells whether a hazard switch says of an end that it goes to lamps.
func (b *builder) flashes(e mapping.EndID) bool {
	return slices.ContainsFunc(b.claims[e], func(c claim) bool {
		sw, _ := b.pod.Switch(c.sw)
		return c.side == output && roleOf(sw) == hazardRole
	})
}
