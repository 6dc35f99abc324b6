package inference

import (
	"math"
	"math/bits"

	"bellout/mapping"
)

// timeShares are the shares of the grid's time that are still ahead, in the median of
// generated pods of 6 to 12 ends: measured, for the estimate alone.
type timeShares struct {
	whole  float64 // while the map is open, with no pair crossed yet
	known  float64 // of that, with all of them crossed
	bit    float64 // for each bit of doubt beyond the first, once the map is known
	shrink float64 // by which power of its ends a larger pod takes less of its grid
}

// timeAhead has them for a careful hand and an erring one.
var timeAhead = [...][2]timeShares{
	mapping.PairLeads:  {{0.75, 0.6, 0.06, 0.25}, {1.2, 0.6, 0.13, 0.25}},
	mapping.BunchLeads: {{0.55, 0.38, 0.033, 1}, {0.75, 0.5, 0.05, 1}},
}

// measuredEnds is the size of pod at which the shares stand as they are.
const measuredEnds = 10.0

// secondsLeft is a rough guess at the bench time still ahead, the sweep at hand
// included: by the pairs not crossed yet while the map is open, by the doubt
// left once it is not.
func (pl *planner) secondsLeft(c candidate, grid float64) float64 {
	t := timeAhead[pl.leads][0]
	if pl.p.hand.erring {
		t = timeAhead[pl.leads][1]
	}
	grid *= math.Min(1, math.Pow(measuredEnds/float64(pl.p.n), t.shrink))
	if pl.astray < 0.5 {
		return max(c.seconds, grid*t.bit*(pl.ahead-1))
	}
	return max(c.seconds, grid*t.whole*(t.known+(1-t.known)*pl.untried()))
}

// untried is the share of the pairs of ends that no reading was taken across.
func (pl *planner) untried() float64 {
	n := pl.p.n
	crossed := make([]uint64, n) // the ends that each end was read against
	for i := range pl.s.raw {
		o := &pl.s.raw[i]
		for m := o.red; m != 0; m &= m - 1 {
			crossed[lowBit(m)] |= o.black
		}
		for m := o.black; m != 0; m &= m - 1 {
			crossed[lowBit(m)] |= o.red
		}
	}
	open := n * (n - 1)
	for e, m := range crossed {
		open -= bits.OnesCount64(m &^ (1 << e))
	}
	return float64(open) / float64(n*(n-1))
}
