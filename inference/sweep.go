package inference

import (
	"math"
	"math/bits"
	"sync"

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

// sweep works out the best steps for a pair of bunches: step after step the one with
// most doubt taken away for its seconds, as long as it pays, in the order with the
// least to move.
func (w *stepper) sweep(red, black uint64) candidate {
	c := w.greedy(red, black)
	if r, ok := w.straightened(c); ok {
		c = r
	}
	return c
}

func (w *stepper) greedy(red, black uint64) candidate {
	w.begin(red, black)
	c := candidate{red: red, black: black, seconds: mapping.SecondsInstruction + w.pl.clipSeconds(red, black)}
	w.extend(&c)
	return c
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

// move is what lies between two stands of the levers.
type move struct {
	switches uint64  // that stand elsewhere
	seconds  float64 // to get there and read
}

// moves are those to all pool settings, worked out when somebody asks.
type moves struct {
	once sync.Once
	to   []move
}

// movesFrom gives the moves to all pool settings, from a pool setting or, beyond
// the last, from where the levers are.
func (pl *planner) movesFrom(from int) []move {
	m := &pl.moves[from]
	m.once.Do(func() {
		at := pl.at
		if from < len(pl.pool) {
			at = pl.pool[from].s
		}
		m.to = make([]move, len(pl.pool))
		for i := range m.to {
			to := pl.pool[i].s
			m.to[i] = move{pl.movedBetween(at, to), mapping.SecondsReading + pl.leverSeconds(at, to)}
		}
	})
	return m.to
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
	powerSlope = 0.12
	// splitWorth is what a bit that tells samples apart is worth: they overstate.
	splitWorth = 0.7
)

// sparedRivals is what a silence and a beep leave of the chance of a rival that
// expects the other, and what each leaves when it is heard again with nothing
// moved in between: a false beep is rarer than a false silence, and heard twice
// either says little more than that the lever stands elsewhere or the clip is off.
var sparedRivals = [2][2]float64{{0.05, 0.3}, {0.006, 0.5}}

// Tried by hand on the fixtures and on generated pods; flat around these values.
var (
	// confirmWorth is what all doubt about rivals and further links is worth, in
	// bits that tell samples apart for each bit still ahead; less while samples
	// disagree with the best map, down to confirmFloor of it: then the doubts are
	// those of a wrong map.
	confirmWorth = [...]float64{mapping.PairLeads: 3, mapping.BunchLeads: 1.5}
	confirmFloor = [...]float64{mapping.PairLeads: 0.02, mapping.BunchLeads: 0.2}

	// dueWorth is what a silence is worth besides, in bits that tell samples apart,
	// where a doubt by itself can hold up the stop (a pair and position never read is
	// such a one) and no setting joins anything: it must be read some day, and with a
	// needle coming back for it costs more than reading it while the pair is at hand.
	// Less where much is joined (due.go), and down to dueFloor of it while samples
	// disagree: then nobody knows yet what is.
	dueWorth = [...]float64{mapping.PairLeads: 1.5, mapping.BunchLeads: 0}

	// extendAt is the part of a sweep's own rate at which one more step that only
	// strikes doubt still pays.
	extendAt = [...]float64{mapping.PairLeads: 0.3, mapping.BunchLeads: 1}
)

const dueFloor = 0.5

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
