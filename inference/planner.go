package inference

import (
	"math"
	"sync"

	"bellout/mapping"
)

// planner prices sweeps for one state of knowledge and one bench.
type planner struct {
	s     *state
	p     *problem
	leads mapping.Leads
	red   uint64 // where the clips are
	black uint64
	at    uint64 // where the levers are, 0: nobody knows
	pool  []poolSetting

	nets    netBook     // of the maps: the samples, the rivals, the best map
	oddNets netBook     // of those that believe a lever elsewhere or the clip off, while that lasts
	spells  []spell     // what they believe
	slipped voices      // those that believe the clip off
	samples int         // how many of the maps are samples
	astray  float64     // share of the samples that disagree with the best map
	lost    bool        // sweeps have to cross few pairs
	seen    int         // how many samples say something different
	split   [][]float64 // see splitTable

	weight   []float64     // of each rival
	masses   [][]condMass  // of each pair of ends: the doubt about further links
	doubts   int           // how many such doubts there are
	now      fault         // what the best map believes of the bench
	reads    []poolSetting // by pool setting: the one that stands there by what the best map believes of the levers
	bestNets [][]uint64    // of the best map, by pool setting, as it is read
	tail     []int         // of each doubt with a needle, of each condition with bunches: silences since a beep with the clips as they are
	rivals   []*rival      // that are gone by
	total    float64       // sum of the weights of all doubts
	power    float64       // doubts are weighed by this power of their chance
	left     float64       // what one reading against a doubt leaves of its weight
	again    []float64     // and a second one in the same stand of its levers, by condition
	onClip   float64       // and one in a fresh stand, the second with the clips left alone
	spared   [2][2]float64 // what a silence and a beep leave of a rival, and each of them heard again
	ahead    float64       // bits of doubt still to be taken away
	due      []float64     // by condition: what a first silence at a place is worth besides, in the weight of doubts
	worth    float64       // of a share of the doubt, in bits that tell samples apart

	latching []uint64 // of each condition: its latching switches
	told     []bool   // pairs read across since a lever was last moved
	moves    []moves  // see movesFrom
	declined *declined
	priced   sync.Map // candidates so far, by their bunches
}

// newPlanner prices sweeps from a bench as it stands. Clips on ends that the pod
// does not have count as off, levers that it does not have as unknown.
func (s *state) newPlanner(b mapping.Bench) *planner {
	pl := &planner{s: s, p: s.p, leads: b.Leads, astray: s.astray(), lost: s.lost(b.Leads)}
	pl.worth = confirmWorth[b.Leads] * max(confirmFloor[b.Leads], 1-pl.astray)
	pl.red, _ = s.p.ends(b.Red)
	pl.black, _ = s.p.ends(b.Black)
	if b.Levers != nil {
		pl.at, _ = s.p.setting(b.Levers)
	}
	for c := range pl.p.conds.terms {
		var m uint64
		for d := range pl.p.conds.depth[c] {
			if k := pl.p.conds.sw[c][d]; !pl.p.momentary[k] {
				m |= 1 << k
			}
		}
		pl.latching = append(pl.latching, m)
	}
	pl.weighDoubt()
	pl.due = pl.dueByCond()
	pl.split = splitTable(pl.samples)
	pl.told = pl.toldPairs()
	pl.declined = s.declined()
	pl.moves = make([]moves, len(pl.pool)+1)
	return pl
}

// weighDoubt lists where the doubt lies, and lays out the samples and rivals
// by setting.
func (pl *planner) weighDoubt() {
	p, s := pl.p, pl.s
	byCond := make([]float64, len(p.conds.terms))
	pl.masses = make([][]condMass, p.n*(p.n-1)/2)
	all, doubt := pl.linkDoubts()
	for _, r := range s.rivals {
		if r.held <= s.hands {
			doubt += r.weight()
		}
	}
	pl.ahead = math.Log2(1 + doubt/(stopDoubt/2))
	pl.power = 1 / (1 + powerSlope*pl.ahead)
	for beep, by := range sparedRivals {
		for again, v := range by {
			pl.spared[beep][again] = math.Pow(v, pl.power)
		}
	}
	pl.left = pl.spared[side(false)][0]
	pl.onClip = math.Exp2((priceSilence - slipSays(2)) * pl.power)
	for c := range p.conds.terms {
		pl.again = append(pl.again, math.Exp2((priceSilence-p.standSays(c))*pl.power))
	}
	for i := range all {
		d := &all[i]
		d.weight = math.Pow(d.weight, pl.power)
		byCond[d.cond] += d.weight
		pl.total += d.weight
		pl.enter(*d, i)
	}
	pl.doubts = len(all)
	pl.pool = p.pool(pl.leads, pl.at, byCond, s.best)
	pl.now = noFault
	if n := len(s.faults); n > 0 {
		pl.now = s.madeAnew(s.faults[n-1])
	}
	for _, at := range pl.pool {
		if real := pl.stuckAt(at.s, pl.now); real != at.s {
			at = poolSetting{s: real, conds: p.holdingConds(real)}
		}
		pl.reads = append(pl.reads, at)
		pl.bestNets = append(pl.bestNets, s.best.nets(at.s, nil))
	}
	pl.countTail()
	var maps []*hyp
	var stuck []fault // of each map: what it believes of the bench now
	var sigs []uint64 // of each sample
	put := func(h *hyp, f fault) {
		maps = append(maps, h)
		stuck = append(stuck, f)
	}
	different := map[uint64]bool{}
	for i, c := range s.chains {
		put(c.h, s.stuck[i])
		sigs = append(sigs, p.signature(c.h))
		different[sigs[i]] = true
	}
	pl.seen, pl.samples = len(different), len(s.chains)
	pl.rivals = pl.inPlay()
	for _, r := range pl.rivals {
		w := math.Pow(r.weight(), pl.power)
		pl.total += w
		pl.weight = append(pl.weight, w)
		put(r.h, s.madeAnew(r.now))
	}
	put(s.best, pl.now)
	pl.layOut(maps, stuck, sigs)
}

// inPlay is the rivals that the planner goes by.
func (pl *planner) inPlay() []*rival {
	var out []*rival
	for i := range pl.s.rivals {
		if r := &pl.s.rivals[i]; r.held <= pl.s.hands && r.weight() > 0 && len(out) < mostRivals {
			out = append(out, r)
		}
	}
	return out
}

// madeAnew is what is believed of the bench now: a clip whose control beep has failed
// was made anew.
func (s *state) madeAnew(f fault) fault {
	if n := len(s.raw); f.slip && n > 0 && s.raw[n-1].control {
		return noFault
	}
	return f
}

// stuckAt is the setting that stands where another is made, by what is believed of a
// lever that is not moved for it.
func (pl *planner) stuckAt(s uint64, f fault) uint64 {
	if k := int(f.lever); !f.slip && k >= 0 && pl.at != 0 && (s^pl.at)&pl.p.swMask[k] == 0 {
		return pl.p.moveTo(s, k, int(f.actual))
	}
	return s
}
