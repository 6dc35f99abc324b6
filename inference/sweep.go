package inference

import (
	"math"
	"math/bits"
	"slices"

	"bellout/mapping"
)

// candidate is a sweep with its price and worth.
type candidate struct {
	red, black uint64
	steps      []uint64
	bits       float64
	seconds    float64
	split      float64 // the part of bits that tells samples apart
	share      float64 // of all doubt, what it would strike
}

// rate is in bits for each second at the bench.
func (c *candidate) rate() float64 { return c.bits / c.seconds }

// price works out the best steps for a pair of bunches: step after step the
// one with most doubt taken away for its seconds, as long as it pays.
func (pl *planner) price(red, black uint64) candidate {
	c := candidate{red: red, black: black}
	c.seconds = mapping.SecondsInstruction + pl.clipSeconds(red, black)
	o := pl.look(red, black)
	q, later := pl.byCond, pl.byCondLater
	clear(q)
	clear(later)
	for r := red; r != 0; r &= r - 1 {
		for b := black; b != 0; b &= b - 1 {
			pair := pairIndex(lowBit(r), lowBit(b))
			into := q
			if pl.told[pair] {
				into = later
			}
			for _, cm := range pl.masses[pair] {
				into[cm.cond] += cm.m
			}
		}
	}
	rivals := slices.Clone(pl.weight)
	var chosen []uint64
	at := pl.at
	cut := 1 - pl.left
	same := red == pl.red && black == pl.black
	var moved uint64
	// told lists the rivals that a step would tell from the best map.
	told := func(rivals uint64, best bool) uint64 {
		if best {
			return ^rivals & (1<<len(pl.weight) - 1)
		}
		return rivals
	}
	// keeps is what a silence leaves of a condition's doubt: little the first
	// time, more the second with the same stand of its levers, then all.
	heard := pl.heard
	clear(heard)
	keeps := func(k int32, step uint64) float64 {
		n := heard[k]
		if pl.latching[k]&step != 0 {
			n = 0
		} else if same && n == 0 && pl.latching[k] != 0 && pl.latching[k]&moved == 0 {
			return 1
		}
		switch n {
		case 0:
			return pl.left
		case 1:
			return pl.again
		}
		return 1
	}
	for len(c.steps) < mostSteps {
		best, bestRate, bestBits, bestSecs, bestSplit, bestShare := -1, 0.0, 0.0, 0.0, 0.0, 0.0
		for i := range pl.pool {
			if same && pl.pool[i].s == at && pl.worn >= mostRepeats {
				continue
			}
			secs := mapping.SecondsReading + pl.leverSeconds(at, pl.pool[i].s)
			strike := 0.0
			step := pl.movedBetween(at, pl.pool[i].s)
			mv := moved | step
			samples, beeping, beeps := pl.foresee(&o, i, mv)
			split := pl.fresh(samples, chosen)
			if !beeps {
				for _, k := range pl.pool[i].conds {
					if m := q[k] + pl.roused(later, k, mv); m > 0 {
						strike += m * (1 - keeps(k, step))
					}
				}
			}
			for d := told(beeping, beeps); d != 0; d &= d - 1 {
				strike += rivals[lowBit(d)] * cut
			}
			share := strike / max(pl.total, 1e-9)
			b := split*splitWorth + pl.worth*pl.ahead*share
			if r := b / secs; r > bestRate {
				best, bestRate, bestBits, bestSecs, bestSplit, bestShare = i, r, b, secs, split, share
			}
		}
		if best < 0 || len(c.steps) > 0 && bestRate < c.rate()*extendAt[pl.leads] {
			break
		}
		c.steps = append(c.steps, pl.pool[best].s)
		c.bits += bestBits
		c.split += bestSplit
		c.share += bestShare
		c.seconds += bestSecs
		step := pl.movedBetween(at, pl.pool[best].s)
		at = pl.pool[best].s
		samples, beeping, beeps := pl.foresee(&o, best, moved|step)
		chosen = append(chosen, samples)
		if !beeps {
			for _, k := range pl.pool[best].conds {
				kept := keeps(k, step)
				q[k] *= kept
				if pl.roused(later, k, moved|step) > 0 {
					later[k] *= kept
				}
				if pl.latching[k]&step != 0 {
					heard[k] = 0
				}
				heard[k]++
			}
		}
		moved |= step
		for d := told(beeping, beeps); d != 0; d &= d - 1 {
			i := lowBit(d)
			rivals[i] *= pl.left
		}
	}
	return c
}

// fresh is how much a step tells of the samples that the steps so far do not:
// the least of its entropies given each one of them (an upper bound of the
// joint information, by a tree of pairs).
func (pl *planner) fresh(w uint64, chosen []uint64) float64 {
	n := pl.samples
	ones := bits.OnesCount64(w)
	h := pl.split[n][ones]
	for _, c := range chosen {
		if h == 0 {
			return 0
		}
		in := bits.OnesCount64(c)
		both := bits.OnesCount64(c & w)
		h = min(h, pl.split[in][both]+pl.split[n-in][ones-both])
	}
	return h
}

