package inference

import "slices"

// outlook is what the maps in play say of one pair of bunches, by pool
// setting: as things should be, and while what a map believes of the bench (a
// lever elsewhere, the clip off) still lasts.
type outlook struct{ plain, stuck view }

// view is one of the two, by pool setting.
type view struct {
	samples []uint64 // which samples beep
	rivals  []uint64 // which rivals beep
	best    []bool   // whether the best map beeps
}

func newView(n int) view {
	return view{make([]uint64, n), make([]uint64, n), make([]bool, n)}
}

// look asks every map about a pair of bunches.
func (pl *planner) look(red, black uint64) outlook {
	n := len(pl.pool)
	same := red == pl.red && black == pl.black
	o := outlook{newView(n), newView(n)}
	for i := range n {
		for m := range pl.maps {
			if pl.alike[m] == 0 {
				continue
			}
			beeps := touching(pl.maps[m][i], red, black)
			late := beeps
			switch f := pl.stuck[m]; {
			case f.slip:
				late = beeps && !same
			case pl.odd[m] != nil && pl.odd[m][i] != nil:
				late = touching(pl.odd[m][i], red, black)
			}
			o.plain.set(pl, i, m, beeps)
			o.stuck.set(pl, i, m, late)
		}
	}
	return o
}

// set enters what map m says in pool setting i, for all samples like it.
func (v *view) set(pl *planner, i, m int, beeps bool) {
	switch {
	case !beeps:
	case m < pl.samples:
		v.samples[i] |= pl.alike[m]
	case m == len(pl.maps)-1:
		v.best[i] = true
	default:
		v.rivals[i] |= 1 << (m - pl.samples)
	}
}

// foresee is what samples, rivals and the best map say of a step, given which
// switches were moved before it.
func (pl *planner) foresee(o *outlook, i int, moved uint64) (samples, rivals uint64, best bool) {
	samples, rivals, best = o.plain.samples[i], o.plain.rivals[i], o.plain.best[i]
	if pl.stuck[len(pl.maps)-1].lasts(moved) {
		best = o.stuck.best[i]
	}
	var last uint64
	for m := range pl.samples {
		if pl.stuck[m].lasts(moved) {
			last |= 1 << m
		}
	}
	samples = samples&^last | o.stuck.samples[i]&last
	last = 0
	for r := range pl.weight {
		if pl.stuck[pl.samples+r].lasts(moved) {
			last |= 1 << r
		}
	}
	rivals = rivals&^last | o.stuck.rivals[i]&last
	return samples, rivals, best
}

// lasts tells whether a fault goes on once some switches have been moved.
func (f fault) lasts(moved uint64) bool {
	return f.slip || f.lever >= 0 && moved>>f.lever&1 == 0
}

// group finds the samples that say the same everywhere, so that each kind is
// asked but once.
func (pl *planner) group() {
	type kind struct {
		sig uint64
		f   fault
	}
	first := map[kind]int{}
	pl.alike = make([]uint64, len(pl.maps))
	for m := range pl.maps {
		if m >= pl.samples {
			pl.alike[m] = 1
			continue
		}
		k := kind{pl.sigs[m], pl.stuck[m]}
		if _, ok := first[k]; !ok {
			first[k] = m
		}
		pl.alike[first[k]] |= 1 << m
	}
}

// netsOf lays out the nets of a map by pool setting.
func (pl *planner) netsOf(h *hyp) [][]uint64 {
	out := make([][]uint64, len(pl.pool))
	var buf []uint64
	for i := range pl.pool {
		buf = h.nets(pl.pool[i].s, buf)
		out[i] = slices.Clone(buf)
	}
	return out
}

// oddNets lays out the nets that a map expects while a lever is not where it
// is believed to be.
func (pl *planner) oddNets(h *hyp, f fault) [][]uint64 {
	k := int(f.lever)
	if k < 0 || pl.at == 0 {
		return nil
	}
	out := make([][]uint64, len(pl.pool))
	for i := range pl.pool {
		s := pl.pool[i].s
		if (s^pl.at)&pl.p.swMask[k] == 0 {
			out[i] = h.nets(pl.p.moveTo(s, k, int(f.actual)), nil)
			if out[i] == nil {
				out[i] = []uint64{}
			}
		}
	}
	return out
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

// mostRepeats is how often one reading is taken in a row: for more, a lever or a
// clip must be moved first.
const mostRepeats = 2

// repeats counts how often the latest reading was taken in a row.
func (pl *planner) repeats() int {
	raw := pl.s.raw
	n := 0
	for i := len(raw) - 1; i >= 0; i-- {
		o, l := &raw[i], &raw[len(raw)-1]
		if o.red != l.red || o.black != l.black || o.s != l.s || o.control {
			break
		}
		n++
	}
	return n
}
