package inference

import (
	"slices"

	"bellout/mapping"
)

// reach is which doubts a silence strikes across the clips as they are: with a
// needle in each pool setting those between the two nets that the best map has
// there, each doubt by itself; with bunches, which mostly hold whole nets, those
// between the ends held, one sum for each condition.
type reach struct {
	doubts []condDoubt
	bears  [][]int32 // of each pool setting, what of the doubts

	number []int32 // of each doubt between nets, where it is listed, if that is
	listed []int32 // what is
}

// condDoubt is doubt of one condition.
type condDoubt struct {
	doubt    float64
	due      float64 // what a first silence is worth besides
	later    float64 // across pairs read with the levers as they stand: one must move before a silence there is news
	dueLater float64 // likewise
	latching uint64  // latching switches of the condition
	again    float64 // what a second silence leaves
	heard    int     // silences so far
	tail     int     // and those since a beep with the clips left alone: a slip would void them all
	cond     int32
}

func (pl *planner) newReach() reach {
	r := reach{bears: make([][]int32, len(pl.pool))}
	if pl.leads == mapping.PairLeads {
		r.number = slices.Repeat([]int32{-1}, pl.doubts)
		return r
	}
	for i := range pl.pool {
		r.bears[i] = pl.reads[i].conds
	}
	r.doubts = make([]condDoubt, len(pl.latching))
	for k := range r.doubts {
		r.doubts[k].latching, r.doubts[k].again, r.doubts[k].cond = pl.latching[k], pl.again[k], int32(k)
	}
	return r
}

// acrossBunches sums the doubts between the ends of two bunches.
func (r *reach) acrossBunches(pl *planner, red, black uint64) {
	for k := range r.doubts {
		d := &r.doubts[k]
		d.doubt, d.due, d.later, d.dueLater, d.heard, d.tail = 0, 0, 0, 0, 0, 0
	}
	for x := red; x != 0; x &= x - 1 {
		for y := black; y != 0; y &= y - 1 {
			pair := pairIndex(lowBit(x), lowBit(y))
			for _, cm := range pl.masses[pair] {
				r.doubts[cm.cond].enter(&cm, pl.told[pair], pl.due)
			}
		}
	}
}

// acrossNets lists the doubts between the nets of two ends.
func (r *reach) acrossNets(pl *planner, red, black uint64) {
	for _, id := range r.listed {
		r.number[id] = -1
	}
	r.doubts, r.listed = r.doubts[:0], r.listed[:0]
	direct := pl.told[pairIndex(lowBit(red), lowBit(black))]
	for i := range pl.pool {
		r.bears[i] = r.bears[i][:0]
		a, b := pl.netOf(i, red), pl.netOf(i, black)
		if a == b {
			continue
		}
		for x := a; x != 0; x &= x - 1 {
			for y := b; y != 0; y &= y - 1 {
				pair := pairIndex(lowBit(x), lowBit(y))
				for k := range pl.masses[pair] {
					cm := &pl.masses[pair][k]
					if pl.p.condSlots(int(cm.cond))&^pl.reads[i].s != 0 {
						continue
					}
					if r.number[cm.id] < 0 {
						r.number[cm.id] = int32(len(r.doubts))
						r.listed = append(r.listed, cm.id)
						d := condDoubt{latching: pl.latching[cm.cond], again: pl.again[cm.cond], cond: cm.cond}
						d.enter(cm, direct || pl.told[pair], pl.due)
						r.doubts = append(r.doubts, d)
					}
					r.bears[i] = append(r.bears[i], r.number[cm.id])
				}
			}
		}
	}
}

// enter adds a doubt, by whether it was read with the levers as they stand.
func (d *condDoubt) enter(cm *condMass, told bool, due []float64) {
	extra := 0.0
	if cm.due {
		extra = due[cm.cond]
	}
	if told {
		d.later += cm.m
		d.dueLater += extra
		return
	}
	d.doubt += cm.m
	d.due += extra
}

// netOf is the net of an end in a pool setting by the best map.
func (pl *planner) netOf(setting int, end uint64) uint64 {
	for _, net := range pl.bestNets[setting] {
		if net&end != 0 {
			return net
		}
	}
	return end
}
