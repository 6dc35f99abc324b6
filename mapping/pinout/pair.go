package pinout

import (
	"slices"

	"bellout/mapping"
	"bellout/mapping/standards"
)

// job is what a pair of a role is called: what is fed through it, the terminal
// of its output, and whether closing to earth is a thing for it.
type job struct {
	output   string // the end that the contact feeds
	number   string
	feed     string
	earth    string // to metal: the name of the other end
	earthNum string
}

// pairJobs is common practice; the terminal numbers are DIN 72552's. A horn has
// none that fits (71 is for tone sequences), nor has a clutch switch.
var pairJobs = map[role]job{
	hornRole:   {"horn", "", "horn feed", "horn return, earthed when pressed", "31b"},
	startRole:  {"starter relay", "50", "start feed", "starter relay return, earthed when pressed", "31b"},
	brakeRole:  {"front brake lamp", "54", "brake lamp feed, from 15", "brake switch, to earth", "31b"},
	clutchRole: {"clutch switch out", "", "clutch switch in", "clutch switch, to earth", "31b"},
	flashRole:  {"headlamp flash", "56a", "flash feed", "flash relay return, earthed when pressed", "31b"},
	lightsRole: {"lamps", "", "lights feed, from 15 or 30", "lamps return", "31b"},
	hazardRole: {"hazard", "", "hazard feed", "hazard, to earth", "31b"},
}

// pair claims the two ends of a contact that stands alone. Its ends are
// interchangeable unless one of them is metal or has a part in another contact.
func (b *builder) pair(g *group, shared map[mapping.EndID]int) {
	x, y := g.ends[0], g.ends[1]
	if b.extra(g) {
		b.second(g, x, y)
		return
	}
	if b.metal(x) {
		x, y = y, x
	}
	at := g.at(x, y)
	switch g.role {
	case killRole:
		b.kill(g, x, y, at, shared)
		return
	case noRole, keyRole:
		b.unknownPair(g, x, y, at)
		return
	case turnRole, dipRole:
		b.poles(g, x, y, at)
		return
	case hazardRole:
		if b.hazardPair(g, x, y) {
			return
		}
	case startRole:
		if slices.Contains(at, g.sw.Rest) {
			b.isolated(g, x, y, "headlamp, cut while starting", "56")
			return
		}
	}
	j := pairJobs[g.role]
	if g.role == lightsRole {
		c := b.lamp(at, true)
		j.output, j.number = c.function, c.terminal
		if !says(at, parkWords) {
			j.output, j.number = "lamps", ""
		}
	}
	need := b.needs(g)
	if b.metal(y) {
		b.claim(x, claim{sw: g.sw.Name, function: j.earth + need, terminal: j.earthNum, side: output, cap: mapping.Proved, grade: g.grade("")})
		return
	}
	feedEnd, outEnd, ok := b.sides(g, x, y, shared)
	if !ok {
		b.isolated(g, x, y, j.output+need, j.number)
		return
	}
	sure := mapping.Likely
	if b.has(outEnd, output) {
		sure = mapping.Proved // the other contact says that it is an output
	}
	b.claim(outEnd, claim{sw: g.sw.Name, function: j.output + need, terminal: j.number, side: output, cap: sure, grade: g.grade(""), late: need != ""})
	if !b.has(feedEnd, output) || g.role != flashRole {
		b.claim(feedEnd, claim{sw: g.sw.Name, function: j.feed, side: feed, cap: mapping.Likely, grade: g.grade("")})
	}
	if g.role == hornRole {
		b.hornOnFlasher(feedEnd)
	}
}

// sides tells feed from output where another contact settles it: a feed or a
// common elsewhere is the feed here; an output elsewhere is the output of a
// flash, and what lets through for anything else; else the end that has a part
// in more contacts is the feed.
func (b *builder) sides(g *group, x, y mapping.EndID, shared map[mapping.EndID]int) (feedEnd, outEnd mapping.EndID, ok bool) {
	if g.role == flashRole && b.has(x, output) != b.has(y, output) {
		if b.has(x, output) {
			return y, x, true
		}
		return x, y, true
	}
	source := func(e mapping.EndID) bool { return b.has(e, feed) || b.has(e, common) }
	switch {
	case source(x) && !source(y):
		return x, y, true
	case source(y) && !source(x):
		return y, x, true
	case shared[x] > shared[y]:
		return x, y, true
	case shared[y] > shared[x]:
		return y, x, true
	}
	return "", "", false
}

// has tells whether an end has a claim of a side already.
func (b *builder) has(e mapping.EndID, s side) bool {
	return slices.ContainsFunc(b.claims[e], func(c claim) bool { return c.side == s })
}

// isolated claims two interchangeable ends.
func (b *builder) isolated(g *group, x, y mapping.EndID, what, terminal string) {
	for _, e := range []mapping.EndID{x, y} {
		o := x
		if e == x {
			o = y
		}
		b.claim(e, claim{
			sw: g.sw.Name, function: what + ", pair with " + b.id(o), terminal: terminal, side: either, cap: mapping.Proved, grade: g.grade(""),
			says: Harmless, do: "feed either end, the other is the output",
		})
	}
}

