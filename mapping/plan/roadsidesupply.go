package plan

import (
	"fmt"
	"slices"
	"strings"
)

// supply is the path from the battery to the block, with the key on if a bus hangs on it.
func (r *road) supply() []string {
	for _, bus := range []string{"block.15", "block.30"} {
		for li := range r.n.loads {
			if r.f.best[li] == nil {
				continue
			}
			if path := r.n.path(r.works(li), "battery.+", bus); path != nil {
				return path
			}
		}
	}
	return nil
}

// everything is dead: what feeds the block, and the relay that the key works.
func (r *road) everything() []string {
	if !r.said.says("everything", "nothing works", "nothing at all", "all dead", "completely dead", "totally dead", "ignition switch", "ignition key", "ignition lock", "key switch") {
		if len(r.picked) > 0 || r.magnet >= 0 || r.said.thing() || len(r.named()) > 0 && !r.said.says("key") ||
			!r.said.says("nothing", "no power", "no electric", "no volt", "dead battery", "battery dead", "battery is dead", "bike dead", "bike is dead", "key does", "key dead") {
			return nil
		}
	}
	if !slices.ContainsFunc(r.n.loads, func(l loadEdge) bool { return l.load >= 0 }) {
		return nil
	}
	path := r.supply()
	bus := "the block"
	if len(path) > 0 {
		bus = path[len(path)-1]
	}
	fuse, _ := FuseOf(r.p.Supply.MainFuse)
	first := fmt.Sprintf("main, %s A %s, %s mm from battery plus", trim(r.p.Supply.MainFuse), fuse.Colour, trim(r.p.Supply.MainFuseMM))
	next := "battery lugs tight and clean, then go along " + strings.Join(path, " > ")
	if len(path) == 0 {
		next = "battery lugs tight and clean; the plan has no way from the battery to the block yet"
	}
	pl, cavity := r.lastCavity(path)
	for _, relay := range r.relaysOn(path) { // the ignition relay's coil goes through the barrel
		next += "; " + r.silentRelay(relay)
		coil := r.f.coil(relay)
		if r.f.best[coil] == nil {
			continue
		}
		for i := range r.p.Block.Ways {
			if r.f.ways[coil]>>i&1 == 1 {
				first += fmt.Sprintf("; %s, works relay %s", r.fuse(i), relay) + r.place()
			}
		}
		feed, _ := r.route(coil)
		pl, cavity = r.lastCavity(feed)
	}
	plug := "none between battery and block"
	if cavity != "" {
		plug = r.plugLine(pl, cavity) + ": live with the key on"
	}
	return five(first, plug, r.wireTo(path, bus),
		fmt.Sprintf("%s or more at the lugs, %s V at %s with the key on", r.p.RestVolts(), trim(r.p.Volts), bus), next)
}

// fuseNamed answers for a fuse: by its name, or that of what is meant by the rest.
func (r *road) fuseNamed() []string {
	fuse := r.said.says("fuse") && !r.said.says("fuse good", "fuse ok", "fuse fine", "fuse is good", "fuse is ok", "fuse is fine")
	blow := r.said.says("blow", "blew")
	words := r.said.words()
	for i, w := range r.p.Block.Ways {
		if (fuse || blow || len(r.picked) == 0) && slices.Contains(words, strings.ToLower(w.Name)) {
			return r.blows(i)
		}
	}
	switch {
	case !fuse || r.said.says("charg"): // without the word it is a lamp that has blown
		return nil
	case r.said.says("main fuse"):
		return r.blows(-1)
	}
	for _, li := range r.picked {
		for i := range r.p.Block.Ways {
			if r.f.ways[li]>>i&1 == 1 {
				return r.blows(i)
			}
		}
	}
	return r.blows(-1)
}

// blows answers for a fuse that has blown, -1 for the main one.
func (r *road) blows(way int) []string {
	p, n := r.p, r.n
	if way < 0 {
		fuse, _ := FuseOf(p.Supply.MainFuse)
		return five(fmt.Sprintf("main, %s A %s: never a bigger one, never foil", trim(p.Supply.MainFuse), fuse.Colour),
			"unplug every module; put the ways' fuses in one by one, the key off first",
			r.wireTo(n.path(n.restState(), "battery.+", "main.in"), "main.in"),
			"with all ways' fuses out, more than 10 k ohm from main.out to battery minus, battery off",
			"less than that, the short is between main fuse and block; else in the way whose fuse brings it back")
	}
	w := p.Block.Ways[way]
	var plugs []string
	for _, pl := range p.Plugs {
		for c := 1; c <= pl.Cavities; c++ {
			if i, ok := n.at[pl.Name+"."+itoa(c)]; ok && r.f.reach[way][n.node[i]] {
				plugs = append(plugs, fmt.Sprintf("%s (%s)", pl.Name, whereIs(pl)))
				break
			}
		}
	}
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
	return five(fmt.Sprintf("%s%s: never a bigger one, never foil; it feeds %s", r.fuse(way), r.place(), strings.Join(r.f.loadsOf[way], ", ")),
		split, first,
		fmt.Sprintf("fuse out, key off, OL from %s to battery minus with all of that unplugged, in every lever position", w.Name),
		"the plug that takes the short away has it on its far side; a short in one lever position only lies behind that contact; none at all, a load draws too much: put them back one by one")
}

