package simbench

import "bellout/mapping"

// depthTwo begins a pod that has a link through a hidden junction.
func (b *builder) depthTwo(want int) {
	switch k := b.r.IntN(100); {
	case k < 45:
		b.innerFeed()
	case k < 85:
		b.joblessPartner()
	case want >= 2:
		b.kind = "two visible jobs" // laid in shareHidden, once the jobs are there
	}
}

// innerFeed: one switch's contact, open at rest, feeds another switch's common
// inside the pod; the second switch does nothing when it is moved alone.
func (b *builder) innerFeed() {
	b.kind = "inner feed"
	h := b.hide()
	if b.chance(50) {
		c := b.feed()
		x := b.output(c)
		s := b.add(form{name: "lights", positions: positions("off", "park", "on"), common: c, visible: true})
		b.join(c, x, s, 1, 2)
		b.join(c, h, s, 2)
	} else {
		c := b.feed()
		s := b.add(form{name: "kill", positions: positions("off", "run"), common: c})
		b.join(c, h, s, 1)
	}
	switch b.r.IntN(3) {
	case 0:
		b.changeoverFrom(h)
	case 1:
		b.turnFrom(h)
	default:
		s := b.add(form{name: "start", positions: positions("out", "in"), momentary: true, common: h})
		b.join(h, b.output(), s, 1)
	}
	b.forms[len(b.forms)-1].visible = false
}

// joblessPartner: a switch with no other contact, in series with an extra
// contact of a switch that has a visible job.
func (b *builder) joblessPartner() {
	b.kind = "jobless partner"
	b.anySwitch()
	host := len(b.forms) - 1
	h := b.hide()
	far := b.feed()
	b.join(far, h, host, b.somePositions(host)...)
	var s int
	switch b.r.IntN(3) {
	case 0:
		s = b.add(form{name: "clutch", positions: positions("released", "pulled"), momentary: true, common: h})
	case 1:
		s = b.add(form{name: "fog", positions: positions("off", "on"), common: h})
	default:
		s = b.add(form{name: "mode", positions: positions("one", "two", "three"), common: h})
	}
	out := b.output(far)
	b.join(h, out, s, b.somePositions(s)...)
}

// shareHidden: two switches that each have a visible job also share a hidden
// contact.
func (b *builder) shareHidden() {
	i := b.r.IntN(len(b.forms))
	j := (i + 1 + b.r.IntN(len(b.forms)-1)) % len(b.forms)
	h := b.hide()
	x := b.fresh()
	y := b.fresh(x)
	b.join(x, h, i, b.offRest(i)...)
	b.join(h, y, j, b.offRest(j)...)
}

// depthThree: three switches in series through two hidden junctions.
func (b *builder) depthThree() {
	b.kind = "three in series"
	g, h := b.hide(), b.hide()
	b.kill()
	i := len(b.forms) - 1
	j := b.add(form{name: "clutch", positions: positions("released", "pulled"), momentary: true, common: g})
	k := b.add(form{name: "start", positions: positions("out", "in"), momentary: true, common: h})
	x := b.feed()
	y := b.output(x)
	b.join(x, g, i, 1)
	b.join(g, h, j, 1)
	b.join(h, y, k, 1)
}

// somePositions picks some but not all positions of a switch.
func (b *builder) somePositions(s int) []int {
	all := len(b.forms[s].positions)
	if all == 2 || b.chance(70) {
		return []int{b.r.IntN(all)}
	}
	skip := b.r.IntN(all)
	var out []int
	for q := range all {
		if q != skip {
			out = append(out, q)
		}
	}
	return out
}

// offRest picks one position away from rest.
func (b *builder) offRest(s int) []int {
	f := b.forms[s]
	q := b.r.IntN(len(f.positions) - 1)
	if q >= f.rest {
		q++
	}
	return []int{q}
}

// leftovers gives the ends that no switch has taken something to do.
func (b *builder) leftovers() {
	for len(b.pool) > 0 {
		x := b.fresh()
		if len(b.forms) == 0 || b.chance(25) {
			y := b.fresh(x)
			b.join(x, y, -1)
			continue
		}
		s := b.r.IntN(len(b.forms))
		y := x
		if c := b.forms[s].common; c >= 0 && b.chance(50) {
			y = c
		} else {
			y = b.fresh(x)
		}
		b.join(x, y, s, b.somePositions(s)...)
	}
}

// nonsense adds the links that make no sense.
func (b *builder) nonsense() {
	if b.chance(8) {
		x := b.r.IntN(b.n)
		y := (x + 1 + b.r.IntN(b.n-1)) % b.n
		b.join(x, y, -1)
	}
	if len(b.forms) > 0 && b.chance(6) {
		x := b.r.IntN(b.n)
		y := (x + 1 + b.r.IntN(b.n-1)) % b.n
		s := b.r.IntN(len(b.forms))
		b.join(x, y, s, b.somePositions(s)...)
	}
}

var colourCodes = [...]mapping.Colour{
	"BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "TQ",
}

// finish deals flags and the order of switches at random.
func (b *builder) finish(seed int64) *World {
	w := &World{Seed: seed, Depth: b.depth, Kind: b.kind, Points: b.n + b.hidden}
	w.Pod.Name = "sim"
	wires := b.n
	if b.body >= 0 {
		wires--
	}
	place := b.r.Perm(wires) // point -> place among the wires
	at := func(p int) int {
		switch {
		case p >= hiddenBase:
			return b.n + p - hiddenBase
		case p == b.body:
			return b.n - 1
		}
		return place[p]
	}
	for i := range b.n {
		e := mapping.End{ID: mapping.EndID(itoa(i + 1)), Base: pick(b.r, colourCodes[:])}
		if b.chance(40) {
			e.Tracer = pick(b.r, colourCodes[:])
		}
		if i == b.body {
			e = mapping.End{ID: "BODY", Kind: mapping.Body}
		}
		w.Pod.Ends = append(w.Pod.Ends, e)
	}
	order := b.r.Perm(len(b.forms)) // form -> place among the switches
	w.Pod.Switches = make([]mapping.Switch, len(b.forms))
	seen := map[string]int{}
	for i, f := range b.forms {
		seen[f.name]++
		name := f.name
		if seen[f.name] > 1 {
			name += itoa(seen[f.name])
		}
		sw := mapping.Switch{
			Name: mapping.SwitchID(name), Positions: f.positions,
			Rest: f.positions[f.rest], Momentary: f.momentary,
		}
		if b.chance(50) {
			sw.Legend = f.name
		}
		w.Pod.Switches[order[i]] = sw
	}
	for _, c := range b.contacts {
		c.A, c.B = at(c.A), at(c.B)
		if c.Switch >= 0 {
			c.Switch = order[c.Switch]
		}
		w.Contacts = append(w.Contacts, c)
	}
	w.index()
	w.describe()
	return w
}
