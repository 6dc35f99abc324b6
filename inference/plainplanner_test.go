package inference

import (
	"math/bits"
	"slices"

	"bellout/mapping"
)

// plainPlanner prices a pair of bunches as the planner is meant to, without
// bounds, memory or tables: every map is asked about every setting at each step.
type plainPlanner struct {
	*planner
	maps  []*hyp // samples, rivals, the best map
	stuck []fault
}

func newPlainPlanner(pl *planner) *plainPlanner {
	p := &plainPlanner{planner: pl}
	s := pl.s
	for i, c := range s.chains {
		p.maps, p.stuck = append(p.maps, c.h), append(p.stuck, s.stuck[i])
	}
	for _, r := range s.rivals {
		if r.held <= s.hands && r.weight() > 0 && len(p.maps) < pl.samples+mostRivals {
			p.maps, p.stuck = append(p.maps, r.h), append(p.stuck, r.now)
		}
	}
	p.maps, p.stuck = append(p.maps, s.best), append(p.stuck, noFault)
	if n := len(s.faults); n > 0 {
		p.stuck[len(p.stuck)-1] = s.faults[n-1]
	}
	if n := len(s.raw); n > 0 && s.raw[n-1].control { // a clip that did not bite was made anew
		for m := pl.samples; m < len(p.stuck); m++ {
			if p.stuck[m].slip {
				p.stuck[m] = noFault
			}
		}
	}
	return p
}

// beeps is what a map says of a step once some switches have been moved.
func (p *plainPlanner) beeps(m int, red, black, s, moved uint64) bool {
	f := p.stuck[m]
	switch {
	case f.slip && red == p.red && black == p.black:
		return false
	case !f.slip && f.lever >= 0 && moved>>f.lever&1 == 0 && p.at != 0 && (s^p.at)&p.p.swMask[f.lever] == 0:
		s = p.p.moveTo(s, int(f.lever), int(f.actual))
	}
	return touching(p.maps[m].nets(s, nil), red, black)
}

// fresh is the least of a step's entropies given each of those taken.
func (p *plainPlanner) fresh(w uint64, chosen []uint64) float64 {
	ones := bits.OnesCount64(w)
	h := p.split[p.samples][ones]
	for _, c := range chosen {
		in, both := bits.OnesCount64(c), bits.OnesCount64(c&w)
		h = min(h, p.split[in][both]+p.split[p.samples-in][ones-both])
	}
	return h
}

// place is doubt that a silence strikes.
type place struct {
	cond                       int32
	open, later, due, dueLater float64
	heard, tail                int
}

// places is where a silence strikes doubt, by pool setting: with a needle between the
// nets that the best map has there, with bunches between the ends.
func (p *plainPlanner) places(red, black uint64) [][]*place {
	out := make([][]*place, len(p.pool))
	known := map[int32]*place{} // by doubt with a needle, by condition with bunches
	at := func(key, cond int32) *place {
		if known[key] == nil {
			known[key] = &place{cond: cond, tail: p.silences(red, black, key, cond)}
		}
		return known[key]
	}
	count := func(d *place, cm condMass, told bool) {
		extra := 0.0
		if cm.due {
			extra = p.due[cm.cond]
		}
		if told {
			d.later, d.dueLater = d.later+cm.m, d.dueLater+extra
			return
		}
		d.open, d.due = d.open+cm.m, d.due+extra
	}
	eachPair := func(red, black uint64, f func(q int)) {
		for r := red; r != 0; r &= r - 1 {
			for b := black; b != 0; b &= b - 1 {
				f(pairIndex(lowBit(r), lowBit(b)))
			}
		}
	}
	if p.leads == mapping.BunchLeads {
		eachPair(red, black, func(q int) {
			for _, cm := range p.masses[q] {
				count(at(cm.cond, cm.cond), cm, p.told[q])
			}
		})
	}
	for i, ps := range p.pool {
		if f := p.stuck[len(p.stuck)-1]; !f.slip && f.lever >= 0 && p.at != 0 && (ps.s^p.at)&p.p.swMask[f.lever] == 0 {
			ps.s = p.p.moveTo(ps.s, int(f.lever), int(f.actual))
			ps.conds = p.p.conds.holding(ps.s, nil)
		}
		if p.leads == mapping.BunchLeads {
			for _, k := range ps.conds {
				out[i] = append(out[i], at(k, k))
			}
			continue
		}
		r, b := red, black
		for _, net := range p.s.best.nets(ps.s, nil) {
			if net&red != 0 {
				r = net
			}
			if net&black != 0 {
				b = net
			}
		}
		if r == b {
			continue
		}
		eachPair(r, b, func(q int) {
			for _, cm := range p.masses[q] {
				if !slices.Contains(ps.conds, cm.cond) {
					continue
				}
				if known[cm.id] == nil {
					count(at(cm.id, cm.cond), cm, p.told[q] || p.told[pairIndex(lowBit(red), lowBit(black))])
				}
				out[i] = append(out[i], known[cm.id])
			}
		})
	}
	return out
}