// poles claims a pair of a turn or dip switch that has no common.
func (b *builder) poles(g *group, x, y mapping.EndID, at []mapping.PositionID) {
	if g.role == dipRole {
		c := b.beam(at)
		b.isolated(g, x, y, c.function+b.needs(g), c.terminal)
		if c.says != "" {
			b.soften(x, y, c.says, c.do)
		}
		return
	}
	what, number := "indicators of one side", ""
	left, right := says(at, leftWords), says(at, rightWords)
	switch {
	case left && !right:
		what, number = "left indicators", "L"
	case right && !left:
		what, number = "right indicators", "R"
	}
	if b.flashes(x) != b.flashes(y) {
		from, lamp := x, y
		if b.flashes(x) {
			from, lamp = y, x
		}
		b.claim(from, claim{sw: g.sw.Name, function: "turn switch feed, from the flasher" + b.needs(g), terminal: "49a", side: feed, cap: mapping.Likely, grade: g.grade("")})
		b.claim(lamp, claim{sw: g.sw.Name, function: what + b.needs(g), terminal: number, side: output, cap: mapping.Proved, grade: g.grade("")})
	} else {
		b.isolated(g, x, y, what+b.needs(g), number)
	}
	if number == "" {
		b.soften(x, y, Matters, "push the lever towards the left grip end and see whether "+b.id(x)+" joins "+b.id(y))
	}
}

// extra tells whether a pair stands beside the proper contact of its turn or
// dip switch, so that its purpose is anybody's guess.
func (b *builder) extra(g *group) bool {
	if g.role != turnRole && g.role != dipRole {
		return false
	}
	return slices.ContainsFunc(b.groups(), func(o *group) bool { return o.sw.Name == g.sw.Name && len(o.ends) > 2 })
}

// second claims such a pair by what it does alone.
func (b *builder) second(g *group, x, y mapping.EndID) {
	for _, e := range []mapping.EndID{x, y} {
		o := x
		if e == x {
			o = y
		}
		b.claim(e, claim{
			sw: g.sw.Name, function: "joined to " + b.id(o) + " at " + b.sw(g.sw.Name) + " " + b.positions(g.at(x, y)) + b.needs(g),
			side: generic, cap: mapping.OpenQuestion, grade: g.grade(""),
			says: Matters, do: "say what this second contact of " + b.sw(g.sw.Name) + " is for; if nothing, insulate the wire",
		})
	}
}

// nonsense warns of a contact that ties an output of one switch to something
// that has nothing to do with it: links that make no sense exist, and are read
// again before they are believed.
func (b *builder) nonsense(pairs []*group) {
	for _, g := range pairs {
		if !b.extra(g) {
			continue
		}
		x, y := g.ends[0], g.ends[1]
		if b.has(x, output) || b.has(y, output) || b.has(x, common) || b.has(y, common) {
			b.warn = append(b.warn, b.id(x)+" and "+b.id(y)+" are joined at "+b.sw(g.sw.Name)+" "+b.positions(g.at(x, y))+
				", which makes no sense for what else they do: read it again; if it stands, both are live together there.")
		}
	}
}

// soften puts a question on the claims made last on two ends.
func (b *builder) soften(x, y mapping.EndID, says, do string) {
	for _, e := range []mapping.EndID{x, y} {
		c := &b.claims[e][len(b.claims[e])-1]
		c.says, c.do, c.cap = says, do, mapping.OpenQuestion
	}
}

// kill claims the engine stop switch: supply type closes in RUN, earthing type
// closes in OFF. Which of the two the ignition needs is not the switch's to say.
func (b *builder) kill(g *group, x, y mapping.EndID, at []mapping.PositionID, shared map[mapping.EndID]int) {
	run, off := says(at, runWords), says(at, offWords)
	const do = "look up what this ignition unit needs; an earthing kill on a supply is a dead short in OFF"
	switch {
	case b.metal(y):
		b.claim(x, claim{sw: g.sw.Name, function: "kill wire, earthed at " + b.positions(at), terminal: "2", side: output, cap: mapping.Likely, grade: g.grade(""), says: Matters, do: do})
	case off && !run:
		b.isolated(g, x, y, "kill, earthing type: closed at "+b.positions(at), "2")
		b.soften(x, y, Matters, do)
	case run && !off:
		in, out := x, y
		switch {
		case shared[x] > shared[y]:
			in, out = y, x
		case shared[x] == shared[y]:
			b.isolated(g, x, y, "ignition supply through kill"+b.needs(g), "15")
			return
		}
		// What something else takes from is taken as the side that OFF cuts.
		b.claim(in, claim{sw: g.sw.Name, function: "kill in, from the ignition switch", terminal: "15", side: output, cap: mapping.Likely, grade: g.grade("")})
		b.claim(out, claim{sw: g.sw.Name, function: "kill out, to the ignition", terminal: "15", side: common, cap: mapping.Likely, grade: g.grade("")})
	default:
		b.isolated(g, x, y, "kill, closed at "+b.positions(at), "")
		b.soften(x, y, Matters, "say which position is RUN; then "+do)
	}
}

// unknownPair claims a contact whose switch is named in no known way.
func (b *builder) unknownPair(g *group, x, y mapping.EndID, at []mapping.PositionID) {
	what, number := b.called(g.sw.Name)+", closed at "+b.positions(at)+b.needs(g), "82"
	if f, _, ok := standards.FormOf(g.nets(), g.sw.Index(g.sw.Rest)); ok && f.Letter == "B" {
		number = "81"
	}
	do := "say what this switch does"
	if g.sw.Momentary {
		do = "say what this button is for: horn, flash, start and brake look alike"
	}
	for _, e := range []mapping.EndID{x, y} {
		if b.metal(e) {
			continue
		}
		b.claim(e, claim{sw: g.sw.Name, function: what, terminal: number, side: generic, cap: mapping.OpenQuestion, grade: g.grade(""), says: Matters, do: do})
	}
}

// hornOnFlasher warns of a horn that takes its feed behind the flasher.
func (b *builder) hornOnFlasher(e mapping.EndID) {
	for _, c := range b.claims[e] {
		if c.terminal == "49a" {
			b.warn = append(b.warn, b.id(e)+" feeds the horn and is the flasher's output as well: the contacts say so, and the horn would sound only while the flasher passes current. Read it again; if it stands, feed the horn by a relay.")
		}
	}
}
