package simbench

import "bellout/mapping"

func positions(names ...mapping.PositionID) []mapping.PositionID { return names }

// anySwitch adds one switch of a random form.
func (b *builder) anySwitch() {
	weights := []struct {
		w   int
		add func()
	}{
		{22, b.push}, {16, b.changeover}, {14, b.turn}, {12, b.lights}, {10, b.kill},
		{8, b.leverSwitch}, {6, b.twoPole}, {5, b.flash}, {4, b.hazard}, {3, b.rotary}, {7, b.key},
	}
	total := 0
	for _, w := range weights {
		total += w.w
	}
	k := b.r.IntN(total)
	for _, w := range weights {
		if k < w.w {
			w.add()
			return
		}
		k -= w.w
	}
}

// push: momentary; make, break, changeover, or break one pair and make another.
func (b *builder) push() {
	names := []string{"horn", "start", "mode", "pass", "trip"}
	c := -1
	if b.body >= 0 && b.chance(50) {
		c = b.body
	} else {
		c = b.feed()
	}
	s := b.add(form{name: pick(b.r, names), positions: positions("out", "in"), momentary: true, common: c, visible: true})
	x := b.output(c)
	switch k := b.r.IntN(100); {
	case k < 75:
		b.join(c, x, s, 1)
	case k < 85: // normally closed
		b.join(c, x, s, 0)
	case k < 93: // changeover
		b.join(c, x, s, 0)
		b.join(c, b.output(c, x), s, 1)
	default: // breaks one pair, makes another: no common
		b.join(c, x, s, 0)
		y := b.fresh(c, x)
		b.join(y, b.output(c, x, y), s, 1)
	}
}

// changeover: two latching positions, one common.
func (b *builder) changeover() { b.changeoverFrom(b.feed()) }

func (b *builder) changeoverFrom(c int) {
	x := b.output(c)
	y := b.output(c, x)
	if b.chance(10) {
		s := b.add(form{name: "dip", positions: positions("low", "half", "main"), common: c, visible: true})
		b.join(c, x, s, 0, 1)
		b.join(c, y, s, 1, 2)
		return
	}
	s := b.add(form{name: "dip", positions: positions("low", "main"), common: c, visible: true})
	b.join(c, x, s, 0)
	b.join(c, y, s, 1)
}

// turn: three positions, centre off; sometimes with running lamps that drop
// out on the side in use.
func (b *builder) turn() { b.turnFrom(b.feed()) }

func (b *builder) turnFrom(c int) {
	x := b.output(c)
	y := b.output(c, x)
	s := b.add(form{name: "turn", positions: positions("left", "off", "right"), rest: 1, common: c, visible: true})
	b.join(c, x, s, 0)
	b.join(c, y, s, 2)
	if b.r.IntN(7) == 0 && len(b.pool) >= 3 {
		d := b.feed(c, x, y)
		b.join(d, b.output(c, d), s, 1, 2)
		b.join(d, b.output(c, d), s, 0, 1)
	}
}

// lights: cumulative; what park joins stays joined in on.
func (b *builder) lights() {
	c := b.feed()
	x := b.output(c)
	y := b.output(c, x)
	if b.chance(20) {
		s := b.add(form{name: "lights", positions: positions("off", "park", "low", "main"), common: c, visible: true})
		b.join(c, x, s, 1, 2, 3)
		b.join(c, y, s, 2)
		b.join(c, b.output(c, x, y), s, 3)
		return
	}
	s := b.add(form{name: "lights", positions: positions("off", "park", "on"), common: c, visible: true})
	b.join(c, x, s, 1, 2)
	b.join(c, y, s, 2)
}

