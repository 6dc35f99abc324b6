package pinout

import (
	"slices"

	"bellout/mapping"
)

// key claims the contacts of an ignition barrel, which has several groups with
// nothing in common: the supply, the lamps, and a wire that stops the engine by
// going to earth.
func (b *builder) key(g *group) {
	metal := slices.IndexFunc(g.ends, b.metal)
	if metal >= 0 {
		b.keyToMetal(g, g.ends[metal])
		return
	}
	if len(g.ends) == 2 {
		x, y := g.ends[0], g.ends[1]
		at := g.at(x, y)
		if says(at, parkWords) && !says(at, runWords) {
			b.isolated(g, x, y, "parking lamps, through the key", "57a")
			return
		}
		b.isolated(g, x, y, "key contact, closed at "+b.positions(at), "15")
		b.soften(x, y, Matters, "one of them is 30 (battery), the other 15: choose, unless the barrel is marked")
		return
	}
	busiest := g.busiest()
	if twins := g.twins(busiest[0]); len(twins) > 0 {
		b.keyAlike(g, append([]mapping.EndID{busiest[0]}, twins...))
		return
	}
	if len(busiest) != 1 {
		b.keyUnsettled(g, busiest)
		return
	}
	hub := busiest[0]
	b.claim(hub, claim{sw: g.sw.Name, function: "battery feed of the key", terminal: "30", side: feed, cap: mapping.Likely, grade: g.grade("")})
	for _, e := range g.ends {
		if e == hub {
			continue
		}
		at := g.with(hub, e)
		c := claim{sw: g.sw.Name, side: output, cap: mapping.Likely, grade: g.grade(e)}
		run, park := says(at, runWords), says(at, parkWords)
		switch {
		case len(at) == 0:
			c.function, c.terminal, c.side = "lamps in, from the lights switch; reaches "+b.partners(g, e)+" at "+b.positions(b.partnerAt(g, e)), "58", feed
		case run && !park:
			c.function, c.terminal = "ignition supply, on with the key", "15"
		case park && !run:
			c.function, c.terminal = "tail and side lamps, on in park", "58"
		default:
			c.function = "on with the key at " + b.positions(at)
			c.cap, c.says, c.do = mapping.OpenQuestion, Matters, "say what is to work in those positions"
		}
		b.claim(e, c)
	}
}

const liveDo = "look which wire of the bike's half of the plug is live with the key out (DC volts): that one is 30"

// keyAlike is a barrel in which several ends could be exchanged.
func (b *builder) keyAlike(g *group, alike []mapping.EndID) {
	for _, e := range g.ends {
		c := claim{sw: g.sw.Name, side: output, cap: mapping.OpenQuestion, grade: g.grade(e), says: Matters, do: liveDo}
		c.function = "on with the key at " + b.positions(b.partnerAt(g, e))
		if slices.Contains(alike, e) {
			c.function = "30 from the battery, or what comes on first; alike with " + b.others(alike, e)
			c.side = feed
		}
		b.claim(e, c)
	}
}

// keyUnsettled is a barrel whose contacts look the same from several ends: the
// contacts cannot say which of them is the battery's.
func (b *builder) keyUnsettled(g *group, busiest []mapping.EndID) {
	for _, e := range g.ends {
		c := claim{sw: g.sw.Name, side: feed, cap: mapping.OpenQuestion, grade: g.grade(e), says: Matters, do: liveDo}
		if slices.Contains(busiest, e) {
			c.function = "30 from the battery, or 58 to the tail and side lamps"
		} else {
			c.function = "15 to the ignition if its partner is 30, else 58 from the lights switch"
		}
		c.function += "; joins " + b.partners(g, e) + " at " + b.positions(b.partnerAt(g, e))
		b.claim(e, c)
	}
}

func (b *builder) keyToMetal(g *group, metal mapping.EndID) {
	for _, e := range g.ends {
		if e == metal {
			continue
		}
		at := g.with(metal, e)
		c := claim{sw: g.sw.Name, function: "earthed at " + b.positions(at), terminal: "31b", side: output, cap: mapping.Likely, grade: g.grade(e)}
		if says(at, offWords) && !says(at, runWords) {
			c.function, c.terminal = "stops the engine: earthed at "+b.positions(at), "2"
		}
		b.claim(e, c)
	}
}

// partners names the ends that a group joins to one directly.
func (b *builder) partners(g *group, e mapping.EndID) string {
	var net []mapping.EndID
	for _, o := range g.ends {
		if o != e && len(g.with(e, o)) > 0 {
			net = append(net, o)
		}
	}
	return b.others(net, e)
}

func (b *builder) partnerAt(g *group, e mapping.EndID) (out []mapping.PositionID) {
	for _, q := range g.sw.Positions {
		if slices.ContainsFunc(g.ends, func(o mapping.EndID) bool { return o != e && slices.Contains(g.with(e, o), q) }) {
			out = append(out, q)
		}
	}
	return out
}
