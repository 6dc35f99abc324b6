package plan

import (
	"fmt"
	"slices"
	"strings"
)

// toWork names how key and levers stand for a load to work, those that work its relays
// included, and the relays on its way, the one nearest the battery first.
func (r *road) toWork(li int) (set string, relays []string) {
	s := r.works(li)
	feed, back := r.route(li)
	paths := [][]string{slices.Concat(feed, back)}
	ways := r.f.ways[li]
	for i := 0; i < len(paths); i++ {
		for _, name := range r.relaysOn(paths[i]) {
			coil := r.f.coil(name)
			if slices.Contains(relays, name) || !s.fed(r.n.loads[coil]) {
				continue
			}
			relays = append(relays, name)
			ways |= r.f.ways[coil]
			feed, back := r.n.wayOf(s, r.n.loads[coil])
			paths = append(paths, slices.Concat(feed, back))
		}
	}
	set = r.f.levers(li, paths...)
	if r.n.keyIn(set) || set != "" && !r.f.ignition(ways) {
		return set, relays
	}
	if set == "" {
		return "key on", relays
	}
	return "key on, " + set, relays
}

// keyIn tells whether a setting says how the ignition key stands.
func (n *network) keyIn(set string) bool {
	return slices.ContainsFunc(n.plan.Pods, func(p Pod) bool { return p.Key != "" && strings.Contains(set, p.Name+"."+p.Key+"=") })
}

// ignition tells whether any of some ways is dead while the key is off.
func (f *facts) ignition(ways uint64) bool {
	for i, w := range f.n.ways {
		if ways>>i&1 == 1 && f.n.plan.Block.Ways[w.way].Feed == FromIgnition {
			return true
		}
	}
	return false
}

// silentRelay says what a relay on a load's way wants where it does not click.
func (r *road) silentRelay(relay string) string {
	path := r.coilWay(relay)
	return fmt.Sprintf("if relay %s does not click, its coil wants %s V across 86 and 85, fed along %s", relay, trim(r.p.Volts), strings.Join(path, " > ")) + r.diodeTests(path)
}

// oilFirst comes before any meter: the lamp does not know why there is no pressure.
const oilFirst = "none at first: stop the engine and look at the oil level, no pressure looks the same; then "

// staysOn answers for what works unasked: a contact, a relay or a chafed wire.
func (r *road) staysOn() []string {
	if len(r.picked) == 0 || !r.said.lasting() {
		return nil
	}
	li := r.picked[0]
	l := r.n.loads[li]
	feed, back := r.route(li)
	set, _ := r.toWork(li)
	if works := r.p.Loads[l.load].Works; len(works) > 1 {
		set = strings.Join(works, ", or ")
	}
	d := r.doors(li)
	fuse := r.fuseLine(r.picked) + "; pull it if that saves battery or brakes"
	if l.group == Warning && slices.Contains(splitWords(l.name), "oil") {
		fuse = oilFirst + fuse
	}
	earthSide := len(d.feed) == 0 && len(d.relays) == 0 && len(d.back) > 0
	node, end, path := l.plus, l.plusP, feed
	if earthSide {
		node, end, path = l.minus, l.minusP, reversed(back)
	}
	at, plug := r.samePoint(node, end, r.p.Loads[l.load].Module)
	expect := fmt.Sprintf("it works with %s and not otherwise: 0 V at %s then, and if not, it is fed from elsewhere", set, at)
	if earthSide {
		expect = fmt.Sprintf("it works with %s and not otherwise: fuse out, OL from %s (red) to battery minus (black) then", set, at)
	}
	if r.f.ignition(r.f.ways[li]) && (len(d.all()) == 0 || r.said.says("key off", "ignition off", "switched off")) { // it is the key that should end it
		d.relays = append(d.relays, r.relaysOn(r.supply())...)
		d.coils = append(d.coils, r.contactsWhere(func(c contact) bool { return r.p.Pods[c.pod].Key != "" })...)
	}
	var next []string
	for _, relay := range d.relays {
		next = append(next, fmt.Sprintf("pull relay %s: off now, its contact is welded or its coil still fed", relay))
	}
	for _, x := range r.byPod(d.all()) {
		how := "unplug " + x.pod.Name
		if x.pod.Module == r.p.Loads[l.load].Module || !slices.ContainsFunc(r.p.Plugs, func(pl Plug) bool { return pl.Module == x.pod.Module }) {
			how = "take a wire off " + x.pod.Name
		}
		next = append(next, fmt.Sprintf("%s, %s: off now, its contact stays closed", how, x))
	}
	next = append(next, "still on: a wire chafed through to a live one, or on its earth side to metal")
	wire := r.wireAt(at)
	if wire == "" {
		wire = r.wireTo(path, at)
	}
	return five(fuse, plug, wire, expect, strings.Join(next, "; ")+r.diodeTests(feed, back))
}

// samePoint is a cavity of a module's plugs that a load's side hangs on with nothing in
// between, else the load's own terminal: what is measured there is what the load gets.
func (r *road) samePoint(node, end int, module string) (at, plugLine string) {
	for _, pl := range r.p.Plugs {
		for c := 1; c <= pl.Cavities && pl.Module == module; c++ {
			cavity := pl.Name + "." + itoa(c)
			if i, ok := r.n.at[cavity]; ok && r.n.node[i] == node && node != r.n.minus {
				return cavity, r.plugLine(pl, cavity)
			}
		}
	}
	at = r.n.names[end]
	return at, "none behind the last contact; look at " + at + " itself"
}

// wireAt names the loom's wire that ends at a cavity, "" if none does.
func (r *road) wireAt(cavity string) string {
	for _, w := range r.p.Wires {
		if (w.In == Loom || w.In == "") && (w.To == cavity || w.From == cavity) {
			return r.wireTo([]string{w.From, w.To}, w.To)
		}
	}
	return ""
}
