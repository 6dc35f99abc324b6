package plan

import (
	"fmt"
	"slices"
	"strings"

	"bellout/mapping"
)

// road is a symptom held against a plan.
type road struct {
	p      *Plan
	n      *network
	f      *facts
	said   heardOf
	picked []int // loads that are meant and that something feeds
	magnet int   // the ignition that is meant and that nothing feeds, else -1
	fit    int   // how well the words fit what is meant
}

// Roadside answers a symptom ("left indicators dead") in five lines: fuse,
// plug and cavity, wire, what to expect there, what next. What the loads named
// have in common is looked at first. What is dangerous is asked about first,
// then what has its own words, and what is just dead last.
func Roadside(p Plan, symptom string) ([]string, error) {
	r := &road{p: &p, n: compile(&p, nil), said: hear(symptom), magnet: -1}
	r.f = gather(r.n)
	r.asMeant()
	all, fit := r.pick(r.said)
	for _, li := range all {
		if r.n.loads[li].stops {
			r.magnet = li
		} else {
			r.picked = append(r.picked, li)
		}
	}
	r.fit = fit
	for _, answer := range []func() []string{
		r.wontStop, r.smell, r.fuseNamed, r.bulbsBlow, r.charge, r.wiggle, r.everything, r.sidesTied, r.blinks, r.sags,
		r.interlock, r.staysOn, r.clicks, r.switchNamed, r.noSpark, r.lamps, r.dead,
	} {
		if lines := answer(); lines != nil {
			return lines, nil
		}
	}
	var names []string
	for _, l := range p.Loads {
		names = append(names, l.Name)
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("nothing can be said of %q: the plan has no load", mapping.Clean(symptom, mapping.MaxName))
	}
	return nil, fmt.Errorf("nothing in the plan is meant by %q: name one of %s, no charge, a fuse that blows, or everything", mapping.Clean(symptom, mapping.MaxName), strings.Join(names, ", "))
}

// five puts an answer under its headings.
func five(fuse, plug, wire, expect, next string) []string {
	return []string{"Fuse: " + fuse, "Plug: " + plug, "Wire: " + wire, "Expect: " + expect, "Next: " + next}
}

// volts scales a voltage of a 12 V machine to the plan's.
func (r *road) volts(at12 float64) string { return trim(r.p.at(at12)) }

// names lists the loads that are meant.
func (r *road) names(picked []int) string {
	names := make([]string, len(picked))
	for i, li := range picked {
		names[i] = r.n.loads[li].name
	}
	return strings.Join(names, ", ")
}

// common is the part of their feed that loads share; the first one's if they share none.
func (r *road) common(picked []int) []string {
	feed, _ := r.route(picked[0])
	common := slices.Clone(feed)
	for _, li := range picked[1:] {
		other, _ := r.route(li)
		common = slices.DeleteFunc(common, func(at string) bool { return !slices.Contains(other, at) })
	}
	if len(common) == 0 {
		return feed
	}
	return common
}

// healthy is what a load reads when it works: at its live side, and what its earth loses.
func (r *road) healthy(li int) (volts, lost string) {
	st, l := r.works(li), r.n.loads[li]
	fl := r.n.solve(st)
	a, b := fl.volts[l.plusP], fl.volts[l.minusP]
	return trim(round(max(a, b), 1)), trim(max(0.2, round(min(a, b)*1.25, 2)))
}