// splitTable holds n/total times the entropy of k in n, for a total of samples.
func splitTable(total int) [][]float64 {
	t := make([][]float64, total+1)
	for n := range t {
		t[n] = make([]float64, n+1)
		for k := 1; k < n; k++ {
			x := float64(k) / float64(n)
			t[n][k] = -(x*math.Log2(x) + (1-x)*math.Log2(1-x)) * float64(n) / float64(total)
		}
	}
	return t
}

// movedBetween is the set of switches that stand elsewhere in two settings: all,
// if nobody knows where they stood.
func (pl *planner) movedBetween(from, to uint64) uint64 {
	if from == 0 {
		return 1<<len(pl.p.npos) - 1
	}
	var m uint64
	for k := range pl.p.npos {
		if (from^to)&pl.p.swMask[k] != 0 {
			m |= 1 << k
		}
	}
	return m
}

// leverSeconds is what it takes to move the levers and hold the buttons of a
// setting; from 0, nobody knows where the levers are, and only buttons count.
func (pl *planner) leverSeconds(from, to uint64) float64 {
	t := 0.0
	p := pl.p
	for k := range p.npos {
		b := p.position(to, k)
		if p.momentary[k] {
			if b != p.rest[k] {
				t += pl.leads.HoldSeconds()
			}
			continue
		}
		if from != 0 {
			d := b - p.position(from, k)
			t += mapping.SecondsLeverStep * float64(max(d, -d))
		}
	}
	return t
}

// clipSeconds is what it takes to move the clips to a pair of bunches.
func (pl *planner) clipSeconds(red, black uint64) float64 {
	if pl.leads == mapping.PairLeads {
		t := 0.0
		if red != pl.red {
			t += mapping.SecondsMoveRed
		}
		if black != pl.black {
			t += mapping.SecondsMoveBlack
		}
		return t
	}
	return sideSeconds(pl.red, red) + sideSeconds(pl.black, black)
}

// sideSeconds is what it takes to make one bunch into another.
func sideSeconds(have, want uint64) float64 {
	add, take := bits.OnesCount64(want&^have), bits.OnesCount64(have&^want)
	size := bits.OnesCount64(have)
	switch {
	case add == 0 && take == 0:
		return 0
	case size == 0:
		return mapping.SecondsChangeSingle + float64(add-1)*mapping.SecondsBunchAdd
	case take == size:
		return float64(take-1)*mapping.SecondsBunchTake + mapping.SecondsChangeSingle +
			float64(add-1)*mapping.SecondsBunchAdd
	}
	return float64(add)*mapping.SecondsBunchAdd + float64(take)*mapping.SecondsBunchTake
}

const (
	mostSteps = 24 // of one sweep

	// mostDoubted bounds the further links that a sweep is planned by; the long
	// tail that adds up to a tenth of the stop rule is left out anyway.
	mostDoubted = 6000

	// powerSlope bends the weight of doubts: the further from the stop rule, the
	// more a doubt that is small already still counts, since it will have to go
	// in the end and the clips are there now.
	powerSlope = 0.22
	// splitWorth is what a bit that tells samples apart is worth: they overstate.
	splitWorth = 0.7
)

// Tried by hand on the fixtures and on generated pods; flat around these values.
var (
	// confirmWorth is what all doubt about rivals and further links is worth, in
	// bits that tell samples apart for each bit still ahead; less while samples
	// disagree with the best map, down to confirmFloor of it.
	confirmWorth = [...]float64{mapping.PairLeads: 4, mapping.BunchLeads: 1.5}
	confirmFloor = [...]float64{mapping.PairLeads: 0, mapping.BunchLeads: 0.2}

	// extendAt is the part of a sweep's own rate at which one more step still
	// pays: with a needle, coming back to a pair costs more than staying.
	extendAt = [...]float64{mapping.PairLeads: 0.6, mapping.BunchLeads: 1}
)

// roused is the doubt of a condition across pairs that were read with the levers
// as they stand: one of its levers must move before a silence there is news.
func (pl *planner) roused(later []float64, k int32, moved uint64) float64 {
	if pl.latching[k] != 0 && pl.latching[k]&moved == 0 {
		return 0
	}
	return later[k]
}

// toldPairs marks the pairs read across since a lever was last moved.
func (pl *planner) toldPairs() []bool {
	told := make([]bool, pl.p.n*(pl.p.n-1)/2)
	raw := pl.s.raw
	for i := len(raw) - 1; i >= 0; i-- {
		o := &raw[i]
		if !o.control {
			for r := o.red; r != 0; r &= r - 1 {
				for b := o.black; b != 0; b &= b - 1 {
					told[pairIndex(lowBit(r), lowBit(b))] = true
				}
			}
		}
		for k := range pl.p.npos {
			if o.moved>>k&1 == 1 && !pl.p.momentary[k] {
				return told
			}
		}
	}
	return told
}
