package inference

import (
	"slices"

	"bellout/mapping"
)

// extend takes step after step, each time the one with most doubt taken away for
// its seconds, as long as it pays.
func (w *stepper) extend(c *candidate) {
	for len(w.steps) < mostSteps {
		next, ok := w.best()
		if !ok || len(w.steps) > 0 && w.pl.stays(&next) < c.rate() {
			break
		}
		w.add(c, next)
	}
	c.steps = w.settings()
}

// stays is the rate up to which a step is worth staying for. What would tell samples
// apart is to be had elsewhere as well; with a needle, doubt has to go in the end, and
// coming back to a pair costs more than staying.
func (pl *planner) stays(s *step) float64 {
	split := s.split * splitWorth
	return (split + (s.bits-split)/extendAt[pl.leads]) / s.seconds
}

// add takes a step and counts it.
func (w *stepper) add(c *candidate, s step) {
	c.bits += s.bits
	c.split += s.split
	c.share += s.share
	c.seconds += s.seconds
	w.take(s.setting)
}

// settings is the steps taken, as settings.
func (w *stepper) settings() []uint64 {
	out := make([]uint64, len(w.steps))
	for k, i := range w.steps {
		out[k] = w.pl.pool[i].s
	}
	return out
}

// straightened is a sweep with its steps in the order that moves the levers least,
// if it is worth more for its time that way: steps that were chosen one by one go
// to and fro. What the readings tell depends on which levers move between them.
func (w *stepper) straightened(c candidate) (candidate, bool) {
	order := slices.Clone(w.steps)
	if saved := w.pl.straighten(order); saved <= 0 {
		return c, false
	}
	r := candidate{red: c.red, black: c.black, seconds: mapping.SecondsInstruction + w.pl.clipSeconds(c.red, c.black)}
	w.restart()
	for _, i := range order {
		if w.asked(i) {
			return c, false
		}
		w.add(&r, w.worth(i))
	}
	w.extend(&r)
	return r, r.rate() > c.rate()
}

// straighten puts steps into an order with less to move, by turning parts of it round
// as long as that helps, and tells how many seconds that saves.
func (pl *planner) straighten(order []int) (saved float64) {
	start := len(pl.pool)
	n := len(order)
	at := func(k int) int {
		if k < 0 {
			return start
		}
		return order[k]
	}
	leg := func(from, to int) float64 { return pl.movesFrom(from)[to].seconds }
	for better := true; better; {
		better = false
		for i := range n {
			inner, back := 0.0, 0.0 // of the part from i to j, as it is and turned round
			for j := i + 1; j < n; j++ {
				inner += leg(order[j-1], order[j])
				back += leg(order[j], order[j-1])
				have, want := leg(at(i-1), order[i])+inner, leg(at(i-1), order[j])+back
				if j+1 < n {
					have += leg(order[j], order[j+1])
					want += leg(order[i], order[j+1])
				}
				if want < have-1e-9 {
					slices.Reverse(order[i : j+1])
					saved += have - want
					better = true
					break
				}
			}
		}
	}
	return saved
}
