package inference

import (
	"math"
	"slices"
)

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

// leverPrice is the price of setting a switch wrong.
func (p *problem) leverPrice(k int) float64 { return priceLever + math.Log2(float64(p.npos[k]-1)) }

// course is how cheaply the readings so far can be explained under a map, by
// what is the case at the latest of them (an index into the problem's states).
type course struct {
	cost  []float64 // nil: every way is dearer than the limit, and so will it be
	upTo  int       // readings taken in
	limit float64   // ways dearer than that were given up
}

func (p *problem) newCourse(limit float64) *course {
	c := &course{cost: make([]float64, len(p.states)), limit: limit + 1e-6}
	for i := range c.cost[1:] {
		c.cost[i+1] = math.Inf(1)
	}
	return c
}

// cheapest gives the price of the cheapest way and where it ends: positive
// infinity if each is dearer than the limit.
func (c *course) cheapest() (float64, int) {
	if c.cost == nil {
		return math.Inf(1), 0
	}
	end := 0
	for st, v := range c.cost {
		if v < c.cost[end]-1e-9 {
			end = st
		}
	}
	return c.cost[end], end
}

// helpful gives, for each of the latest readings, given what they cost with clip and
// levers as believed, the levers that may have been set wrong there to any avail: one of
// the readings is odd before the lever is moved again, or it has not been yet.
func (p *problem) helpful(raw []obs, plain []float64) []uint64 {
	n := len(plain)
	raw = raw[len(raw)-n:]
	out := make([]uint64, n)
	var moves [maxSwitches]int // the next one of each lever
	for k := range p.npos {
		moves[k] = n + 1
	}
	odd := n // the next odd reading; what is to come may be odd as well
	for i := n - 1; i >= 0; i-- {
		if plain[i] > 0 {
			odd = i
		}
		for m := raw[i].moved; m != 0; m &= m - 1 {
			k := lowBit(m)
			if odd < moves[k] {
				out[i] |= 1 << k
			}
			moves[k] = i
		}
	}
	return out
}

// advance takes a course on over the readings that it has not seen. from, if
// there is any, is room for the state before each state at each reading; plain is what
// each of those readings costs with clip and levers as believed, and price tells what a
// reading costs in another state.
func (p *problem) advance(raw []obs, c *course, from []uint8, plain []float64, price func(i, st int) float64) {
	helpful := p.helpful(raw, plain)
	states := p.states
	ns := len(states)
	inf := math.Inf(1)
	cur, next := slices.Clone(c.cost), make([]float64, ns)
	for i := c.upTo; i < len(raw) && cur != nil; i++ {
		o := &raw[i]
		newClip := i > 0 && (o.epoch != raw[i-1].epoch || o.session != raw[i-1].session)
		failed := i > 0 && raw[i-1].control && !raw[i-1].closed
		// Back to normal first: what may have ended since the reading before.
		best, arg := cur[0], 0
		for st := 1; st < ns; st++ {
			if cur[st] < best {
				if v := cur[st] + p.leavePrice(states[st], o, newClip, failed); v < best {
					best, arg = v, st
				}
			}
		}
		least := inf
		for st := range ns {
			f := states[st]
			stay := inf
			switch {
			case st == 0:
				stay = best
			case cur[st] == inf && best+priceLever > c.limit, // a slip is dearer still
				cur[st] == inf && !f.slip && helpful[i-c.upTo]>>f.lever&1 == 0:
				next[st] = inf
				continue
			case f.slip && failed:
			case f.slip && newClip:
				stay = cur[st] + 1
			case f.slip:
				stay = cur[st]
			case o.moved>>f.lever&1 == 0:
				stay = cur[st]
			}
			v, a := stay, st
			if st == 0 {
				a = arg
			} else if enter := best + p.enterPrice(f, o); enter < v {
				v, a = enter, arg
			}
			if v > c.limit {
				v = inf
			} else if st == 0 {
				v += plain[i-c.upTo]
			} else {
				v += price(i, st)
			}
			next[st] = v
			least = min(least, v)
			if from != nil {
				from[i*ns+st] = uint8(a)
			}
		}
		cur, next = next, cur
		if least > c.limit {
			cur = nil
		}
	}
	c.cost, c.upTo = cur, len(raw)
}

// leavePrice is the price of a fault's ending before a reading.
func (p *problem) leavePrice(f fault, o *obs, newClip, failed bool) float64 {
	if f.slip {
		switch {
		case failed:
			return 0
		case newClip:
			return 1
		}
		return math.Inf(1)
	}
	if o.moved>>f.lever&1 == 1 {
		return 0
	}
	return math.Inf(1)
}

// enterPrice is the price of a fault's beginning at a reading.
func (p *problem) enterPrice(f fault, o *obs) float64 {
	if f.slip {
		return priceSlip
	}
	if f.lever >= 0 && o.moved>>f.lever&1 == 1 {
		return p.wrong[f.lever]
	}
	return math.Inf(1)
}

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
		o[i].protected = o[i].closed && !o[i].void || later
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
