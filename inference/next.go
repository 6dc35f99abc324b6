package inference

import (
	"cmp"
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"

	"bellout/mapping"
)

// Proposal is the next sweep and what is still ahead: the bench seconds that
// the planner expects to need from here, and what the textbook grid would need
// for the whole pod.
type Proposal struct {
	Sweep       mapping.Sweep
	SecondsLeft float64
	GridSeconds float64
}

// planner prices sweeps for one state of knowledge and one bench.
type planner struct {
	s     *state
	p     *problem
	leads mapping.Leads
	red   uint64 // where the clips are
	black uint64
	at    uint64 // where the levers are, 0: nobody knows
	pool  []poolSetting

	maps     [][][]uint64 // nets of each sample, then of each rival, by pool setting
	worn     int          // how often the latest reading was taken in a row
	worth    float64      // of a share of the doubt, in bits that tell samples apart
	samples  int
	sigs     []uint64     // of each sample
	alike    []uint64     // for the first sample of each kind: all samples of that kind
	weight   []float64    // of each rival
	stuck    []fault      // of each rival: what it believes of the bench now
	odd      [][][]uint64 // nets of each rival while that lasts, nil where it makes no difference
	split    [][]float64  // see splitTable
	heard    []uint8      // scratch: silences so far, by condition
	byCond   []float64    // scratch: doubt across the bunches at hand, by condition
	masses   [][]condMass
	latching []uint64 // of each condition: its latching switches
	total    float64  // sum of the weights of all doubts
	power    float64  // doubts are weighed by this power of their chance
	left     float64  // what one reading against a doubt leaves of its weight
	again    float64  // and a second one in the same stand of the levers
	ahead    float64  // bits of doubt still to be taken away
	seen     int
}

type condMass struct {
	cond int32
	m    float64
}

// candidate is a sweep with its price and worth.
type candidate struct {
	red, black uint64
	steps      []uint64
	bits       float64
	seconds    float64
	split      float64 // the part of bits that tells samples apart
	share      float64 // of all doubt, what it would strike
}

func (c *candidate) rate() float64 { return c.bits / c.seconds }

func (s *state) newPlanner(b mapping.Bench) *planner {
	pl := &planner{s: s, p: s.p, leads: b.Leads, worth: confirmWorth[b.Leads] * max(confirmFloor[b.Leads], 1-s.astray())}
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
	pl.byCond = make([]float64, len(pl.p.conds.terms))
	pl.heard = make([]uint8, len(pl.p.conds.terms))
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
	put := func(h *hyp, f fault) {
		pl.maps = append(pl.maps, pl.netsOf(h))
		pl.stuck = append(pl.stuck, f)
		pl.odd = append(pl.odd, pl.oddNets(h, f))
	}
	sigs := map[uint64]bool{}
	for i, c := range s.chains {
		put(c.h, s.stuck[i])
		pl.sigs = append(pl.sigs, p.signature(c.h, p.telling))
		sigs[pl.sigs[i]] = true
	}
	pl.seen, pl.samples = len(sigs), len(s.chains)
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
	pl.group()
}

// mostRepeats is how often one reading is taken in a row; more would ask a
// lever or a clip that must be moved first.
const mostRepeats = 2

func (pl *planner) repeats() int {
	raw := pl.s.raw
	n := 0
	for i := len(raw) - 1; i >= 0; i-- {
		o, l := &raw[i], &raw[len(raw)-1]
		if o.red != l.red || o.black != l.black || o.s != l.s || o.control {
			break
		}
		n++
	}
	return n
}

// group finds the samples that say the same everywhere, so that each kind is
// asked but once.
func (pl *planner) group() {
	type kind struct {
		sig uint64
		f   fault
	}
	first := map[kind]int{}
	pl.alike = make([]uint64, len(pl.maps))
	for m := range pl.maps {
		if m >= pl.samples {
			pl.alike[m] = 1
			continue
		}
		k := kind{pl.sigs[m], pl.stuck[m]}
		if _, ok := first[k]; !ok {
			first[k] = m
		}
		pl.alike[first[k]] |= 1 << m
	}
}

// oddNets lays out the nets that a map expects while a lever is not where it
// is believed to be.
func (pl *planner) oddNets(h *hyp, f fault) [][]uint64 {
	k := int(f.lever)
	if k < 0 || pl.at == 0 {
		return nil
	}
	out := make([][]uint64, len(pl.pool))
	for i := range pl.pool {
		s := pl.pool[i].s
		if (s^pl.at)&pl.p.swMask[k] == 0 {
			out[i] = h.nets(pl.p.moveTo(s, k, int(f.actual)), nil)
			if out[i] == nil {
				out[i] = []uint64{}
			}
		}
	}
	return out
}

