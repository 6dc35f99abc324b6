package inference

import (
	"math/bits"

	"bellout/mapping"
)

// stepper chooses the steps for one pair of bunches, one after the other. Its
// memory is used again for the next pair.
type stepper struct {
	pl         *planner
	o          outlook
	red, black uint64
	same       bool // the clips stay where they are
	reach
	fresh  []condDoubt // before any step
	rivals []float64   // weight left of each rival
	chosen []uint64    // samples that beep, by step taken
	steps  []int       // settings of the pool
	from   int         // see movesFrom
	at     uint64      // where the levers are by now
	moved  uint64      // switches moved so far
	latest uint64      // setting of the latest reading with the clips left alone, 0: none yet
	worn   int         // how often it was taken in a row
	terms  []stepTerms
}

// stepTerms is what is known of a pool setting as the next step.
type stepTerms struct {
	voices
	fresh  float64 // bits on the samples, given the first of the steps taken
	given  int     // how many of them
	most   float64 // no more doubt can be struck, as long as the voices stay as they are
	atMost float64 // rate
}

// step is a step that may be taken.
type step struct {
	setting     int
	rate        float64 // bits by seconds
	bits, split float64
	share       float64
	seconds     float64
}

// boundless is more than any doubt. It is finite, so that nothing is what it is
// worth times nothing.
const boundless = 1e100

func (pl *planner) newStepper() stepper {
	return stepper{
		pl:    pl,
		o:     outlook{plain: make([]voices, len(pl.pool)), stuck: make([]voices, len(pl.pool))},
		reach: pl.newReach(),
		terms: make([]stepTerms, len(pl.pool)),
	}
}

// begin sets out from where the levers are.
func (w *stepper) begin(red, black uint64) {
	w.pl.look(red, black, &w.o)
	w.red, w.black = red, black
	w.same = red == w.pl.red && black == w.pl.black
	if w.pl.leads == mapping.PairLeads {
		w.acrossNets(w.pl, red, black)
	} else {
		w.acrossBunches(w.pl, red, black)
	}
	if w.same {
		for k := range w.doubts {
			id := k // the condition with bunches
			if w.pl.leads == mapping.PairLeads {
				id = int(w.listed[k])
			}
			w.doubts[k].tail = w.pl.tail[id]
		}
	}
	w.fresh = append(w.fresh[:0], w.doubts...)
	w.restart()
}

// restart forgets the steps taken.
func (w *stepper) restart() {
	copy(w.doubts, w.fresh)
	w.rivals = append(w.rivals[:0], w.pl.weight...)
	w.chosen, w.steps = w.chosen[:0], w.steps[:0]
	w.from, w.at, w.moved = len(w.pl.pool), w.pl.at, 0
	w.latest, w.worn = 0, 0
	if w.same {
		w.latest, w.worn = w.pl.repeats()
	}
	for i := range w.terms {
		w.terms[i] = stepTerms{voices: w.o.plain[i], fresh: -1, most: boundless}
	}
}

// best finds the step of the highest rate, the first of equals. It looks only
// at those that may reach it by their bounds.
func (w *stepper) best() (step, bool) {
	moves := w.pl.movesFrom(w.from)
	top := -1
	for i := range w.terms {
		t := &w.terms[i]
		if w.asked(i) {
			t.atMost = -1
			continue
		}
		w.bring(i, moves[i].switches)
		_, t.atMost = w.pl.bitsFor(t.fresh, t.most)
		t.atMost /= moves[i].seconds
		if top < 0 || t.atMost > w.terms[top].atMost {
			top = i
		}
	}
	best := step{setting: -1}
	if top < 0 {
		return best, false
	}
	w.consider(top, moves[top], &best)
	for i := range w.terms {
		if t := &w.terms[i]; i != top && t.atMost >= best.rate {
			w.consider(i, moves[i], &best)
		}
	}
	return best, best.setting >= 0
}

// asked tells whether a step was taken so often in a row that a lever or a clip must be
// moved first, or is not asked any more.
func (w *stepper) asked(i int) bool {
	at := w.pl.pool[i].s
	return at == w.latest && w.worn >= mostRepeats || w.pl.declined.asks(w.red, w.black, at)
}

// consider works out a step and keeps it if it is the best so far.
func (w *stepper) consider(i int, m move, best *step) {
	s := w.price(i, m)
	if s.rate > best.rate || s.rate == best.rate && i < best.setting {
		*best = s
	}
}

// price works out what a step is worth, its terms brought up to the steps taken.
func (w *stepper) price(i int, m move) step {
	t := &w.terms[i]
	share, b := w.pl.bitsFor(t.fresh, w.strike(i, m.switches))
	return step{setting: i, rate: b / m.seconds, bits: b, split: t.fresh, share: share, seconds: m.seconds}
}

// worth is what a setting is worth as the next step.
func (w *stepper) worth(i int) step {
	m := w.pl.movesFrom(w.from)[i]
	w.bring(i, m.switches)
	return w.price(i, m)
}

