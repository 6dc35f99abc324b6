package inference

import (
	"cmp"
	"math"
	"slices"

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
	seen    int         // how many samples say something different
	split   [][]float64 // see splitTable

	weight []float64    // of each rival
	masses [][]condMass // of each pair of ends: the doubt about further links
	total  float64      // sum of the weights of all doubts
	power  float64      // doubts are weighed by this power of their chance
	left   float64      // what one reading against a doubt leaves of its weight
	again  float64      // and a second one in the same stand of the levers
	ahead  float64      // bits of doubt still to be taken away
	worth  float64      // of a share of the doubt, in bits that tell samples apart

	worn     int                     // how often the latest reading was taken in a row
	latching []uint64                // of each condition: its latching switches
	told     []bool                  // pairs read across since a lever was last moved
	moves    [][]move                // see movesFrom
	priced   map[[2]uint64]candidate // so far
	work     stepper                 // scratch
}

// condMass is the weight of the doubt whether a pair is joined under a
// condition.
type condMass struct {
	cond int32
	m    float64
}

// newPlanner prices sweeps from a bench as it stands. Clips on ends that the pod
// does not have count as off, levers that it does not have as unknown.
func (s *state) newPlanner(b mapping.Bench) *planner {
	pl := &planner{s: s, p: s.p, leads: b.Leads, astray: s.astray(), priced: map[[2]uint64]candidate{}}
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
	pl.split = splitTable(pl.samples)
	pl.worn = pl.repeats()
	pl.told = pl.toldPairs()
	pl.work = pl.newStepper()
	return pl
}

// weighDoubt lists where the doubt lies, and lays out the samples and rivals
// by setting.
func (pl *planner) weighDoubt() {
	p, s := pl.p, pl.s
	byCond := make([]float64, len(p.conds.terms))
	doubt := 0.0
	type entry struct {
		q    int
		cond int32
		m    float64
	}
	var all []entry
	p.eachAddition(s.best, s.ev, func(a, b, c, held int, d float64) {
		if d > 30 || held > pl.leads.MostHeld() {
			return
		}
		m := math.Exp2(-d)
		doubt += m
		all = append(all, entry{pairIndex(a, b), int32(c), m})
	})
	for _, r := range s.rivals {
		if r.held <= s.hands {
			doubt += math.Exp2(-r.delta)
		}
	}
	pl.ahead = math.Log2(1 + doubt/(stopDoubt/2))
	pl.power = 1 / (1 + powerSlope*pl.ahead)
	pl.left = math.Pow(0.05, pl.power)
	pl.again = math.Pow(0.4, pl.power)
	slices.SortStableFunc(all, func(a, b entry) int { return cmp.Compare(b.m, a.m) })
	tail := 0.0
	for len(all) > 0 && (len(all) > mostDoubted || tail+all[len(all)-1].m < stopDoubt/10) {
		tail += all[len(all)-1].m
		all = all[:len(all)-1]
	}
	for i := range all {
		e := &all[i]
		e.m = math.Pow(e.m, pl.power)
		byCond[e.cond] += e.m
		pl.total += e.m
	}
	pl.masses = make([][]condMass, p.n*(p.n-1)/2)
	for _, e := range all {
		pl.masses[e.q] = append(pl.masses[e.q], condMass{e.cond, e.m})
	}
	pl.pool = p.pool(pl.leads, pl.at, byCond)
	now := noFault
	if len(s.faults) > 0 {
		now = s.faults[len(s.faults)-1]
	}
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
	for _, r := range s.rivals {
		if r.held > s.hands || len(pl.weight) == mostRivals {
			continue
		}
		w := math.Pow(math.Exp2(-r.delta), pl.power)
		pl.total += w
		pl.weight = append(pl.weight, w)
		put(r.h, r.now)
	}
	put(s.best, now)
	pl.layOut(maps, stuck, sigs)
}
