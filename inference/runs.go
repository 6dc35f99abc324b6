package inference

import "math"

// fault is what an explanation says of the bench at one reading: nothing odd,
// the clip off, or one lever elsewhere.
type fault struct {
	slip   bool
	lever  int8 // switch, -1: none
	actual int8 // position where it stood
}

var noFault = fault{lever: -1}

// explain finds the cheapest explanation of the raw readings under a map:
// single odd readings, slipped clips and levers set wrong, at most one of the
// latter two at a time. It is a shortest path over the readings in the order
// in which they were taken. faults is room for what it says of each reading; nil
// where only the price is asked for.
func (p *problem) explain(h *hyp, raw []obs, faults []fault) float64 {
	base := 0.0
	plain := make([]float64, len(raw))
	for i := range raw {
		plain[i] = p.plainPrice(h, &raw[i])
		base += plain[i]
	}
	if base <= priceLever {
		for i := range faults {
			faults[i] = noFault
		}
		return base
	}
	c := p.newCourse(base)
	var from []uint8
	if faults != nil {
		from = make([]uint8, len(raw)*len(c.cost))
	}
	p.advance(raw, c, from, plain, func(i, st int) float64 {
		return p.faultPrice(h, &raw[i], p.states[st])
	})
	total, end := c.cheapest()
	if faults != nil {
		states := p.states
		for i := len(raw) - 1; i >= 0; i-- {
			faults[i] = states[end]
			end = int(from[i*len(states)+end])
		}
	}
	return total
}

// plainPrice is the price of a reading with clip and levers as believed.
func (p *problem) plainPrice(h *hyp, o *obs) float64 {
	if v, ok := o.mapless(false); ok {
		return v
	}
	return h.priceIn(o, o.s, 0)
}

// mapless is the price of a reading on which no map has a say, the clip being off
// or only itself touched; not ok for the others.
func (o *obs) mapless(off bool) (price float64, ok bool) {
	switch {
	case off && o.closed:
		return priceBeep, true
	case off, o.control && o.closed:
		return 0, true
	case o.control:
		return priceSilence, true
	}
	return 0, false
}

// The first two of the states; those of the levers follow.
const (
	normal = iota
	slipped
)

// faultStates lists all that can be the case at the bench.
func (p *problem) faultStates() []fault {
	states := []fault{noFault, {slip: true, lever: -1}}
	for k := range p.npos {
		if p.momentary[k] {
			continue
		}
		for q := range p.npos[k] {
			states = append(states, fault{lever: int8(k), actual: int8(q)})
		}
	}
	return states
}

// stateOfSlots gives, for each slot of a lever, the state in which the lever stands
// there unbeknown.
func (p *problem) stateOfSlots() []int {
	of := make([]int, p.slots)
	for st, f := range p.states {
		if f.lever >= 0 {
			of[p.base[f.lever]+int(f.actual)] = st
		}
	}
	return of
}

// leverPrice is the price of setting a switch wrong.
func (p *problem) leverPrice(k int) float64 { return priceLever + math.Log2(float64(p.npos[k]-1)) }

// faultPrice is the price of a reading while a fault lasts.
func (p *problem) faultPrice(h *hyp, o *obs, f fault) float64 {
	if v, ok := o.mapless(f.slip); ok {
		return v
	}
	if f.lever < 0 {
		return h.priceIn(o, o.s, 0)
	}
	k := int(f.lever)
	if p.position(o.s, k) == int(f.actual) {
		return math.Inf(1)
	}
	return h.priceIn(o, p.moveTo(o.s, k, int(f.actual)), p.swMask[k])
}

func (p *problem) moveTo(s uint64, k, pos int) uint64 {
	return s&^p.swMask[k] | 1<<(p.base[k]+pos)
}

// correct gives the readings as an explanation takes them: those under a
// slipped clip void, those under a wrong lever in the setting that was.
func (p *problem) correct(raw []obs, faults []fault) []obs {
	out := make([]obs, len(raw))
	copy(out, raw)
	for i := range out {
		o := &out[i]
		switch f := faults[i]; {
		case f.slip:
			o.void = !o.closed
		case f.lever >= 0 && !o.control:
			o.s = p.moveTo(o.s, int(f.lever), int(f.actual))
			p.fillAlt(o)
		}
	}
	p.bites(out)
	return out
}

// bites marks the readings after which the clip is shown to bite: a later
// beep with the clips left alone.
func (p *problem) bites(o []obs) {
	// A slip that is known of may have begun at any silence since the last
	// beep: none of them is worth anything.
	for i := len(o) - 2; i >= 0; i-- {
		next := &o[i+1]
		if next.void && !o[i].closed && !o[i].control && o[i].session == next.session {
			o[i].void = true
		}
	}
	for i := len(o) - 1; i >= 0; i-- {
		later := i+1 < len(o) && o[i+1].epoch == o[i].epoch && o[i+1].session == o[i].session && o[i+1].protected
		failed := o[i].control && !o[i].closed // what follows is with the clip made anew
		o[i].protected = !failed && (o[i].closed && !o[i].void || later)
	}
	suspect(o)
	tail := 0
	for i := range o {
		if i > 0 && (o[i].epoch != o[i-1].epoch || o[i-1].protected) {
			tail = 0
		}
		tail++
		o[i].tail = tail
	}
	for i := len(o) - 2; i >= 0; i-- {
		if !o[i].protected && o[i+1].epoch == o[i].epoch {
			o[i].tail = max(o[i].tail, o[i+1].tail)
		}
	}
}
