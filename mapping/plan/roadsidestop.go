package plan

import (
	"fmt"
	"slices"
	"strings"
)

// stallIt is what to do at once when an engine runs on.
const stallIt = "at once: stall it, in gear with the brake on, and turn the fuel tap off; "

// wontStop answers for a starter or an engine that does not stop: first how to stop it.
func (r *road) wontStop() []string {
	h := r.said
	endless := h.runsOn() || h.says(staying...)
	lamp := slices.ContainsFunc(r.picked, func(li int) bool { return r.n.loads[li].group != Ignition })
	engine := h.engine() && !h.starter() && (h.runsOn() || h.says(staying...) && (!lamp || h.says("kill")))
	kill := h.says("kill") && h.says("nothing", "no effect", "not work", "doesnt work", "dont work", "not kill", "dead", "broken")
	var picked []int
	for li, l := range r.n.loads {
		if h.starter() && endless && (l.group == Motor || l.group == Start && l.load >= 0) || (engine || kill) && !h.starter() && l.group == Ignition {
			picked = append(picked, li)
		}
	}
	if len(picked) == 0 {
		return nil
	}
	for _, li := range picked {
		if r.n.loads[li].stops {
			return r.magnetRunsOn(li)
		}
	}
	picked = slices.DeleteFunc(picked, func(li int) bool { return r.f.best[li] == nil })
	switch {
	case len(picked) == 0:
		return nil
	case h.starter():
		return r.starterRunsOn(picked[0])
	}
	return r.engineRunsOn(picked)
}

// engineRunsOn answers for an ignition that stays fed.
func (r *road) engineRunsOn(picked []int) []string {
	li := picked[0]
	feed, _ := r.route(li)
	d := r.doors(li)
	stops, what := r.stopping(d.all()), "kill switch"
	if key := r.contactsWhere(func(c contact) bool { return r.p.Pods[c.pod].Key != "" }); len(key) > 0 && r.said.says("key ", "ignition off", "ignition switch") {
		stops, what = key, "key"
	}
	behind := r.behindDoors(stops)
	_, cavity := r.lastCavity(feed)
	out, wire := cavity, r.wireTo(feed, cavity)
	pods := r.byPod(stops)
	for _, x := range pods { // the side of the contact that is dead when it is open
		for _, end := range x.ends {
			if i := slices.Index(feed, end); i >= 0 {
				out, wire = end, r.wireFrom(feed, end)
			}
		}
	}
	if out == "" {
		out = r.n.names[r.n.loads[li].plusP]
	}
	expect := fmt.Sprintf("%s off: 0 V at %s", what, out)
	next := []string{}
	for _, x := range pods {
		expect = fmt.Sprintf("%s off: OL between %s with the plug apart, and 0 V at %s with it together", what, strings.Join(x.ends, " and "), out)
		next = append(next, fmt.Sprintf("a beep there: the contact of %s stays closed; behind it hang %s", strings.Join(x.switches, ", "), behind))
	}
	next = append(next, "OL there and volts still: a wire chafed through to a live one on "+strings.Join(tail(feed, 4), " < "))
	for _, relay := range slices.Concat(d.relays, r.relaysOn(r.supply())) {
		next = append(next, fmt.Sprintf("pull relay %s: it stops, that contact is welded or its coil still fed", relay))
	}
	next = append(next, fmt.Sprintf("0 V at %s and it still runs: a glowing plug or soot fires it, not the wiring", out))
	return five(stallIt+"the spark stops with this fuse out: "+r.fuseLine(picked), "the contact of the "+what+", "+r.doorsText(stops), wire, expect, strings.Join(next, "; "))
}

// stopping picks the contacts that are there to stop an engine: the kill switch's, else the key's, else all.
func (r *road) stopping(contacts []int) []int {
	for _, wanted := range []func(ci int) bool{
		func(ci int) bool { return r.switchHas(ci, "kill", "run", "stop", "engine") },
		func(ci int) bool { return r.p.Pods[r.n.contacts[ci].pod].Key != "" },
	} {
		if got := slices.DeleteFunc(slices.Clone(contacts), func(ci int) bool { return !wanted(ci) }); len(got) > 0 {
			return got
		}
	}
	if key := r.contactsWhere(func(c contact) bool { return r.p.Pods[c.pod].Key != "" }); len(contacts) == 0 {
		return key
	}
	return contacts
}

// switchHas tells whether a switch that works a contact has one of some words in its name.
func (r *road) switchHas(ci int, words ...string) bool {
	return slices.ContainsFunc(r.n.contacts[ci].switches(), func(sw int) bool {
		return slices.ContainsFunc(splitWords(string(r.n.switches[sw].sw.Name)), func(w string) bool { return slices.Contains(words, w) })
	})
}

