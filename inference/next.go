package inference

import "bellout/mapping"

// Proposal is the next sweep and what is still ahead: the bench seconds that
// the planner expects to need from here, and those that the textbook grid would need
// for the whole pod.
type Proposal struct {
	Sweep       mapping.Sweep
	SecondsLeft float64
	GridSeconds float64
}

// countBelow is the doubt from which on a smallest pod is counted out, which takes too
// long for every sweep: the count may find less of it than the rivals do.
const countBelow = 10 * stopDoubt

// Next proposes a sweep, as the function Next does.
func (e *Engine) Next(bench mapping.Bench) (Proposal, bool) {
	s := e.now().withHands(bench.Leads)
	if s.doubtLeft() < countBelow {
		s = s.counted().withHands(bench.Leads)
	}
	number := uint64(e.steps[len(e.steps)-1].number) + 1
	if s.enough() || s.p.n < 2 || len(s.raw)+len(s.unsaid) >= s.p.mostReadings() {
		return Proposal{}, false
	}
	pl := s.newPlanner(bench)
	last := len(e.readings) - 1
	justBit := last >= 0 && e.readings[last].Control // a control beep: no other at once, whatever came of it
	if !justBit && pl.mustBite() {
		return pl.bite(), true
	}
	c, ok := pl.best(number)
	if !ok { // the samples agree with each other, not with the best map: go by the doubts alone
		pl.worth = confirmWorth[bench.Leads]
		pl.priced.Clear()
		c, ok = pl.best(number)
	}
	if rate := pl.biteRate(); !justBit && rate > 0 && (!ok || rate > c.rate()) {
		b := pl.bite()
		if ok {
			b.SecondsLeft = pl.secondsLeft(c, b.GridSeconds)
		}
		return b, true
	}
	if !ok && pl.red != 0 && pl.black != 0 { // nothing but the clips can be moved
		w := pl.newStepper()
		c = w.sweep(pl.black, pl.red)
		ok = len(c.steps) > 0
	}
	if !ok {
		return Proposal{}, false
	}
	return pl.propose(c), true
}

// mostReadings is when probing ends whatever the doubt, at half as many readings
// again as the grid takes: what they have not settled is said to be unresolved.
func (p *problem) mostReadings() int {
	steps := 1
	for _, n := range p.npos {
		steps += n - 1
	}
	return 60 + 3*p.n*(p.n-1)/4*steps
}

// propose puts a candidate into the pod's words.
func (pl *planner) propose(c candidate) Proposal {
	sw := mapping.Sweep{Red: pl.p.unends(c.red), Black: pl.p.unends(c.black)}
	for _, s := range c.steps {
		sw.Steps = append(sw.Steps, pl.p.unsetting(s))
	}
	sw.Why = mapping.Why{Reason: mapping.Confirm, Maps: pl.seen, Bits: c.bits, Seconds: c.seconds}
	if c.split > c.bits/2 {
		sw.Why.Reason = mapping.Separate
	}
	if len(pl.s.raw) == 0 {
		sw.Why.Reason = mapping.Survey
	}
	grid := mapping.GridSeconds(pl.p.pod)
	return Proposal{Sweep: sw, GridSeconds: grid, SecondsLeft: pl.secondsLeft(c, grid)}
}
