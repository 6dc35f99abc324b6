package pinout

import (
	"fmt"
	"slices"

	"bellout/mapping"
	"bellout/mapping/standards"
)

// star claims the ends of a group of three and more, or of a key switch: there
// the form tells the common from the outputs.
func (b *builder) star(g *group, shared map[mapping.EndID]int) {
	if g.role == keyRole {
		b.key(g)
		return
	}
	hub, alike := b.hub(g)
	if g.role == hazardRole && len(alike) == len(g.ends) && b.hazardByTurn(g, shared) {
		return
	}
	if len(alike) > 0 {
		// Several ends could be the common, unless one of them has a part in more
		// contacts than the rest.
		if hub = mostShared(alike, shared); hub == "" {
			b.alike(g, alike)
			return
		}
	}
	if hub == "" {
		b.plain(g, "")
		return
	}
	switch g.role {
	case turnRole:
		b.turn(g, hub)
	case dipRole:
		b.dip(g, hub)
	case lightsRole:
		b.lights(g, hub)
	case clutchRole:
		b.clutch(g, hub)
	case hazardRole:
		b.hazard(g, hub)
	case startRole:
		b.start(g, hub)
	default:
		b.plain(g, hub)
	}
}

// hub is the common of a group: the one that the form names, else the one end
// that is joined to most, most often. Ends that could be exchanged with it are
// given as alike; no hub and nothing alike is a group with no common.
func (b *builder) hub(g *group) (hub mapping.EndID, alike []mapping.EndID) {
	busiest := g.busiest()
	if _, c, ok := standards.FormOf(g.nets(), g.sw.Index(g.sw.Rest)); ok && c != "" {
		busiest = []mapping.EndID{c}
	}
	if twins := g.twins(busiest[0]); len(twins) > 0 {
		return "", append([]mapping.EndID{busiest[0]}, twins...)
	}
	if len(busiest) > 1 {
		return "", nil
	}
	return busiest[0], nil
}

// busiest lists the ends with the most partners, counted over the positions.
func (g *group) busiest() []mapping.EndID {
	var best []mapping.EndID
	most := 0
	positions := g.nets()
	for _, e := range g.ends {
		n := 0
		for _, nets := range positions {
			for _, net := range nets {
				if slices.Contains(net, e) {
					n += len(net) - 1
				}
			}
		}
		switch {
		case n > most:
			best, most = []mapping.EndID{e}, n
		case n == most:
			best = append(best, e)
		}
	}
	return best
}

// with lists the positions in which two ends share a net of the group, through
// whatever other ends.
func (g *group) with(x, y mapping.EndID) []mapping.PositionID {
	var out []mapping.PositionID
	for i, nets := range g.nets() {
		if slices.ContainsFunc(nets, func(net []mapping.EndID) bool { return slices.Contains(net, x) && slices.Contains(net, y) }) {
			out = append(out, g.sw.Positions[i])
		}
	}
	return out
}

// twins lists the ends that could be exchanged with an end without any position
// of the switch joining anything else: from outside the two are the same.
func (g *group) twins(end mapping.EndID) []mapping.EndID {
	if end == "" {
		return nil
	}
	var out []mapping.EndID
	positions := g.nets()
	for _, e := range g.ends {
		if e != end && !slices.ContainsFunc(positions, func(nets [][]mapping.EndID) bool { return !exchangeable(nets, end, e) }) {
			out = append(out, e)
		}
	}
	return out
}

// exchangeable tells whether two ends share a net, or each stands alone.
func exchangeable(nets [][]mapping.EndID, x, y mapping.EndID) bool {
	for _, net := range nets {
		if slices.Contains(net, x) != slices.Contains(net, y) && len(net) > 1 {
			return false
		}
	}
	return true
}

// mostShared is the one end of a list with a part in the most contacts, or none.
func mostShared(ends []mapping.EndID, shared map[mapping.EndID]int) mapping.EndID {
	best, tie := ends[0], false
	for _, e := range ends[1:] {
		switch {
		case shared[e] > shared[best]:
			best, tie = e, false
		case shared[e] == shared[best]:
			tie = true
		}
	}
	if tie {
		return ""
	}
	return best
}

// alike claims a group of which several ends could be the common.
func (b *builder) alike(g *group, alike []mapping.EndID) {
	what, number, do := "", "", "choose one of them as the feed: they are the same to the switch"
	switch g.role {
	case lightsRole:
		what, number = "lights feed, or the lamps that burn first", "58"
	case hazardRole:
		what = "hazard: flasher output 49a, or the indicators of one side"
	default:
		b.plain(g, "")
		return
	}
	for _, e := range g.ends {
		if slices.Contains(alike, e) {
			b.claim(e, claim{
				sw: g.sw.Name, function: what + ", alike with " + b.others(alike, e), terminal: number, side: either, cap: mapping.Proved,
				grade: g.grade(e), says: Harmless, do: do,
			})
			continue
		}
		if g.role == hazardRole {
			b.hazardSide(g, e)
			continue
		}
		c := b.lamp(g.with(alike[0], e), false)
		c.sw, c.grade = g.sw.Name, g.grade(e)
		b.claim(e, c)
	}
}

// spokes calls f for each end but the hub, with the positions in which it is
// joined to the hub.
func (g *group) spokes(hub mapping.EndID, f func(e mapping.EndID, at []mapping.PositionID)) {
	for _, e := range g.ends {
		if e != hub {
			f(e, g.with(hub, e))
		}
	}
}

