package plan

import (
	"fmt"
	"slices"
	"strings"
)

// smell answers for heat: nothing is measured before the current is off.
func (r *road) smell() []string {
	if !r.said.says("smell", "smok", "burning", "melt", "on fire") {
		return nil
	}
	path := r.supply()
	return five(fmt.Sprintf("at once: stop, key off, main fuse out (%s A), or battery minus off; nothing back in before the place is found", trim(r.p.Supply.MainFuse)),
		"feel every plug, relay and fuse for the hottest one: brown or soft is the place, and begin with those of the most current, charging and headlamp",
		r.wireTo(path, "block.15"),
		"all ways' fuses and the main fuse out: more than 10 k ohm from main.out to battery minus; less than 0.1 V across any join while it carries its current",
		"a hot plug is a bad crimp: renew both its terminals; a hot wire is a short behind a fuse that is too big: say fuse and its name")
}

// bulbsBlow answers for lamps that do not last.
func (r *road) bulbsBlow() []string {
	if !r.said.says("keep blow", "keeps blow", "lamps blow", "lights blow", "blow lamps", "blows lamps", "eats lamps", "lamps keep", "bulb keeps", "keep burning out", "keeps burning out") {
		return nil
	}
	earths := "each lamp's"
	if len(r.picked) > 0 {
		earths = r.earths(r.picked)
	}
	return r.tooMuch("", "; volts good: a loose earth ("+earths+") or a lamp that shakes, in its holder or bracket, breaks filaments; wrong volts or watts on the bulb does too")
}

// of gives the loads of a group.
func (r *road) of(groups ...Group) []int {
	var out []int
	for li, l := range r.n.loads {
		if l.load >= 0 && r.f.best[li] != nil && slices.Contains(groups, l.group) {
			out = append(out, li)
		}
	}
	return out
}

// sidesTied answers for indicators of both sides that work together.
func (r *road) sidesTied() []string {
	h := r.said
	lamps := r.of(Indicator)
	if !h.says("flash", "blink", "light up", "come on") || !h.says("all ", "both", "four", "left and right", "wrong side") || h.says("not flash", "dont flash", "wont flash", "not blink", "fast", "quick") ||
		len(lamps) == 0 || !slices.ContainsFunc(r.picked, func(li int) bool { return r.n.loads[li].group == Indicator }) {
		return nil
	}
	side := func(word string) []int {
		return slices.DeleteFunc(slices.Clone(lamps), func(li int) bool { return !slices.Contains(splitWords(r.n.loads[li].name), word) })
	}
	left, right := side("left"), side("right")
	if len(left) == 0 || len(right) == 0 {
		return nil
	}
	lNode, rNode := r.n.loads[left[0]].plus, r.n.loads[right[0]].plus
	feed, _ := r.route(left[0])
	var at [2]string
	for i, li := range []int{left[0], right[0]} {
		own, _ := r.route(li)
		_, at[i] = firstCavity(r.p, slices.DeleteFunc(own, func(x string) bool {
			node := r.n.node[r.n.at[x]]
			return node != lNode && node != rNode
		}))
		if at[i] == "" {
			at[i] = r.n.names[r.n.loads[li].plusP]
		}
	}
	ties := []string{}
	between := r.contactsWhere(func(c contact) bool { return c.a == lNode && c.b == rNode || c.a == rNode && c.b == lNode })
	if len(between) > 0 {
		ties = append(ties, "the contact "+r.doorsText(between)+" stays closed")
	}
	for _, d := range r.n.diodes {
		if d.a == lNode || d.a == rNode {
			ties = append(ties, fmt.Sprintf("diode %s lets current back: meter on diode test, 0.5 to 0.8 V one way, OL the other", d.name))
		}
	}
	for _, l := range r.n.loads {
		if l.plus == lNode && l.minus == rNode || l.plus == rNode && l.minus == lNode {
			ties = append(ties, l.name+" lies between both sides: LED lamps light through it, it wants two diodes and an earth")
		}
	}
	ties = append(ties, "the two wires touch, in a plug or chafed", "the lamps share an earth that is off ("+r.earths(lamps)+"), and current goes back through the other side")
	return five(r.fuseLine(left), fmt.Sprintf("left and right are tied: look at %s and %s", at[0], at[1]), r.wireTo(feed, at[0]),
		fmt.Sprintf("turn switch left: volts come and go at %s, and 0 V stays at %s", at[0], at[1]), "one after another: "+strings.Join(ties, "; "))
}

