package inference

import "slices"

// voices is who says so among the maps in play.
type voices struct {
	samples, rivals uint64 // a bit each
	best            bool
}

// join adds what others say.
func (v *voices) join(o *voices) {
	v.samples |= o.samples
	v.rivals |= o.rivals
	v.best = v.best || o.best
}

// instead is v with the say of some maps taken from elsewhere.
func (v voices) instead(who, from *voices) voices {
	v.samples = v.samples&^who.samples | from.samples&who.samples
	v.rivals = v.rivals&^who.rivals | from.rivals&who.rivals
	if who.best {
		v.best = from.best
	}
	return v
}

// netBook lists every net that some map has in some pool setting, once, with
// the settings and the maps that have it: maps in play differ little.
type netBook struct {
	ends  []uint64
	uses  [][]netUse // of each net, by rising setting
	index map[uint64]int
}

// netUse is who has a net in a pool setting.
type netUse struct {
	setting int
	who     voices
}

// add enters the nets that a map has in a pool setting. Settings are entered in
// rising order.
func (b *netBook) add(nets []uint64, setting int, who *voices) {
	if b.index == nil {
		b.index = map[uint64]int{}
	}
	for _, net := range nets {
		i, ok := b.index[net]
		if !ok {
			i = len(b.ends)
			b.index[net] = i
			b.ends = append(b.ends, net)
			b.uses = append(b.uses, nil)
		}
		if n := len(b.uses[i]); n > 0 && b.uses[i][n-1].setting == setting {
			b.uses[i][n-1].who.join(who)
			continue
		}
		b.uses[i] = append(b.uses[i], netUse{setting, *who})
	}
}

// look tells by pool setting which maps have a net from red to black.
func (b *netBook) look(red, black uint64, out []voices) {
	clear(out)
	for i, net := range b.ends {
		if net&red == 0 || net&black == 0 {
			continue
		}
		for j := range b.uses[i] {
			u := &b.uses[i][j]
			out[u.setting].join(&u.who)
		}
	}
}

// spell is what some maps believe of the bench, up to when a lever is moved.
type spell struct {
	lever uint64 // 0: the clip is off, which no lever ends
	who   voices
}

// outlook is what the maps in play say of one pair of bunches, by pool
// setting: as things should be, and while what a map believes of the bench (a
// lever elsewhere, the clip off) still lasts.
type outlook struct{ plain, stuck []voices }

// look asks every map about a pair of bunches. A clip that is off stays silent
// only as long as the clips are left where they are.
func (pl *planner) look(red, black uint64, o *outlook) {
	pl.nets.look(red, black, o.plain)
	if len(pl.spells) == 0 {
		return
	}
	pl.oddNets.look(red, black, o.stuck)
	if pl.slipped == (voices{}) || red != pl.red || black != pl.black {
		return
	}
	for i := range o.stuck {
		o.stuck[i] = o.stuck[i].instead(&pl.slipped, &voices{})
	}
}

// foresee is what samples, rivals and the best map say of a step, given which
// switches were moved before it.
func (pl *planner) foresee(o *outlook, i int, moved uint64) voices {
	v := o.plain[i]
	for j := range pl.spells {
		if s := &pl.spells[j]; s.lever&moved == 0 {
			v = v.instead(&s.who, &o.stuck[i])
		}
	}
	return v
}

// layOut enters the nets of all maps by pool setting, samples that say the same
// everywhere but once.
func (pl *planner) layOut(maps []*hyp, stuck []fault, sigs []uint64) {
	who := pl.kinds(stuck, sigs)
	var buf []uint64
	for i := range pl.pool {
		s := pl.pool[i].s
		for m, h := range maps {
			if who[m] == (voices{}) {
				continue
			}
			buf = h.nets(s, buf)
			pl.nets.add(buf, i, &who[m])
			f := stuck[m]
			if !f.misleads() {
				continue
			}
			if real := pl.stuckAt(s, f); real != s {
				buf = h.nets(real, buf)
			}
			pl.oddNets.add(buf, i, &who[m])
		}
	}
	for m, f := range stuck {
		if f.misleads() {
			pl.enterSpell(f, &who[m])
		}
	}
}

// misleads tells whether a fault bears on what is read.
func (f fault) misleads() bool { return f.slip || f.lever >= 0 }

// kinds gives for each map whom it speaks for: the first of the samples that
// say the same everywhere for all of them, the others for nobody.
func (pl *planner) kinds(stuck []fault, sigs []uint64) []voices {
	type kind struct {
		sig uint64
		f   fault
	}
	who := make([]voices, len(stuck))
	first := map[kind]int{}
	for m, f := range stuck {
		switch {
		case m == len(stuck)-1:
			who[m].best = true
		case m >= pl.samples:
			who[m].rivals = 1 << (m - pl.samples)
		default:
			k := kind{sigs[m], f}
			if _, ok := first[k]; !ok {
				first[k] = m
			}
			who[first[k]].samples |= 1 << m
		}
	}
	return who
}

// enterSpell notes how long what some maps believe of the bench will last.
func (pl *planner) enterSpell(f fault, who *voices) {
	var lever uint64
	if f.slip {
		pl.slipped.join(who)
	} else {
		lever = 1 << f.lever
	}
	for i := range pl.spells {
		if pl.spells[i].lever == lever {
			pl.spells[i].who.join(who)
			return
		}
	}
	pl.spells = append(pl.spells, spell{lever, *who})
}

// touching tells whether some net reaches from red to black.
func touching(nets []uint64, red, black uint64) bool {
	for _, m := range nets {
		if m&red != 0 && m&black != 0 {
			return true
		}
	}
	return false
}

// mostRepeats is how often one reading is taken in a row: for more, a lever or a clip
// must be moved first, or the clip be shown to bite.
const mostRepeats = 2

// repeats gives the setting of the latest reading and how often it was taken in a row,
// if the clips are still where they were; nothing where nobody knows the levers, which
// will be set anew.
func (pl *planner) repeats() (s uint64, n int) {
	raw := pl.s.raw
	if pl.at == 0 && pl.p.slots > 0 {
		return 0, 0
	}
	for _, o := range slices.Backward(raw) {
		if o.red != pl.red || o.black != pl.black || o.s != raw[len(raw)-1].s || o.control {
			break
		}
		n++
		s = o.s
	}
	return s, n
}
