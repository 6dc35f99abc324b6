package inference

import (
	"math"
	"slices"

	"bellout/mapping"
)

// tailForBite is how many silences in a row, clips moved or not, are taken before a
// control beep whatever it is worth by the doubts: the builder wants to know by then.
const tailForBite = 16

// mustBite tells whether a control beep is due in any case: after so many silences, or
// where the best map believes the clip off.
func (pl *planner) mustBite() bool {
	raw := pl.s.raw
	if pl.black == 0 {
		return false
	}
	if pl.now.slip && len(pl.silences()) > 0 {
		return true
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
	grid := mapping.GridSeconds(pl.p.pod)
	return Proposal{Sweep: sw, GridSeconds: grid, SecondsLeft: pl.secondsLeft(candidate{seconds: sw.Why.Seconds}, grid)}
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
	sounds := !pl.now.slip // by the best map
	for i, r := range pl.rivals {
		if pl.s.madeAnew(r.now).slip == sounds {
			strike += pl.weight[i] * (1 - pl.spared[side(sounds)][0])
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
		says := float64(d.tail) * float64(pl.p.hand.silent[pl.p.conds.risk[d.cond]])
		if d.latching != 0 {
			says = min(says, float64(pl.stands(silences, d))*pl.p.standSays(int(d.cond)))
		}
		if says > capped {
			strike += (d.doubt + d.later) * (1 - math.Exp2((capped-says)*pl.power))
		}
	}
	return strike
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

// countTail counts those silences for each doubt that they bear on: more than any sweep
// takes where the clip is off anyway.
func (pl *planner) countTail() {
	n := len(pl.latching)
	if pl.leads == mapping.PairLeads {
		n = pl.doubts
	}
	if pl.now.slip {
		pl.tail = slices.Repeat([]int{mostSteps}, n)
		return
	}
	pl.tail = make([]int, n)
	for _, o := range pl.silences() {
		if pl.leads == mapping.BunchLeads {
			for _, c := range pl.p.holdingConds(o.s) {
				pl.tail[c]++
			}
			continue
		}
		for id := range pl.acrossAt(&o) {
			pl.tail[id]++
		}
	}
}

// acrossAt is the doubts, by their number, that a silence with a needle bears on.
func (pl *planner) acrossAt(o *obs) map[int32]bool {
	seen := map[int32]bool{}
	for x := pl.s.best.net(o.red, o.s); x != 0; x &= x - 1 {
		for y := pl.s.best.net(o.black, o.s); y != 0; y &= y - 1 {
			if lowBit(x) == lowBit(y) {
				return seen // not a silence that the best map expects
			}
			for _, cm := range pl.masses[pairIndex(lowBit(x), lowBit(y))] {
				if pl.p.condSlots(int(cm.cond))&^o.s == 0 {
					seen[cm.id] = true
				}
			}
		}
	}
	return seen
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