// charge answers for a battery that is charged too little or too much.
func (r *road) charge() []string {
	h := r.said
	own := slices.ContainsFunc(r.picked, func(li int) bool { return strings.Contains(r.n.loads[li].name, "charg") })
	boils := h.says("boil", "overcharg", "over charg", "too many volts")
	little := h.says("charg") && !(own && !h.lasting()) && !h.says("usb", "phone") ||
		h.says("battery light", "battery lamp", "battery goes flat", "battery flat", "flat battery", "battery drain", "battery empt", "battery low", "battery runs down") ||
		len(r.picked) == 0 && h.says("flat", "alternator", "regulator")
	switch {
	case boils:
		first := "its acid spits: keep away from it, headlamp on to draw current, and not far; "
		if r.p.Supply.Battery == "lithium" {
			first = "stop, and take battery minus off: lithium that is overcharged burns; "
		}
		return r.tooMuch(first, "")
	case little:
		return r.notCharged()
	}
	return nil
}

// charging is the path from the regulator to the battery, with the cavity on it.
func (r *road) charging() (path []string, plug, wire string) {
	path = r.n.path(r.n.restState(), "alternator.+", "battery.+")
	pl, cavity := r.lastCavity(path)
	plug = "none between regulator and battery; look at the regulator's own"
	if cavity != "" {
		plug = r.plugLine(pl, cavity) + ": brown or soft means a bad crimp"
	}
	return path, plug, r.wireTo(path, cavity)
}

func (r *road) chargeFuse() string {
	fuse, _ := FuseOf(r.p.Supply.ChargeFuse)
	return fmt.Sprintf("charging, %s A %s, %s mm from battery plus", trim(r.p.Supply.ChargeFuse), fuse.Colour, trim(r.p.Supply.ChargeFuseMM))
}

// tooMuch answers for voltage that is too high: what to do first, and what else it may be.
func (r *road) tooMuch(first, last string) []string {
	if r.p.Supply.AlternatorWatts == 0 {
		return nil
	}
	path, plug, wire := r.charging()
	return five(r.chargeFuse()+"; never pull it while the engine runs", plug, wire,
		fmt.Sprintf("%s at the lugs at a fast idle, never over %s V", r.p.ChargingVolts(), r.volts(14.8)),
		fmt.Sprintf("%sover %s V at the lugs, the regulator, or its earth alternator.- to battery.-, or a loose join on %s that lets it see too little%s", first, r.volts(14.8), strings.Join(path, " > "), last))
}

// notCharged answers for a battery that is not charged, or goes flat.
func (r *road) notCharged() []string {
	if r.p.Supply.AlternatorWatts == 0 {
		return five("main, "+trim(r.p.Supply.MainFuse)+" A", "none", "none", r.p.RestVolts()+" or more at the lugs at rest", "the plan has no alternator, the battery alone feeds everything: charge it")
	}
	path, plug, wire := r.charging()
	var always []string
	for _, l := range r.p.Loads {
		if l.Always {
			always = append(always, l.Name)
		}
	}
	flat := "nothing is meant to draw with the key off: more than 1 mA there (5 with a clock or alarm) empties it, find the way by pulling fuses"
	if len(always) > 0 {
		flat = "with the key off only " + strings.Join(always, ", ") + " may draw: more than that empties it, find the way by pulling fuses"
	}
	return five(r.chargeFuse(), plug, wire,
		fmt.Sprintf("%s or more at the lugs at rest, %s at a fast idle, within %s V of that at alternator.+", r.p.RestVolts(), r.p.ChargingVolts(), r.volts(0.3)),
		"more at alternator.+ than at the lugs, go along "+strings.Join(path, " > ")+"; low at both, regulator or alternator and the earth alternator.- to battery.-; good at both, "+flat)
}