// dead answers for what does not work, or works weakly.
func (r *road) dead() []string {
	if len(r.picked) == 0 {
		return nil
	}
	cranks := ""
	if spark := slices.DeleteFunc(slices.Clone(r.picked), func(li int) bool { return r.n.loads[li].group != Ignition }); len(spark) > 0 && len(spark) < len(r.picked) {
		r.picked, cranks = spark, "; the starter does not turn: say starter dead"
	}
	li := r.picked[0]
	feed, back := r.route(li)
	common, names := r.common(r.picked), r.names(r.picked)
	set, relays := r.toWork(li)
	pl, cavity := r.lastCavity(common)
	at, plug := cavity, r.plugLine(pl, cavity)
	if cavity == "" {
		at = common[len(common)-1]
		plug = fmt.Sprintf("none on the way to %s; look at %s", names, r.ownPlace(at))
	}
	volts, lost := r.healthy(li)
	expect := fmt.Sprintf("about %s V at %s with %s, and less than %s V from the load's earth to battery minus", volts, at, set, lost)
	next := fmt.Sprintf("no volts there, go back along %s; volts there, %s itself or %s", strings.Join(tail(common, 4), " < "), names, r.earths(r.picked))
	next += r.diodeTests(feed, back)
	if len(relays) > 0 {
		next += "; " + r.silentRelay(relays[len(relays)-1])
	}
	switch {
	case r.n.loads[li].group == Motor:
		next += "; it waits for " + r.doorsText(r.doors(li).all())
	case r.said.says("dim", "weak", "faint", "feeble", "quiet"):
		l := r.n.loads[li]
		expect = fmt.Sprintf("while it works with %s, about %s V at %s, less than %s V from %s to battery minus and less than %s V from battery plus to %s", set, volts, at, lost, r.n.names[l.minusP], r.volts(0.6), r.n.names[l.plusP])
		next = fmt.Sprintf("dim is mostly earth: %s; then the crimps on %s%s", r.earths(r.picked), strings.Join(tail(common, 4), " < "), r.diodeTests(feed, back))
	}
	return five(r.fuseLine(r.picked), plug, r.wireTo(feed, at), expect, next+cranks)
}

// lamps answers for lamps on several ways that are out together: it is what they share.
func (r *road) lamps() []string {
	if r.fit != 1 || len(r.picked) < 2 || r.said.lasting() || r.said.says("dim", "weak", "faint") {
		return nil
	}
	up := r.supply()
	if up == nil {
		return nil
	}
	var pods, earths []string
	var contacts []int
	for i, li := range r.picked {
		contacts = append(contacts, r.doors(li).all()...)
		_, back := r.route(li)
		own := r.p.podsOn(r.wholeWay(li))
		if i == 0 {
			pods, earths = own, back
		}
		pods = slices.DeleteFunc(slices.Clone(pods), func(x string) bool { return !slices.Contains(own, x) })
		earths = slices.DeleteFunc(slices.Clone(earths), func(x string) bool { return !slices.Contains(back, x) })
	}
	earths = slices.DeleteFunc(earths, func(x string) bool { return x == "battery.-" })
	shared := "no switch and no plug, only the block"
	var plugs []string
	for _, pod := range pods {
		plugs = append(plugs, r.doorsText(slices.DeleteFunc(slices.Clone(contacts), func(ci int) bool { return r.p.Pods[r.n.contacts[ci].pod].Name != pod })))
	}
	if len(plugs) > 0 {
		shared = strings.Join(plugs, ", ")
	}
	earth := "no earth but battery minus"
	if len(earths) > 0 {
		earth = "the earth " + strings.Join(earths, " > ")
	}
	last := up[len(up)-1]
	return five(r.fuseLine(r.picked)+fmt.Sprintf("; all of them at once: the main fuse, %s A", trim(r.p.Supply.MainFuse)),
		"what all their feeds go through: "+shared,
		r.wireTo(up, last),
		fmt.Sprintf("%s V at %s with the key on, and less than %s V from their earths to battery minus", r.volts(12), last, r.volts(0.2)),
		fmt.Sprintf("other things work, so look at what the lamps share: %s, and %s; nothing works, go along %s", shared, earth, strings.Join(up, " > ")))
}

// noSpark answers for an ignition that makes its own current and does not.
func (r *road) noSpark() []string {
	if r.magnet < 0 {
		return nil
	}
	l := r.n.loads[r.magnet]
	stop := r.stopPath(r.magnet)
	pl, cavity := firstCavity(r.p, stop)
	at := cavity
	if at == "" {
		at = r.n.names[l.plusP]
	}
	switches := r.doorsText(r.stopDoors(r.magnet))
	return five("none: "+l.name+" makes its own current, and a wire at earth stops it",
		r.plugLine(pl, cavity), r.wireTo(reversed(stop), at),
		fmt.Sprintf("kill switch at run, %s unplugged: OL from its loom side to battery minus; less than 1 ohm means that the stop wire is at earth", at),
		fmt.Sprintf("spark with it unplugged: go along %s, first %s, then a chafed wire; none, %s itself, its earth %s, coil, cap and spark plug", strings.Join(stop, " > "), switches, l.name, r.earthOf(r.magnet)))
}