// bitsFor is what a step is worth that splits the samples and strikes doubt, and
// the share of all doubt that it strikes.
func (pl *planner) bitsFor(split, strike float64) (share, b float64) {
	share = strike / max(pl.total, 1e-9)
	return share, split*splitWorth + pl.worth*pl.ahead*share
}

// bring takes the terms of a setting up to the steps taken so far: who beeps,
// and how much that tells of the samples that the steps do not: the least of its
// entropies given each one of them (an upper bound of the joint information, by
// a tree of pairs).
func (w *stepper) bring(i int, switches uint64) {
	t := &w.terms[i]
	if len(w.pl.spells) > 0 {
		if v := w.pl.foresee(&w.o, i, w.moved|switches); v != t.voices {
			*t = stepTerms{voices: v, fresh: -1, most: boundless}
		}
	}
	n := w.pl.samples
	ones := bits.OnesCount64(t.samples)
	if t.fresh < 0 {
		t.fresh = w.pl.split[n][ones]
	}
	for ; t.given < len(w.chosen); t.given++ {
		c := w.chosen[t.given]
		in, both := bits.OnesCount64(c), bits.OnesCount64(c&t.samples)
		t.fresh = min(t.fresh, w.pl.split[in][both]+w.pl.split[n-in][ones-both])
	}
}

// strike is how much doubt a step would take away. It also notes the most that
// the setting can still take away whatever comes before it: doubt only falls,
// and a first silence takes most.
func (w *stepper) strike(i int, switches uint64) float64 {
	t := &w.terms[i]
	cut := 1 - w.pl.left
	strike, most := 0.0, 0.0
	if !t.voices.best {
		for _, k := range w.bears[i] {
			d := &w.doubts[k]
			m := d.doubt + d.later
			most += m*cut + d.due + d.dueLater
			strike += d.due
			if d.roused(w.moved | switches) {
				strike += d.dueLater
			} else {
				m = d.doubt
			}
			strike += m * (1 - w.keeps(d, switches))
		}
	}
	struck, atMost := 1-w.spares(t.best, switches), 1-w.pl.spared[side(t.best)][0]
	for told := w.pl.toldRivals(&t.voices); told != 0; told &= told - 1 {
		m := w.rivals[lowBit(told)]
		strike += m * struck
		most += m * atMost
	}
	t.most = most
	return strike
}

// take takes a step.
func (w *stepper) take(i int) {
	switches := w.pl.movesFrom(w.from)[i].switches
	t := &w.terms[i]
	spared := w.spares(t.best, switches)
	w.steps = append(w.steps, i)
	w.chosen = append(w.chosen, t.samples)
	if !t.voices.best {
		for _, k := range w.bears[i] {
			d := &w.doubts[k]
			kept := w.keeps(d, switches)
			d.doubt *= kept
			d.due = 0
			if d.roused(w.moved | switches) {
				d.later *= kept
				d.dueLater = 0
			}
			if d.latching&switches != 0 {
				d.heard = 0
			}
			d.heard++
			d.tail++
		}
	} else {
		for k := range w.doubts {
			w.doubts[k].tail = 0
		}
	}
	for told := w.pl.toldRivals(&t.voices); told != 0; told &= told - 1 {
		w.rivals[lowBit(told)] *= spared
	}
	w.from, w.at, w.moved = i, w.pl.pool[i].s, w.moved|switches
	if w.latest != w.at {
		w.latest, w.worn = w.at, 0
	}
	w.worn++
}

// keeps is what a silence leaves of a condition's doubt: little the first time, more
// the second with the same stand of its levers or with no beep in between, then all.
func (w *stepper) keeps(d *condDoubt, switches uint64) float64 {
	heard := d.heard
	if d.latching&switches != 0 {
		heard = 0
	} else if w.same && heard == 0 && d.latching != 0 && d.latching&w.moved == 0 {
		return 1
	}
	switch {
	case heard == 0 && d.tail == 0:
		return w.pl.left
	case heard == 0 && d.tail == 1:
		return w.pl.onClip
	case heard <= 1 && d.tail <= 1:
		return d.again
	}
	return 1
}

// roused tells whether doubt across pairs that were read with the levers as they
// stood is open to a silence again: one of the condition's levers must have moved.
func (d *condDoubt) roused(moved uint64) bool {
	return d.latching == 0 || d.latching&moved != 0
}

// spares is what a step leaves of a rival that it tells from the best map, by
// whether that one expects a beep: little of it, unless the same was just read.
func (w *stepper) spares(beep bool, switches uint64) float64 {
	again := 0
	if switches == 0 && (w.same || len(w.steps) > 0) {
		again = 1
	}
	return w.pl.spared[side(beep)][again]
}

func side(beep bool) int {
	if beep {
		return 1
	}
	return 0
}

// toldRivals lists the rivals that a step would tell from the best map.
func (pl *planner) toldRivals(v *voices) uint64 {
	if v.best {
		return ^v.rivals & (1<<len(pl.weight) - 1)
	}
	return v.rivals
}