// blinks answers for indicators that flash fast, or stay lit.
func (r *road) blinks() []string {
	h := r.said
	lamps := slices.DeleteFunc(slices.Clone(r.picked), func(li int) bool { return r.n.loads[li].group != Indicator })
	fast := h.says("fast", "quick", "rapid", "hyper", "too often")
	still := h.says("not flash", "dont flash", "wont flash", "doesnt flash", "not blink", "dont blink", "wont blink", "doesnt blink", "without flash", "no flash", "solid", "stay lit", "stays lit", "flash slow", "flashes slow", "blink slow")
	if len(lamps) == 0 || !fast && !still {
		return nil
	}
	feed, _ := r.route(lamps[0])
	set, _ := r.toWork(lamps[0])
	volts, lost := r.healthy(lamps[0])
	var flasher string
	for _, g := range r.n.gates {
		if g.kind == blinks {
			flasher = g.name
		}
	}
	watts := 0.0
	var plugs []string
	for _, li := range lamps {
		own, _ := r.route(li)
		_, cavity := r.lastCavity(own)
		if cavity != "" {
			plugs = append(plugs, r.n.loads[li].name+" "+cavity)
		}
		watts = max(watts, r.n.loads[li].nominal*r.p.Volts)
	}
	bulb := fmt.Sprintf("%s W each in the plan", trim(round(watts, 0)))
	load := "LED lamps draw less than a flasher for bulbs waits for: a flasher made for LED, or a load resistor on each side, mounted on metal as it gets hot"
	if fast {
		at := r.n.names[r.n.loads[lamps[0]].plusP]
		return five(r.fuseLine(lamps)+"; it is good, they flash", "of each lamp: "+strings.Join(plugs, ", "), r.wireTo(feed, at),
			fmt.Sprintf("at the lamp that stays dark volts come and go up to about %s V with %s, and less than %s V from its earth to battery minus", volts, set, lost),
			fmt.Sprintf("fast on one side: a lamp there is dark or wrong, its bulb (%s), its earth (%s) or its feed; fast on both sides: %s", bulb, strings.TrimPrefix(r.earths(lamps), "its earth: "), load))
	}
	if flasher == "" {
		return nil
	}
	out := flasher + ".49a"
	return five(r.fuseLine(lamps)+"; it is good, they light", "none: look at the flasher "+flasher+" itself", r.wireFrom(feed, out),
		fmt.Sprintf("steady %s V at %s.49, and at %s it comes and goes about 60 to 120 times a minute with %s", r.volts(12), flasher, out, set),
		fmt.Sprintf("steady at %s: the flasher, its contact stays closed, or too little load (bulbs %s): %s; low battery volts slow it; a flasher with 31 wants less than %s V from there to battery minus", out, bulb, load, r.volts(0.2)))
}