func (pl *planner) netsOf(h *hyp) [][]uint64 {
	out := make([][]uint64, len(pl.pool))
	var buf []uint64
	for i := range pl.pool {
		buf = h.nets(pl.pool[i].s, buf)
		out[i] = slices.Clone(buf)
	}
	return out
}

func touching(nets []uint64, red, black uint64) bool {
	for _, m := range nets {
		if m&red != 0 && m&black != 0 {
			return true
		}
	}
	return false
}

// outlook is what the maps in play say of one pair of bunches, by pool
// setting: as things should be, and while what a map believes of the bench (a
// lever elsewhere, the clip off) still lasts.
type outlook struct{ plain, stuck view }

type view struct {
	samples []uint64 // which samples beep
	rivals  []uint64 // which rivals beep
	best    []bool   // whether the best map beeps
}

func newView(n int) view {
	return view{make([]uint64, n), make([]uint64, n), make([]bool, n)}
}

func (pl *planner) look(red, black uint64) outlook {
	n := len(pl.pool)
	same := red == pl.red && black == pl.black
	o := outlook{newView(n), newView(n)}
	for i := range n {
		for m := range pl.maps {
			if pl.alike[m] == 0 {
				continue
			}
			beeps := touching(pl.maps[m][i], red, black)
			late := beeps
			switch f := pl.stuck[m]; {
			case f.slip:
				late = beeps && !same
			case pl.odd[m] != nil && pl.odd[m][i] != nil:
				late = touching(pl.odd[m][i], red, black)
			}
			o.plain.set(pl, i, m, beeps)
			o.stuck.set(pl, i, m, late)
		}
	}
	return o
}

func (v *view) set(pl *planner, i, m int, beeps bool) {
	switch {
	case !beeps:
	case m < pl.samples:
		v.samples[i] |= pl.alike[m]
	case m == len(pl.maps)-1:
		v.best[i] = true
	default:
		v.rivals[i] |= 1 << (m - pl.samples)
	}
}

// foresee is what samples, rivals and the best map say of a step, given which
// switches were moved before it.
func (pl *planner) foresee(o *outlook, i int, moved uint64) (samples, rivals uint64, best bool) {
	samples, rivals, best = o.plain.samples[i], o.plain.rivals[i], o.plain.best[i]
	if pl.stuck[len(pl.maps)-1].lasts(moved) {
		best = o.stuck.best[i]
	}
	var last uint64
	for m := range pl.samples {
		if pl.stuck[m].lasts(moved) {
			last |= 1 << m
		}
	}
	samples = samples&^last | o.stuck.samples[i]&last
	last = 0
	for r := range pl.weight {
		if pl.stuck[pl.samples+r].lasts(moved) {
			last |= 1 << r
		}
	}
	rivals = rivals&^last | o.stuck.rivals[i]&last
	return samples, rivals, best
}