// kill: latching off/run; makes in run, or earths in off.
func (b *builder) kill() {
	rest := 1
	if b.chance(30) {
		rest = 0
	}
	if b.chance(33) {
		c := b.body
		if c < 0 {
			c = b.feed()
		}
		s := b.add(form{name: "kill", positions: positions("off", "run"), rest: rest, common: c, visible: true})
		b.join(c, b.output(c), s, 0)
		return
	}
	c := b.feed()
	s := b.add(form{name: "kill", positions: positions("off", "run"), rest: rest, common: c, visible: true})
	b.join(c, b.output(c), s, 1)
}

// leverSwitch: brake or clutch lever, make, break or changeover.
func (b *builder) leverSwitch() {
	name := pick(b.r, []string{"brake", "clutch"})
	c := b.feed()
	s := b.add(form{name: name, positions: positions("released", "pulled"), momentary: true, common: c, visible: true})
	x := b.output(c)
	switch k := b.r.IntN(100); {
	case k < 55:
		b.join(c, x, s, 1)
	case k < 75:
		b.join(c, x, s, 0)
	default:
		b.join(c, x, s, 0)
		b.join(c, b.output(c, x), s, 1)
	}
}

// twoPole: two separate pairs worked by one lever, like or opposed.
func (b *builder) twoPole() {
	s := b.add(form{name: pick(b.r, []string{"fan", "fog", "heat"}), positions: positions("off", "on"), common: -1, visible: true})
	w := b.fresh()
	x := b.output(w)
	y := b.fresh(w, x)
	z := b.output(w, x, y)
	b.join(w, x, s, 1)
	if b.chance(70) {
		b.join(y, z, s, 1)
	} else {
		b.join(y, z, s, 0)
	}
}

// flash: a push in parallel with an output that is there already.
func (b *builder) flash() {
	if len(b.outputs) == 0 {
		b.push()
		return
	}
	o := pick(b.r, b.outputs)
	c := b.feed(o)
	s := b.add(form{name: "flash", positions: positions("out", "in"), momentary: true, common: c, visible: true})
	b.join(c, o, s, 1)
}

// hazard: one position joins a feed to two outputs that are there already.
func (b *builder) hazard() {
	if len(b.outputs) < 2 {
		b.twoPole()
		return
	}
	i := b.r.IntN(len(b.outputs))
	j := (i + 1 + b.r.IntN(len(b.outputs)-1)) % len(b.outputs)
	x, y := b.outputs[i], b.outputs[j]
	c := b.feed(x, y)
	s := b.add(form{name: "hazard", positions: positions("off", "on"), common: c, visible: true})
	b.join(c, x, s, 1)
	b.join(c, y, s, 1)
}

// rotary: one common to one output a position, the first position off.
func (b *builder) rotary() {
	c := b.feed()
	all := positions("off", "one", "two", "three")
	all = all[:3+b.r.IntN(2)]
	s := b.add(form{name: "selector", positions: all, common: c, visible: true})
	last := c
	for q := 1; q < len(all); q++ {
		last = b.output(c, last)
		b.join(c, last, s, q)
	}
}

// key: an ignition barrel, at most one a pod; cumulative, with a short to stop
// in off where there is an end to spare.
func (b *builder) key() {
	if b.keyed {
		b.push()
		return
	}
	b.keyed = true
	c := b.feed()
	x := b.output(c)
	y := b.output(c, x)
	four := b.chance(60)
	all := positions("off", "park", "on")
	if four {
		all = positions("lock", "off", "on", "park")
	}
	rest := 0
	if four {
		rest = 1
	}
	s := b.add(form{name: "key", positions: all, rest: rest, common: c, visible: true})
	if !four {
		b.join(c, x, s, 1, 2)
		b.join(c, y, s, 2)
		return
	}
	b.join(c, x, s, 2)
	b.join(c, y, s, 2, 3)
	if b.chance(50) {
		stop := b.output(c, x, y)
		if b.body >= 0 {
			b.join(stop, b.body, s, 0, 1)
		} else {
			b.join(stop, b.fresh(c, x, y, stop), s, 0, 1)
		}
	}
}
