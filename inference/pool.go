package inference

import (
	"math/bits"
	"slices"

	"bellout/mapping"
)

// poolSetting is a setting that the planner may put into a sweep.
type poolSetting struct {
	s     uint64
	conds []int32
}

const (
	allSettings = 48 // up to so many, every setting is in the pool
	poolSize    = 52 // up to so many, doubtful conditions add settings to a larger pod's

	shownShare = 0.05 // of a condition's doubt still counts once a setting shows it
	leastShare = 1e-6 // of all doubt: conditions with less add no setting
)

// pool lists the settings worth a step, as far as the builder has the hands for
// them: all of a small pod; else rest, each switch moved by itself from rest and
// from where the levers are and, with a needle, from where the best map joins most (a
// silence says most there), settings that show every pair of positions, and those
// that show the conditions which hold most doubt.
func (p *problem) pool(leads mapping.Leads, at uint64, mass []float64, best *hyp) []poolSetting {
	var out []poolSetting
	seen := map[uint64]bool{}
	add := func(s uint64) {
		if !seen[s] && p.doable(s, leads) {
			seen[s] = true
			out = append(out, poolSetting{s: s, conds: p.holdingConds(s)})
		}
	}
	if total := p.settingsCount(); total <= allSettings {
		p.eachSetting(func(s uint64) { add(s) })
		return out
	}
	add(p.restSet)
	for k := range p.npos {
		for q := range p.npos[k] {
			add(p.moveTo(p.restSet, k, q))
			if at != 0 {
				add(p.moveTo(at&^p.heldSlots|p.restOfMomentary(at), k, q))
			}
		}
	}
	if leads == mapping.PairLeads {
		most := p.joining(best)
		for k := range p.npos {
			for q := range p.npos[k] {
				add(p.moveTo(most, k, q))
			}
		}
	}
	for _, s := range p.cover(leads) {
		add(s)
	}
	left := slices.Clone(mass)
	worth := 0.0
	for _, m := range mass {
		worth += m * leastShare
	}
	for len(out) < poolSize {
		s, ok := p.heaviest(left, leads)
		if !ok {
			break
		}
		known := len(out)
		add(s)
		if len(out) == known && p.massAt(s, left) < worth { // nothing new that is worth a step
			break
		}
		for _, c := range p.holdingConds(s) {
			left[c] *= shownShare
		}
	}
	return out
}

// massAt is the mass of the conditions that hold in a setting.
func (p *problem) massAt(s uint64, mass []float64) float64 {
	t := 0.0
	for _, c := range p.holdingConds(s) {
		t += mass[c]
	}
	return t
}

// restOfMomentary gives the rest slots of the momentary switches that a
// setting holds.
func (p *problem) restOfMomentary(s uint64) uint64 {
	var m uint64
	for k := range p.npos {
		if p.momentary[k] && s&p.swMask[k]&^p.restSet != 0 {
			m |= p.restSet & p.swMask[k]
		}
	}
	return m
}

// doable tells whether a builder has the hands for a setting.
func (p *problem) doable(s uint64, leads mapping.Leads) bool {
	return bits.OnesCount64(s&p.heldSlots) <= leads.MostHeld()
}

func (p *problem) settingsCount() int {
	t := 1
	for _, n := range p.npos {
		if t *= n; t > 1<<20 {
			return t
		}
	}
	return t
}

func (p *problem) eachSetting(f func(s uint64)) {
	var rec func(k int, s uint64)
	rec = func(k int, s uint64) {
		if k == len(p.npos) {
			f(s)
			return
		}
		for q := range p.npos[k] {
			rec(k+1, s|1<<(p.base[k]+q))
		}
	}
	rec(0, 0)
}

// cover is a small set of doable settings in which every pair of positions of
// two switches occurs, built greedily.
func (p *problem) cover(leads mapping.Leads) []uint64 {
	first := p.conds.pairFrom
	last := p.conds.tripleFrom
	left := make([]float64, len(p.conds.terms))
	for c := first; c < last; c++ {
		left[c] = 1
	}
	var out []uint64
	for len(out) < 64 {
		s, ok := p.heaviest(left, leads)
		if !ok {
			break
		}
		gone := false
		for _, c := range p.holdingConds(s) {
			gone = gone || left[c] > 0
			left[c] = 0
		}
		if !gone {
			break
		}
		out = append(out, s)
	}
	return out
}

// heaviest builds a setting that shows conditions of much mass: it starts from
// the heaviest condition and then sets the other switches one by one to what
// adds most, rest by default.
func (p *problem) heaviest(mass []float64, leads mapping.Leads) (uint64, bool) {
	best := -1
	for c, m := range mass {
		if m > 0 && (best < 0 || m > mass[best]) && p.doable(p.condSlots(c), leads) {
			best = c
		}
	}
	if best < 0 {
		return 0, false
	}
	fixed := p.condSlots(best)
	s := p.restSet
	for k := range p.npos {
		if m := fixed & p.swMask[k]; m != 0 {
			s = s&^p.swMask[k] | m
		}
	}
	for k := range p.npos {
		if fixed&p.swMask[k] != 0 {
			continue
		}
		bestS, bestV := s, p.condMass(s, mass)
		for q := range p.npos[k] {
			t := p.moveTo(s, k, q)
			if t == s || !p.doable(t, leads) {
				continue
			}
			if v := p.condMass(t, mass); v > bestV+1e-12 {
				bestS, bestV = t, v
			}
		}
		s = bestS
	}
	return s, true
}

func (p *problem) condSlots(c int) uint64 {
	t := p.conds.terms[c]
	return t[0] | t[1] | t[2]
}

func (p *problem) condMass(s uint64, mass []float64) float64 {
	t := 0.0
	for _, c := range p.holdingConds(s) {
		t += mass[c]
	}
	return t
}

// joining is the setting in which a map joins most, by moving latching switches one
// by one from rest.
func (p *problem) joining(h *hyp) uint64 {
	var buf []uint64
	joined := func(s uint64) (n int) {
		buf = h.nets(s, buf)
		for _, net := range buf {
			n += bits.OnesCount64(net) - 1
		}
		return n
	}
	s := p.restSet
	most := joined(s)
	for better := true; better; {
		better = false
		for k := range p.npos {
			for q := range p.npos[k] {
				t := p.moveTo(s, k, q)
				if p.momentary[k] || t == s {
					continue
				}
				if n := joined(t); n > most {
					s, most, better = t, n, true
				}
			}
		}
	}
	return s
}