// silences counts those that bear on a doubt since a beep, or since the clips came to
// where they are to be: by its number with a needle, by its condition with bunches.
func (p *plainPlanner) silences(red, black uint64, key, cond int32) int {
	if red != p.red || black != p.black {
		return 0
	}
	if p.stuck[len(p.stuck)-1].slip {
		return mostSteps
	}
	n := 0
	for _, o := range slices.Backward(p.p.obs) {
		if o.red != red || o.black != black || o.closed || o.control || o.epoch != p.p.obs[len(p.p.obs)-1].epoch {
			break
		}
		if !slices.Contains(p.p.conds.holding(o.s, nil), cond) {
			continue
		}
		if p.leads == mapping.BunchLeads || slices.Contains(p.acrossNets(red, black, o.s), key) {
			n++
		}
	}
	return n
}

// acrossNets lists the doubts between the nets of two ends in a setting.
func (p *plainPlanner) acrossNets(red, black, s uint64) []int32 {
	r, b := red, black
	for _, net := range p.s.best.nets(s, nil) {
		if net&red != 0 {
			r = net
		}
		if net&black != 0 {
			b = net
		}
	}
	var out []int32
	if r == b {
		return nil
	}
	for ; r != 0; r &= r - 1 {
		for m := b; m != 0; m &= m - 1 {
			for _, cm := range p.masses[pairIndex(lowBit(r), lowBit(m))] {
				out = append(out, cm.id)
			}
		}
	}
	return out
}

// price chooses the steps but for the first, where they are given.
func (p *plainPlanner) price(red, black uint64, first ...uint64) candidate {
	c := candidate{red: red, black: black, seconds: mapping.SecondsInstruction + p.clipSeconds(red, black)}
	places := p.places(red, black)
	rivals := slices.Clone(p.weight)
	same := red == p.red && black == p.black
	at, moved := p.at, uint64(0)
	var latest uint64
	worn := 0
	if same {
		latest, worn = p.repeats()
	}
	var chosen []uint64
	keeps := func(d *place, switches uint64) float64 {
		h := d.heard
		switch lat := p.latching[d.cond]; {
		case lat&switches != 0:
			h = 0
		case same && h == 0 && lat != 0 && lat&moved == 0:
			return 1
		}
		switch {
		case h == 0 && d.tail == 1:
			return p.onClip
		case h > 1 || d.tail > 1:
			return 1
		}
		return []float64{p.left, p.again[d.cond]}[h]
	}
	rouses := func(d *place, switches uint64) bool {
		return p.latching[d.cond] == 0 || p.latching[d.cond]&(moved|switches) != 0
	}
	for len(c.steps) < mostSteps {
		var top struct {
			step
			stay float64
		}
		top.setting = -1
		var take func()
		for i, ps := range p.pool {
			if k := len(c.steps); k < len(first) {
				if ps.s != first[k] {
					continue
				}
			} else if ps.s == latest && worn >= mostRepeats {
				continue
			}
			switches := p.movedBetween(at, ps.s)
			var samples uint64
			for m := range p.samples {
				if p.beeps(m, red, black, ps.s, moved|switches) {
					samples |= 1 << m
				}
			}
			best := p.beeps(len(p.maps)-1, red, black, ps.s, moved|switches)
			strike := 0.0
			if !best {
				for _, d := range places[i] {
					m := d.open
					strike += d.due
					if rouses(d, switches) {
						m += d.later
						strike += d.dueLater
					}
					strike += m * (1 - keeps(d, switches))
				}
			}
			var told []int
			again := 0
			if switches == 0 && (same || len(c.steps) > 0) {
				again = 1
			}
			spared := p.spared[side(best)][again]
			for r := range rivals {
				if p.beeps(p.samples+r, red, black, ps.s, moved|switches) != best {
					told = append(told, r)
					strike += rivals[r] * (1 - spared)
				}
			}
			x := step{setting: i, split: p.fresh(samples, chosen), seconds: mapping.SecondsReading + p.leverSeconds(at, ps.s)}
			x.share, x.bits = p.bitsFor(x.split, strike)
			if x.rate = x.bits / x.seconds; x.rate <= top.rate && len(c.steps) >= len(first) {
				continue
			}
			top.step = x
			top.stay = (x.split*splitWorth + (x.bits-x.split*splitWorth)/extendAt[p.leads]) / x.seconds
			take = func() {
				c.steps = append(c.steps, ps.s)
				chosen = append(chosen, samples)
				for _, all := range places {
					for _, d := range all {
						if best {
							d.tail = 0
						}
					}
				}
				for _, d := range places[i] {
					if best {
						break
					}
					d.due = 0
					kept := keeps(d, switches)
					d.open *= kept
					if rouses(d, switches) {
						d.later *= kept
						d.dueLater = 0
					}
					if p.latching[d.cond]&switches != 0 {
						d.heard = 0
					}
					d.heard++
					d.tail++
				}
				for _, r := range told {
					rivals[r] *= spared
				}
				if latest != ps.s {
					latest, worn = ps.s, 0
				}
				worn++
				at, moved = ps.s, moved|switches
			}
		}
		if top.setting < 0 || len(c.steps) > 0 && len(c.steps) >= len(first) && top.stay < c.rate() {
			break
		}
		c.bits, c.split = c.bits+top.bits, c.split+top.split
		c.share, c.seconds = c.share+top.share, c.seconds+top.seconds
		take()
	}
	return c
}