// sags answers for a load that suffers when another works: they share a bad join.
func (r *road) sags() []string {
	h := string(r.said)
	var before, after string
	for _, w := range []string{" when ", " while ", " as soon as "} {
		if i := strings.Index(h, w); i >= 0 {
			before, after = h[:i+1], h[i+len(w)-1:]
		}
	}
	if after == "" || !heardOf(before).says("goes out", "go out", "goes off", "dim", "flicker", "cuts out", "weak", "dies", "drops", "dips", "dark", "stops") {
		return nil
	}
	mine, _ := r.pick(heardOf(before))
	other, _ := r.pick(heardOf(after))
	fed := func(li int) bool {
		return r.f.best[li] == nil || slices.Contains(mine, li) && slices.Contains(other, li)
	}
	mine, other = slices.DeleteFunc(mine, fed), slices.DeleteFunc(other, fed)
	if len(mine) == 0 || len(other) == 0 {
		return nil
	}
	feed, back := r.route(mine[0])
	otherFeed, otherBack := r.route(other[0])
	both := func(a, b []string) []string {
		return slices.DeleteFunc(slices.Clone(a), func(x string) bool { return !slices.Contains(b, x) })
	}
	shared, earth := both(feed, otherFeed), both(back, otherBack)
	if len(shared) == 0 {
		shared = r.supply()
	}
	pl, cavity := r.lastCavity(feed)
	l := r.n.loads[mine[0]]
	return five(r.fuseLine(mine)+"; it is good, it works by itself", r.plugLine(pl, cavity)+"; earths: "+r.earthOf(mine[0])+", and of "+r.names(other[:1])+" "+r.earthOf(other[0]), r.wireTo(feed, cavity),
		fmt.Sprintf("measure while %s works: less than %s V from %s to battery minus, and less than %s V from battery plus to %s", r.names(other), r.volts(0.3), r.n.names[l.minusP], r.volts(0.6), r.n.names[l.plusP]),
		fmt.Sprintf("the earth rises: their common earth is loose, %s; the feed sags: a join on %s; both good and the lugs drop too, the battery; if it lights backwards, a lamp with two filaments has lost its earth", strings.Join(earth, " > "), strings.Join(shared, " > ")))
}

// wiggle answers for what comes and goes: with the bars, with water, with bumps.
func (r *road) wiggle() []string {
	h := r.said
	bars := h.says("full lock", "lock to lock", "steering", "turn the bars", "turning the bars", "turn bars", "bars turned", "handlebar")
	wet := h.says("rain", "wet", "wash", "water", "damp", "puddle")
	if !bars && !wet && !h.says("cuts out", "cut out", "intermittent", "now and then", "sometimes", "bump", "vibrat", "comes and goes", "on and off", "flicker") || strings.Contains(string(h), " when ") && !bars && !wet && r.sags() != nil {
		return nil
	}
	picked := r.picked
	if len(picked) == 0 {
		picked = r.of(Ignition)
	}
	if len(picked) == 0 {
		picked = r.of(Headlamp, Clocks, Rear, Horn, Indicator)
	}
	if len(picked) == 0 {
		return nil
	}
	feed, back := r.route(picked[0])
	path := slices.Concat(r.wholeWay(picked[0]), r.supply())
	for _, relay := range r.relaysOn(path) {
		path = append(path, r.coilWay(relay)...)
	}
	var all, near []string
	for _, pl := range r.p.Plugs {
		if !slices.ContainsFunc(path, func(at string) bool { return strings.HasPrefix(at, pl.Name+".") }) {
			continue
		}
		all = append(all, fmt.Sprintf("%s (%s)", pl.Name, whereIs(pl)))
		if slices.ContainsFunc([]string{"head", "stem", "steer", "yoke"}, func(w string) bool { return strings.Contains(strings.ToLower(pl.Place), w) }) {
			near = append(near, all[len(all)-1])
		}
	}
	if bars && len(near) > 0 {
		all = near
	}
	if len(all) == 0 {
		all = []string{"none on the way"}
	}
	_, at := r.lastCavity(feed)
	if at == "" {
		at = feed[len(feed)-1]
	}
	volts, _ := r.healthy(picked[0])
	set, _ := r.toWork(picked[0])
	do, next := "pull at each wire and tap each plug", "the wire or plug at which it drops: a broken crimp or strand, look within a hand's width of the plug"
	switch {
	case bars:
		do, next = "turn the bars from lock to lock, then pull at each wire by the steering head", "it drops at one place: strands broken at the steering head or a wire that is too short, pinched or pulled out of its crimp; renew the wire, no splice where it bends"
	case wet:
		do, next = "spray a little water at one plug after another", "water in that plug: dry it, green or white terminals are renewed, seals and blanking plugs in every cavity, and a loop below it for the water to drip off; the lever switches and the spark plug's cap are next"
	}
	return five(r.fuseLine(picked), strings.Join(all, ", "), r.wireTo(feed, at), fmt.Sprintf("about %s V at %s with %s, and it stays while you %s", volts, at, set, do), next+"; its earth as well: "+strings.Join(back, " > "))
}