// behindDoors names the loads that some contacts are on the way of.
func (r *road) behindDoors(contacts []int) string {
	var out []string
	var supply []int // what lies before the block is before all that it feeds
	for _, relay := range r.relaysOn(r.supply()) {
		if coil := r.f.coil(relay); coil >= 0 {
			supply = append(supply, r.doors(coil).all()...)
		}
	}
	for li, l := range r.n.loads {
		if l.load < 0 {
			continue
		}
		own := r.stopDoors(li)
		if !l.stops {
			own = slices.Concat(r.doors(li).all(), supply)
		}
		if slices.ContainsFunc(own, func(ci int) bool { return slices.Contains(contacts, ci) }) {
			out = append(out, l.name)
		}
	}
	if len(out) == 0 {
		return "nothing"
	}
	return strings.Join(out, ", ")
}

// stopDoors are the contacts that bring an ignition's stop wire to earth.
func (r *road) stopDoors(li int) []int {
	if !r.n.loads[li].stops {
		return nil
	}
	contacts, _ := r.between(r.n.loads[li].plus, false)
	return contacts
}

// stopPath is the way of an ignition's stop wire to earth in a setting that stops it, else
// what is known of it: its own terminal.
func (r *road) stopPath(li int) []string {
	l := r.n.loads[li]
	own := r.n.names[l.plusP]
	out := []string{own}
	for _, g := range r.n.groups() {
		if r.n.count(g) > maxSettings || len(out) > 1 {
			continue
		}
		r.n.every(g, func(_ int, s *state) bool {
			if s.stopped(l) {
				out = r.n.path(s, own, "battery.-")
			}
			return len(out) <= 1
		})
	}
	if len(out) == 0 {
		return []string{own}
	}
	return out
}

// magnetRunsOn answers for an ignition whose stop wire does not reach earth.
func (r *road) magnetRunsOn(li int) []string {
	l := r.n.loads[li]
	path := r.stopPath(li)
	pl, cavity := firstCavity(r.p, path)
	at := cavity
	if at == "" {
		at = r.n.names[l.plusP]
	}
	contacts := r.stopDoors(li)
	plug := r.plugLine(pl, cavity)
	if len(contacts) > 0 {
		plug += "; kill contact " + r.doorsText(contacts)
	}
	return five(stallIt+"no fuse stops it, "+l.name+" makes its own current", plug, r.wireTo(path, at),
		fmt.Sprintf("engine still, kill switch off: less than 1 ohm from %s to battery minus and to the engine's metal; at run OL, with the ignition unplugged", at),
		fmt.Sprintf("more than 1 ohm: the stop wire does not reach earth, go along %s; to stop it meanwhile bridge %s to bare engine metal, the metal first as it bites; less than that and it runs: the ignition's own side, or its earth %s", strings.Join(path, " > "), at, r.earthOf(li)))
}

// starterRunsOn answers for a starter that keeps turning.
func (r *road) starterRunsOn(li int) []string {
	feed, _ := r.route(li)
	d := r.doors(li)
	relays := r.relaysOn(feed)
	fuse := "at once: battery minus off, a welded contact carries the whole battery and no fuse or key stops it; then " + r.fuseLine([]int{li})
	next := "nothing moves the pinion out: the starter itself; a chafed wire on " + strings.Join(tail(feed, 4), " < ")
	contacts := r.stopping(d.all())
	if start := slices.DeleteFunc(slices.Clone(d.all()), func(ci int) bool { return !r.switchHas(ci, "start", "starter", "crank") }); len(start) > 0 {
		contacts = start
	}
	plug := "start contact " + r.doorsText(contacts)
	if len(relays) == 0 {
		return five(fuse, plug, r.wireTo(feed, feed[len(feed)-1]), fmt.Sprintf("thick wire off the starter and clear of all metal, battery on, nothing pressed: 0 V at %s", feed[len(feed)-1]), next)
	}
	rs := relays[len(relays)-1]
	coil := r.coilWay(rs)
	wire := r.wireTo(coil, rs+".86")
	return five(fuse, plug, wire,
		fmt.Sprintf("battery off: OL from %s.30 to %s.87; then the thick wire off %s.87, battery on, key on, nothing pressed: 0 V across %s.86 and %s.85", rs, rs, rs, rs, rs),
		fmt.Sprintf("a beep from 30 to 87: relay %s is welded, renew it and look for the loose lug or flat battery that made it chatter; volts at the coil: take the plugs of %s apart, gone now, that contact stays closed, else a wire chafed through on %s; neither: %s", rs, r.doorsText(contacts), strings.Join(coil, " > "), next))
}