func (b *builder) turn(g *group, hub mapping.EndID) {
	inverted := false
	g.spokes(hub, func(e mapping.EndID, at []mapping.PositionID) { inverted = inverted || slices.Contains(at, g.sw.Rest) })
	word, num := "indicators", ""
	b.claim(hub, claim{sw: g.sw.Name, function: "turn switch common, from the flasher" + b.needs(g), terminal: "49a", side: common, cap: mapping.Proved, grade: g.grade("")})
	if inverted {
		// Running lamps that drop out on the side in use.
		last := &b.claims[hub][len(b.claims[hub])-1]
		last.function, last.terminal, last.cap = "running lamps feed, through the turn switch", "58", mapping.Likely
		word, num = "running lamp", "58"
	}
	g.spokes(hub, func(e mapping.EndID, at []mapping.PositionID) {
		if inverted {
			at = missing(g.sw, at)
		}
		c := claim{sw: g.sw.Name, side: output, cap: mapping.Proved, grade: g.grade(e)}
		left, right := says(at, leftWords), says(at, rightWords)
		switch {
		case left && !right:
			c.function, c.terminal = "left "+word, num+"L"
		case right && !left:
			c.function, c.terminal = "right "+word, num+"R"
		default:
			c.function, c.cap, c.says = word+" of one side", mapping.OpenQuestion, Matters
			c.do = fmt.Sprintf("push the lever towards the left grip end and see whether %s joins %s", b.id(e), b.id(hub))
		}
		if inverted && c.terminal != "" {
			c.function += " (out while that side flashes)"
		}
		b.claim(e, c)
	})
}

func missing(sw mapping.Switch, at []mapping.PositionID) []mapping.PositionID {
	var out []mapping.PositionID
	for _, q := range sw.Positions {
		if !slices.Contains(at, q) {
			out = append(out, q)
		}
	}
	return out
}

const beamDo = "no legend says which: choose, and check at the lamp, where main lies higher"

func (b *builder) beam(at []mapping.PositionID) claim {
	main, low := says(at, mainWords), says(at, lowWords)
	switch {
	case main && !low:
		return claim{function: "main beam", terminal: "56a", side: output, cap: mapping.Proved}
	case low && !main:
		return claim{function: "dipped beam", terminal: "56b", side: output, cap: mapping.Proved}
	}
	return claim{function: "main or dipped beam", terminal: "56a/56b", side: output, cap: mapping.Likely, says: Harmless, do: beamDo}
}

func (b *builder) dip(g *group, hub mapping.EndID) {
	c := claim{sw: g.sw.Name, function: "dip switch common, headlamp feed", terminal: "56", side: common, cap: mapping.Proved, grade: g.grade("")}
	if len(g.deep) > 0 {
		// The true 56 is a junction inside, between two switches.
		c.function, c.terminal, c.side, c.late = "headlamp feed"+b.needs(g)+", 56 itself having no wire", "", feed, true
	}
	b.claim(hub, c)
	g.spokes(hub, func(e mapping.EndID, at []mapping.PositionID) {
		c := b.beam(at)
		c.sw, c.grade = g.sw.Name, g.grade(e)
		c.function += b.needs(g)
		b.claim(e, c)
	})
}

func (b *builder) lights(g *group, hub mapping.EndID) {
	b.claim(hub, claim{sw: g.sw.Name, function: "lights feed, from 15 or 30", side: feed, cap: mapping.Likely, grade: g.grade("")})
	most := 0
	g.spokes(hub, func(e mapping.EndID, at []mapping.PositionID) { most = max(most, len(at)) })
	g.spokes(hub, func(e mapping.EndID, at []mapping.PositionID) {
		c := b.lamp(at, len(at) == most)
		c.sw, c.grade = g.sw.Name, g.grade(e)
		b.claim(e, c)
	})
}

// lamp names an output of a lights switch: what burns from park on is 58, what
// is added with the head position is 56.
func (b *builder) lamp(at []mapping.PositionID, longest bool) claim {
	switch {
	case says(at, parkWords):
		return claim{function: "tail and side lamps", terminal: "58", side: output, cap: mapping.Proved}
	case says(at, headWords) && !longest:
		return claim{function: "headlamp feed", terminal: "56", side: output, cap: mapping.Proved}
	case longest:
		return claim{function: "lamps that burn first: tail and side", terminal: "58", side: output, cap: mapping.Likely}
	}
	return claim{function: "lamps that come on last: headlamp feed", terminal: "56", side: output, cap: mapping.Likely}
}

func (b *builder) clutch(g *group, hub mapping.EndID) {
	b.claim(hub, claim{sw: g.sw.Name, function: "clutch switch common", side: common, cap: mapping.Proved, grade: g.grade("")})
	g.spokes(hub, func(e mapping.EndID, at []mapping.PositionID) {
		c := claim{sw: g.sw.Name, function: "clutch switch, closed when pulled (make)", side: output, cap: mapping.Proved, grade: g.grade(e)}
		if slices.Contains(at, g.sw.Rest) {
			c.function = "clutch switch, closed at rest (break)"
		}
		b.claim(e, c)
	})
}

// start is a start button with a shared feed that also cuts the headlamp.
func (b *builder) start(g *group, hub mapping.EndID) {
	b.claim(hub, claim{sw: g.sw.Name, function: "feed of the start button", side: feed, cap: mapping.Likely, grade: g.grade("")})
	g.spokes(hub, func(e mapping.EndID, at []mapping.PositionID) {
		c := claim{sw: g.sw.Name, function: "starter relay" + b.needs(g), terminal: "50", side: output, cap: mapping.Likely, grade: g.grade(e)}
		if slices.Contains(at, g.sw.Rest) {
			c.function, c.terminal = "headlamp, cut while starting", "56"
		}
		b.claim(e, c)
	})
}