// lasts tells whether a fault goes on once some switches have been moved.
func (f fault) lasts(moved uint64) bool {
	return f.slip || f.lever >= 0 && moved>>f.lever&1 == 0
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

// price works out the best steps for a pair of bunches: step after step the
// one with most doubt taken away for its seconds, as long as it pays.
func (pl *planner) price(red, black uint64) candidate {
	c := candidate{red: red, black: black}
	c.seconds = mapping.SecondsInstruction + pl.clipSeconds(red, black)
	o := pl.look(red, black)
	q := pl.byCond
	clear(q)
	for r := red; r != 0; r &= r - 1 {
		for b := black; b != 0; b &= b - 1 {
			for _, cm := range pl.masses[pairIndex(lowBit(r), lowBit(b))] {
				q[cm.cond] += cm.m
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
					if q[k] > 0 {
						strike += q[k] * (1 - keeps(k, step))
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
				q[k] *= keeps(k, step)
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

const (
	mostSteps = 24

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

// movedBetween is the set of switches that stand elsewhere in two settings.
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

// Next proposes a sweep, as the function Next does.
func (e *Engine) Next(bench mapping.Bench) (Proposal, bool) {
	s := e.now().withHands(bench.Leads)
	if s.doubtLeft() < stopDoubt || s.p.n < 2 || len(s.raw) >= s.p.mostReadings() {
		return Proposal{}, false
	}
	if p, ok := s.biteTest(bench); ok {
		return p, true
	}
	pl := s.newPlanner(bench)
	c, ok := pl.best(uint64(len(e.steps)))
	if !ok {
		return Proposal{}, false
	}
	return pl.propose(c), true
}

// mostReadings is when probing ends whatever the doubt: what so many readings
// have not settled is said to be unresolved.
func (p *problem) mostReadings() int {
	steps := 1
	for _, n := range p.npos {
		steps += n - 1
	}
	return 100 + 4*p.n*(p.n-1)/2*steps
}

func (pl *planner) best(seed uint64) (candidate, bool) {
	var best candidate
	consider := func(c candidate) {
		if len(c.steps) > 0 && (len(best.steps) == 0 || c.rate() > best.rate()+1e-12) {
			best = c
		}
	}
	if pl.leads == mapping.PairLeads {
		for a := range pl.p.n {
			for b := range a {
				consider(pl.price(1<<a, 1<<b))
				if pl.clipSeconds(1<<b, 1<<a) < pl.clipSeconds(1<<a, 1<<b) {
					consider(pl.price(1<<b, 1<<a))
				}
			}
		}
		return best, len(best.steps) > 0
	}
	rng := rand.New(rand.NewPCG(3, seed))
	for _, start := range pl.starts(rng) {
		consider(pl.climb(start[0], start[1], rng))
	}
	// One sweep that can end the work beats a cheaper one that cannot.
	if cut, ok := pl.cut(); ok && pl.seen == 1 {
		if c := pl.price(cut[0], cut[1]); c.share > finishing*(1-pl.left) && best.share < c.share-0.02 &&
			c.seconds < 2*best.seconds+mapping.SecondsChangeSingle {
			best = c
		}
	}
	return best, len(best.steps) > 0
}

// finishing is the share of all doubt that a sweep must bear on to end the work.
const finishing = 0.97

// starts gives the bunches from which the search sets out: where the clips
// are, one end against the rest, and halves.
func (pl *planner) starts(rng *rand.Rand) [][2]uint64 {
	var out [][2]uint64
	if pl.red != 0 && pl.black != 0 {
		out = append(out, [2]uint64{pl.red, pl.black})
	}
	if cut, ok := pl.cut(); ok {
		out = append(out, cut)
	}
	all := uint64(1)<<pl.p.n - 1
	e := uint64(1) << rng.IntN(pl.p.n)
	out = append(out, [2]uint64{e, all &^ e})
	for range 2 {
		var red uint64
		for i, v := range rng.Perm(pl.p.n) {
			if i%2 == 0 {
				red |= 1 << v
			}
		}
		out = append(out, [2]uint64{red, all &^ red})
	}
	return out
}

// cut parts the ends so that much of the doubt lies across: each end in turn,
// heaviest first, on the side that has more against it.
func (pl *planner) cut() ([2]uint64, bool) {
	n := pl.p.n
	weight := make([]float64, n*n)
	sum := make([]float64, n)
	for b := 1; b < n; b++ {
		for a := range b {
			for _, cm := range pl.masses[pairIndex(a, b)] {
				weight[a*n+b] += cm.m
			}
			weight[b*n+a] = weight[a*n+b]
			sum[a] += weight[a*n+b]
			sum[b] += weight[a*n+b]
		}
	}
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(x, y int) int { return cmp.Compare(sum[y], sum[x]) })
	var side [2]uint64
	for _, e := range order {
		var to [2]float64
		for i := range side {
			for m := side[i]; m != 0; m &= m - 1 {
				to[i] += weight[e*n+lowBit(m)]
			}
		}
		switch {
		case to[0] == 0 && to[1] == 0 && sum[e] < 1e-12:
			continue // nothing left to show at this end
		case to[1] > to[0]:
			side[0] |= 1 << e
		default:
			side[1] |= 1 << e
		}
	}
	return side, side[0] != 0 && side[1] != 0
}

// climb moves one end at a time between red, black and neither while that
// pays.
func (pl *planner) climb(red, black uint64, rng *rand.Rand) candidate {
	best := pl.price(red, black)
	for range 6 {
		better := false
		for _, e := range rng.Perm(pl.p.n) {
			bit := uint64(1) << e
			for side := range 3 {
				r, b := best.red&^bit, best.black&^bit
				switch side {
				case 0:
					r |= bit
				case 1:
					b |= bit
				}
				if r == 0 || b == 0 || r == best.red && b == best.black {
					continue
				}
				if c := pl.price(r, b); c.rate() > best.rate()+1e-9 {
					best, better = c, true
				}
			}
		}
		if !better {
			break
		}
	}
	return best
}

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
	return Proposal{Sweep: sw, GridSeconds: mapping.GridSeconds(pl.p.pod),
		SecondsLeft: pl.ahead / max(c.rate(), 1e-3)}
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

// What a share of the doubt about further links is worth, against a bit that
// tells samples apart, and the least it counts for while the samples still
// disagree with the best map. Tried by hand on the fixtures and on generated
// pods; flat around these values.
var (
	confirmWorth = [...]float64{mapping.PairLeads: 4, mapping.BunchLeads: 1.5}
	// extendAt is the part of a sweep's own rate at which one more step still
	// pays: with a needle, coming back to a pair costs more than staying.
	extendAt = [...]float64{mapping.PairLeads: 0.6, mapping.BunchLeads: 1}

	confirmFloor = [...]float64{mapping.PairLeads: 0, mapping.BunchLeads: 0.2}
)
