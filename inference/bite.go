package inference

import (
	"math"
	"slices"

	"bellout/mapping"
)

// tailForBite is how many silences in a row are taken before a control beep whatever
// it is worth by the doubts: the builder wants to know by then.
const tailForBite = 16

// longSilent tells whether so many silences stand at the end of the readings.
func (pl *planner) longSilent() bool {
	raw := pl.s.raw
	if pl.black == 0 {
		return false
	}
	tail := 0
	for _, o := range slices.Backward(raw) {
		if o.closed || o.control || o.session != raw[len(raw)-1].session {
			break
		}
		tail++
	}
	return tail >= tailForBite
}

// bite is a control beep.
func (pl *planner) bite() Proposal {
	end := pl.p.unends(pl.black)[:1]
	sw := mapping.Sweep{Red: end, Black: end, Control: true, Why: mapping.Why{
		Reason: mapping.BiteTest, Ends: end, Seconds: mapping.SecondsInstruction + mapping.SecondsReading}}
	return Proposal{Sweep: sw, GridSeconds: mapping.GridSeconds(pl.p.pod)}
}

// biteRate is what a control beep is worth for its seconds: for the doubt that it frees
// the silences to strike, and since it tells maps for which the clip had slipped from the
// others.
func (pl *planner) biteRate() float64 {
	silences := pl.silences()
	if len(silences) == 0 {
		return 0
	}
	strike := pl.freed(silences)
	for i, r := range pl.inPlay() {
		if r.now.slip != pl.now.slip {
			strike += pl.weight[i] * (1 - pl.left)
		}
	}
	off := 0
	for _, f := range pl.s.stuck {
		if f.slip {
			off++
		}
	}
	_, b := pl.bitsFor(pl.split[pl.samples][off], strike)
	return b / (mapping.SecondsInstruction + mapping.SecondsReading)
}

// freed is the doubt that silences would strike if they said all they can: as it is
// they say no more than that the clip may have slipped.
func (pl *planner) freed(silences []obs) float64 {
	if pl.now.slip {
		return 0 // they say nothing
	}
	w := pl.newStepper()
	w.begin(pl.red, pl.black)
	capped := slipSays(len(silences))
	strike := 0.0
	for k := range w.doubts {
		d := &w.doubts[k]
		says := float64(d.tail) * priceSilence
		if d.latching != 0 {
			says = min(says, float64(pl.stands(silences, d))*priceLever)
		}
		if says > capped {
			strike += (d.doubt + d.later) * (1 - math.Exp2((capped-says)*pl.power))
		}
	}
	return strike
}

// slipSays is what so many silences of one clip set-up say at most against a link: that
// the clip had slipped, at one of them.
func slipSays(silences int) float64 {
	return max(priceSilence/2, priceSlip-math.Log2(float64(silences)))
}

// silences is those at the end of the readings with the clips as they are, as the best
// map takes them.
func (pl *planner) silences() []obs {
	all := pl.p.obs
	from := len(all)
	for from > 0 {
		o := &all[from-1]
		if o.closed || o.control || o.red != pl.red || o.black != pl.black || o.epoch != all[len(all)-1].epoch {
			break
		}
		from--
	}
	return all[from:]
}

// tailByCond counts those silences by the conditions that held in them: more than any
// sweep takes where the clip is off anyway.
func (pl *planner) tailByCond() []int {
	n := make([]int, len(pl.latching))
	if pl.now.slip {
		return slices.Repeat([]int{mostSteps}, len(n))
	}
	for _, o := range pl.silences() {
		for _, c := range pl.p.holdingConds(o.s) {
			n[c]++
		}
	}
	return n
}

// stands counts the stands of its levers in which a doubt was met with silence.
func (pl *planner) stands(silences []obs, d *condDoubt) int {
	n := 0
	var last [maxSwitches]uint16
	for i := range silences {
		o := &silences[i]
		if pl.p.condSlots(int(d.cond))&^o.s != 0 {
			continue
		}
		fresh := n == 0
		for m := d.latching; m != 0; m &= m - 1 {
			k := lowBit(m)
			fresh = fresh || o.stand[k] != last[k]
		}
		if fresh {
			n++
			last = o.stand
		}
	}
	return n
}
