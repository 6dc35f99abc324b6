package plan

import (
	"fmt"
	"slices"
	"strings"
)

// toWork names how key and levers stand for a load to work, those that work its relays
// included, and the relays on its way, the one nearest the battery first.
func (f *facts) toWork(li int) (set string, relays []string) {
	n := f.n
	s := newState(n)
	copy(s.set, f.best[li])
	n.eval(s)
	paths := [][]string{f.path(li)}
	ways := f.ways[li]
	for i := 0; i < len(paths); i++ {
		for _, at := range paths[i] {
			name, _, _ := strings.Cut(at, ".")
			coil := f.coil(name)
			if coil < 0 || slices.Contains(relays, name) || !s.fed(n.loads[coil]) {
				continue
			}
			relays = append(relays, name)
			ways |= f.ways[coil]
			paths = append(paths, n.feedPath(s, n.loads[coil]))
		}
	}
	set = f.levers(li, paths...)
	if n.keyIn(set) || set != "" && !f.ignition(ways) {
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
func (f *facts) silentRelay(li int, relay string) string {
	n := f.n
	s := newState(n)
	copy(s.set, f.best[li])
	n.eval(s)
	path := n.feedPath(s, n.loads[f.coil(relay)])
	return fmt.Sprintf("if relay %s does not click, its coil wants %s V across 86 and 85, fed along %s", relay, trim(n.plan.Volts), strings.Join(path, " > "))
}

// staysOn answers for what works unasked: a contact, a relay or a chafed wire.
func staysOn(p *Plan, n *network, f *facts, picked []int) []string {
	li := picked[0]
	feed, back := f.route(li)
	set, relays := f.toWork(li)
	plug, cavity := lastCavity(p, feed)
	before, behind := p.podsOn(feed), p.podsOn(back)
	out := []string{"Fuse: " + fuseLine(p, f, picked) + "; pull it if that saves battery or brakes"}
	at := feed[len(feed)-1]
	if cavity == "" {
		out = append(out, "Plug: none on the way to "+n.loads[li].name+"; look at its own terminals")
	} else {
		at = cavity
		out = append(out, fmt.Sprintf("Plug: %s (%s), cavity %s counted from the %s of the loom half", plug.Name, whereIs(plug), cavity, plug.Face))
	}
	expect := fmt.Sprintf("0 V at %s then, and if not, it is fed from elsewhere", at)
	if len(before) == 0 && len(relays) == 0 && len(behind) > 0 { // it is switched on its earth side
		expect = fmt.Sprintf("fuse out, OL from %s to battery minus then", n.names[n.loads[li].minusP])
	}
	out = append(out, "Wire: "+wireFrom(p, feed, cavity), fmt.Sprintf("Expect: it works with %s and not otherwise: %s", set, expect))
	var next []string
	for _, r := range relays {
		next = append(next, fmt.Sprintf("pull relay %s: off now, its contact is welded or its coil still fed", r))
	}
	for _, pod := range slices.Concat(before, behind) {
		next = append(next, fmt.Sprintf("unplug %s: off now, its contact stays closed", pod))
	}
	next = append(next, "still on: a wire chafed through to a live one, or on its earth side to metal")
	return append(out, "Next: "+strings.Join(next, "; "))
}

// podsOn names the pods that a path goes through.
func (p *Plan) podsOn(path []string) []string {
	var out []string
	for _, at := range path {
		name, _, _ := strings.Cut(at, ".")
		if slices.ContainsFunc(p.Pods, func(x Pod) bool { return x.Name == name }) && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// fuseNamed is the way whose fuse a symptom says has blown: by its name, or that of what
// is meant by the rest; -1 for the main fuse.
func fuseNamed(p *Plan, f *facts, text string, picked []int) (way int, ok bool) {
	if !hasAny(text, "blow", "blew") {
		return 0, false
	}
	words := splitWords(text)
	for i, w := range p.Block.Ways {
		if slices.Contains(words, strings.ToLower(w.Name)) {
			return i, true
		}
	}
	if !slices.ContainsFunc(words, func(w string) bool { return alike(w, "fuse") }) {
		return 0, false // a lamp that has blown
	}
	for _, li := range picked {
		for i := range p.Block.Ways {
			if f.ways[li]>>i&1 == 1 && !slices.Contains(words, "main") {
				return i, true
			}
		}
	}
	return -1, true
}

// blows answers for a fuse that has blown.
func blows(p *Plan, n *network, f *facts, way int) []string {
	if way < 0 {
		fuse, _ := FuseOf(p.Supply.MainFuse)
		return []string{
			fmt.Sprintf("Fuse: main, %s A %s: never a bigger one, never foil", trim(p.Supply.MainFuse), fuse.Colour),
			"Plug: unplug every module; put the ways' fuses in one by one, the key off first",
			"Wire: " + wireFrom(p, n.path(n.restState(), "battery.+", "main.in"), "main.in"),
			"Expect: with all ways' fuses out, more than 10 k ohm from main.out to battery minus, battery off",
			"Next: less than that, the short is between main fuse and block; else in the way whose fuse brings it back",
		}
	}
	w := p.Block.Ways[way]
	var plugs []string
	for _, pl := range p.Plugs {
		for c := 1; c <= pl.Cavities; c++ {
			if i, ok := n.at[pl.Name+"."+itoa(c)]; ok && f.reach[way][n.node[i]] {
				plugs = append(plugs, fmt.Sprintf("%s (%s)", pl.Name, whereIs(pl)))
				break
			}
		}
	}
	fuse, _ := FuseOf(w.Fuse)
	first := "none: it hangs on the block"
	for _, x := range p.Wires {
		if x.From == w.Name || x.To == w.Name {
			first = fmt.Sprintf("%s, %s, %s mm2, from %s to %s", x.Name, x.code(), trim(x.MM2), x.From, x.To)
			break
		}
	}
	split := "none behind it"
	if len(plugs) > 0 {
		split = "unplug one after another: " + strings.Join(plugs, ", ")
	}
	return []string{
		fmt.Sprintf("Fuse: %s, %s A %s%s: never a bigger one, never foil; it feeds %s", w.Name, trim(w.Fuse), fuse.Colour, place(p), strings.Join(f.loadsOf[way], ", ")),
		"Plug: " + split,
		"Wire: " + first,
		fmt.Sprintf("Expect: fuse out, key off, OL from %s to battery minus with all of that unplugged, in every lever position", w.Name),
		"Next: the plug that takes the short away has it on its far side; a short in one lever position only lies behind that contact; none at all, a load draws too much: put them back one by one",
	}
}

// notCharged answers for a battery that is not charged, or goes flat.
func notCharged(p *Plan, n *network) []string {
	if p.Supply.AlternatorWatts == 0 {
		return []string{"Fuse: main, " + trim(p.Supply.MainFuse) + " A", "Plug: none", "Wire: none", "Expect: 12.4 V or more at the lugs at rest", "Next: the plan has no alternator, the battery alone feeds everything: charge it"}
	}
	path := n.path(n.restState(), "alternator.+", "battery.+")
	plug, cavity := lastCavity(p, path)
	plugLine := "Plug: none between regulator and battery; look at the regulator's own"
	if cavity != "" {
		plugLine = fmt.Sprintf("Plug: %s (%s), cavity %s counted from the %s of the loom half: brown or soft means a bad crimp", plug.Name, whereIs(plug), cavity, plug.Face)
	}
	var always []string
	for _, l := range p.Loads {
		if l.Always {
			always = append(always, l.Name)
		}
	}
	flat := "nothing is meant to draw with the key off: more than 1 mA there (5 with a clock or alarm) empties it, find the way by pulling fuses"
	if len(always) > 0 {
		flat = "with the key off only " + strings.Join(always, ", ") + " may draw: more than that empties it, find the way by pulling fuses"
	}
	fuse, _ := FuseOf(p.Supply.ChargeFuse)
	return []string{
		fmt.Sprintf("Fuse: charging, %s A %s, %s mm from battery plus", trim(p.Supply.ChargeFuse), fuse.Colour, trim(p.Supply.ChargeFuseMM)),
		plugLine,
		"Wire: " + wireFrom(p, path, cavity),
		"Expect: 12.4 V or more at the lugs at rest, 13.5 to 14.5 V at a fast idle, within 0.3 V of that at alternator.+",
		"Next: more at alternator.+ than at the lugs, go along " + strings.Join(path, " > ") + "; low at both, regulator or alternator and the earth alternator.- to battery.-; good at both, " + flat,
	}
}
