package inference

import (
	"math/bits"
	"slices"

	"bellout/mapping"
)

// Proposal is the next sweep and what is still ahead: the bench seconds that
// the planner expects to need from here (0 with a control beep, which is not
// planned that far), and those that the textbook grid would need for the whole
// pod.
type Proposal struct {
	Sweep       mapping.Sweep
	SecondsLeft float64
	GridSeconds float64
}

// Next proposes a sweep, as the function Next does.
func (e *Engine) Next(bench mapping.Bench) (Proposal, bool) {
	s := e.now().settled().withHands(bench.Leads)
	if s.doubtLeft() < stopDoubt {
		s = s.counted().withHands(bench.Leads)
	}
	number := uint64(e.steps[len(e.steps)-1].number) + 1
	if s.doubtLeft() < stopDoubt || s.p.n < 2 || len(s.raw) >= s.p.mostReadings() {
		return Proposal{}, false
	}
	if p, ok := s.biteTest(bench); ok {
		return p, true
	}
	pl := s.newPlanner(bench)
	c, ok := pl.best(number)
	if !ok { // the samples agree with each other, not with the best map: go by the doubts alone
		pl.worth = confirmWorth[bench.Leads]
		pl.priced.Clear()
		c, ok = pl.best(number)
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

const (
	tailForBite  = 16  // silences in a row after which a control beep pays
	slipShare    = 0.2 // of the samples that believe the clip off
	slipSuspects = 4   // silences in a row before samples are asked
)

// biteTest proposes a control beep when the clip is likely off, or when so
// many silences hang on it that the beep pays for itself.
func (s *state) biteTest(b mapping.Bench) (Proposal, bool) {
	if len(b.Black) == 0 || len(s.raw) == 0 {
		return Proposal{}, false
	}
	last := s.raw[len(s.raw)-1]
	if last.control || last.closed {
		return Proposal{}, false
	}
	tail := 0
	for _, o := range slices.Backward(s.raw) {
		if o.closed || o.control || o.session != last.session {
			break
		}
		tail++
	}
	off := 0
	for _, f := range s.stuck {
		if f.slip {
			off++
		}
	}
	suspect := s.faults[len(s.faults)-1].slip || float64(off) > slipShare*float64(len(s.stuck))
	if tail < tailForBite && !(suspect && tail >= slipSuspects) {
		return Proposal{}, false
	}
	end := b.Black[:1]
	sw := mapping.Sweep{Red: end, Black: end, Control: true, Why: mapping.Why{
		Reason: mapping.BiteTest, Ends: end, Seconds: mapping.SecondsInstruction + mapping.SecondsReading}}
	return Proposal{Sweep: sw, GridSeconds: mapping.GridSeconds(s.p.pod)}, true
}

// Shares of the grid's time that a whole pod has taken, and seconds for each bit
// of doubt once the map is known: measured, for the estimate alone.
var gridShare = [...]float64{mapping.PairLeads: 0.8, mapping.BunchLeads: 0.4}

const secondsABit = 15.0

// secondsLeft is a rough guess at the bench time still ahead, the sweep at hand
// included: by the pairs not crossed yet while the map is open, by the doubt
// left once it is not.
func (pl *planner) secondsLeft(c candidate, grid float64) float64 {
	p := pl.p
	if pl.astray < 0.5 {
		return max(c.seconds, pl.ahead*secondsABit)
	}
	crossed := make([]uint64, p.n) // the ends that each end was read against
	for i := range pl.s.raw {
		o := &pl.s.raw[i]
		for m := o.red; m != 0; m &= m - 1 {
			crossed[lowBit(m)] |= o.black
		}
		for m := o.black; m != 0; m &= m - 1 {
			crossed[lowBit(m)] |= o.red
		}
	}
	open := p.n * (p.n - 1)
	for e, m := range crossed {
		open -= bits.OnesCount64(m &^ (1 << e))
	}
	untried := float64(open) / float64(p.n*(p.n-1))
	return max(c.seconds, grid*gridShare[pl.leads]*(0.3+0.7*untried))
}
