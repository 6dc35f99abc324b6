package inference

import (
	"math"
	"slices"
)

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
	ns := len(p.states)
	cur := slices.Clone(c.cost)
	open := p.open(cur)
	for i := c.upTo; i < len(raw) && cur != nil; i++ {
		o := &raw[i]
		newClip := i > 0 && o.epoch != raw[i-1].epoch
		failed := i > 0 && raw[i-1].control && !raw[i-1].closed
		moved := p.slotsOf(o.moved)
		// Back to normal first: what may have ended since the reading before.
		best, arg := cur[normal], normal
		end := func(st int) {
			if cur[st] < best {
				if v := cur[st] + p.leavePrice(p.states[st], o, newClip, failed); v < best {
					best, arg = v, st
				}
			}
		}
		end(slipped)
		for m := open & moved; m != 0; m &= m - 1 {
			end(p.stateOf[lowBit(m)])
		}
		least := math.Inf(1)
		// begin takes a state on, entered now or stayed in.
		begin := func(st int, stay float64) bool {
			v, a := stay, st
			if st == normal {
				a = arg
			} else if enter := best + p.enterPrice(p.states[st], o); enter < v {
				v, a = enter, arg
			}
			switch {
			case v > c.limit:
				v = math.Inf(1)
			case st == normal:
				v += plain[i-c.upTo]
			default:
				v += price(i, st)
			}
			cur[st] = v
			least = min(least, v)
			if from != nil {
				from[i*ns+st] = uint8(a)
			}
			return v < math.Inf(1)
		}
		off := cur[slipped]
		switch {
		case failed:
			off = math.Inf(1)
		case newClip:
			off++
		}
		begin(normal, best)
		begin(slipped, off)
		if best+priceLever <= c.limit {
			open |= p.slotsOf(o.moved & helpful[i-c.upTo])
		}
		for m := open; m != 0; m &= m - 1 {
			slot := lowBit(m)
			st := p.stateOf[slot]
			stay := cur[st]
			if moved>>slot&1 == 1 {
				stay = math.Inf(1)
			}
			if !begin(st, stay) {
				open &^= 1 << slot
			}
		}
		if least > c.limit {
			cur = nil
		}
	}
	c.cost, c.upTo = cur, len(raw)
}

// open is the slots in which a lever may stand unbeknown.
func (p *problem) open(cost []float64) uint64 {
	var m uint64
	for st := slipped + 1; st < len(cost); st++ {
		if f := p.states[st]; cost[st] < math.Inf(1) {
			m |= 1 << (p.base[f.lever] + int(f.actual))
		}
	}
	return m
}

// slotsOf is the slots of some of the levers, buttons aside.
func (p *problem) slotsOf(levers uint64) uint64 {
	var m uint64
	for ; levers != 0; levers &= levers - 1 {
		m |= p.latching[lowBit(levers)]
	}
	return m
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
