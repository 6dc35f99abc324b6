package inference

import (
	"cmp"
	"math"
	"math/bits"
	"slices"

	"bellout/mapping"
)

const (
	maxEnds     = mapping.MaxEnds
	maxSwitches = mapping.MaxSwitches
	maxAtoms    = 96
)

// problem is a pod and its readings in the engine's terms: an end is a bit of
// a word, and so is each position of each switch (a slot), so that a setting
// is a word with one bit for each switch.
type problem struct {
	pod       mapping.Pod
	n         int
	npos      []int // how many positions a switch has
	rest      []int // position index
	base      []int // first slot of a switch
	momentary []bool
	swMask    []uint64 // all slots of a switch
	latching  []uint64 // the same, none of a momentary one
	body      []bool
	bodies    uint64
	endAt     map[mapping.EndID]int
	restSet   uint64
	slots     int
	heldSlots uint64 // momentary switches away from rest

	logPairs, logEnds, logSwPairs, logSwTriples float64

	fixed         float64     // price of an always-link
	roomy         float64     // the part of the price of shared wires that stands
	counts        [][]float64 // price of so many contacts of a switch
	bothAct       float64     // price of a link whose switches have jobs of their own
	unread        float64     // most that speaks against a contact where nothing was read
	odd, oddFixed float64     // price of a contact, of a bridge, that makes no sense

	states  []fault   // all that can be the case at the bench
	stateOf []int     // of each slot of a lever, see stateOfSlots
	hand    hand      // what the builder's hand is taken for
	wrong   []float64 // price of setting each switch wrong
	telling []uint64  // settings that tell maps apart (all, if they are few), fewest buttons held first
	conds   condTable
	held    *heldCache
	signed  *signedMaps
	tables  *tables
	obs     []obs
}

// obs is one reading that says joined or not.
type obs struct {
	id         mapping.ReadingID
	red, black uint64
	s          uint64
	alt        [3]uint64 // settings that half-pressed buttons would have made instead
	nalt       int
	closed     bool
	control    bool
	epoch      int                 // counts clip set-ups
	session    int                 // counts sittings
	moved      uint64              // switches moved since the reading before: all, in a new session
	stand      [maxSwitches]uint16 // counts the stands of each lever
	void       bool                // the clip had slipped
	off        float64             // chance that it had, by a control beep that failed later
	protected  bool                // the clip is shown to bite at or after this reading
	tail       int                 // for an unprotected reading: how many there are in its run, since the last bite
}

func newProblem(pod mapping.Pod, readings []mapping.Reading) *problem {
	p := &problem{pod: pod, n: len(pod.Ends), endAt: map[mapping.EndID]int{}, held: &heldCache{by: map[uint64][]int32{}}, signed: &signedMaps{}, tables: &tables{}}
	for i, e := range pod.Ends {
		p.endAt[e.ID] = i
		p.body = append(p.body, e.Kind == mapping.Body)
		if e.Kind == mapping.Body {
			p.bodies |= 1 << i
		}
	}
	for _, sw := range pod.Switches {
		p.base = append(p.base, p.slots)
		p.npos = append(p.npos, len(sw.Positions))
		r := max(sw.Index(sw.Rest), 0)
		p.rest = append(p.rest, r)
		p.momentary = append(p.momentary, sw.Momentary)
		mask := (uint64(1)<<len(sw.Positions) - 1) << p.slots
		p.swMask = append(p.swMask, mask)
		p.restSet |= 1 << (p.slots + r)
		if sw.Momentary {
			p.heldSlots |= mask &^ (1 << (p.slots + r))
			mask = 0
		}
		p.latching = append(p.latching, mask)
		p.slots += len(sw.Positions)
	}
	k := float64(len(p.npos))
	p.logPairs = math.Log2(math.Max(1, float64(p.n*(p.n-1)/2)))
	p.logEnds = math.Log2(math.Max(1, float64(p.n)))
	p.logSwPairs = math.Log2(math.Max(1, k*(k-1)/2))
	p.logSwTriples = math.Log2(math.Max(1, k*(k-1)*(k-2)/6))
	p.odd = bitsOdd + p.logPairs + math.Log2(math.Max(1, float64(p.slots)))
	p.unread = math.Inf(1)
	p.fixed = bitsFixed
	if len(p.npos) == 0 {
		p.fixed = bitsFixedAlone
	}
	p.roomy = roomFor(len(p.npos), p.n)
	p.bothAct = bothActs(false)
	further := furtherFor(len(p.npos), p.n)
	for k := range p.npos {
		p.counts = append(p.counts, p.countPrices(k, further))
	}
	p.oddFixed = bitsOddFixed + p.logPairs
	p.conds = newCondTable(p)
	p.hand = newHand(false, 0)
	p.states = p.faultStates()
	p.stateOf = p.stateOfSlots()
	for k := range p.npos {
		p.wrong = append(p.wrong, p.leverPrice(k))
	}
	if p.settingsCount() > 128 {
		p.telling = p.tellingSettings()
	} else {
		p.eachSetting(func(s uint64) { p.telling = append(p.telling, s) })
	}
	slices.SortStableFunc(p.telling, func(a, b uint64) int { return cmp.Compare(p.buttons(a), p.buttons(b)) })
	p.setReadings(readings)
	return p
}

// local turns a slot mask into a mask over the positions of its switch.
func (p *problem) local(k int, slots uint64) uint64 { return slots >> p.base[k] }

// setting turns a setting into slots. ok is false when it names a position
// that the pod does not have.
func (p *problem) setting(s mapping.Setting) (uint64, bool) {
	var out uint64
	for k, sw := range p.pod.Switches {
		i := p.rest[k]
		if at, named := s[sw.Name]; named {
			if i = sw.Index(at); i < 0 {
				return 0, false
			}
		}
		out |= 1 << (p.base[k] + i)
	}
	return out, true
}

// position gives the position index of switch k in a setting.
func (p *problem) position(s uint64, k int) int {
	return bits.TrailingZeros64((s & p.swMask[k]) >> p.base[k])
}

func (p *problem) unsetting(s uint64) mapping.Setting {
	out := make(mapping.Setting, len(p.npos))
	for k, sw := range p.pod.Switches {
		out[sw.Name] = sw.Positions[p.position(s, k)]
	}
	return out
}

func (p *problem) ends(ids []mapping.EndID) (uint64, bool) {
	var m uint64
	for _, id := range ids {
		i, ok := p.endAt[id]
		if !ok {
			return 0, false
		}
		m |= 1 << i
	}
	return m, m != 0
}

func (p *problem) unends(m uint64) []mapping.EndID {
	var out []mapping.EndID
	for ; m != 0; m &= m - 1 {
		out = append(out, p.pod.Ends[bits.TrailingZeros64(m)].ID)
	}
	return out
}

// setReadings takes every reading that says joined or not, in the order in
// which they were taken. A reading about an end or a position that the pod
// does not have says nothing about this pod.
func (p *problem) setReadings(readings []mapping.Reading) {
	sorted := slices.Clone(readings)
	slices.SortStableFunc(sorted, compareReadings)
	p.obs = p.obs[:0]
	for _, r := range sorted {
		if o, ok := p.observe(r); ok {
			p.obs = append(p.obs, o)
		}
	}
	p.chain()
}

func (p *problem) observe(r mapping.Reading) (obs, bool) {
	c := r.Continuity()
	if c == mapping.Unknown {
		return obs{}, false
	}
	red, ok1 := p.ends(r.Red)
	black, ok2 := p.ends(r.Black)
	s, ok3 := p.setting(r.Setting)
	if !ok1 || !ok2 || !ok3 {
		return obs{}, false
	}
	o := obs{id: r.ID, red: red, black: black, s: s, closed: c == mapping.Closed,
		control: r.Control || red&black != 0, session: r.Session}
	p.fillAlt(&o)
	return o, true
}

// fillAlt lists what half-pressed buttons would make of the setting: each of the
// first two by itself at rest, and all.
func (p *problem) fillAlt(o *obs) {
	o.nalt = 0
	held := o.s & p.heldSlots
	if held == 0 || o.control {
		return
	}
	all := o.s
	for k := range p.npos {
		if held&p.swMask[k] == 0 {
			continue
		}
		at := o.s&^p.swMask[k] | p.restSet&p.swMask[k]
		all = all&^p.swMask[k] | p.restSet&p.swMask[k]
		if o.nalt < 2 {
			o.alt[o.nalt] = at
			o.nalt++
		}
	}
	if o.nalt == 2 {
		o.alt[2] = all
		o.nalt = 3
	}
}

// chain works out for each reading what was moved since the one before.
func (p *problem) chain() {
	epoch := 0
	var red, black, s uint64
	session := -1
	var stand [maxSwitches]uint16
	anew := false // the clips are put on anew: another session, or a control beep failed
	for i := range p.obs {
		o := &p.obs[i]
		fresh := o.session != session
		anew = anew || fresh
		if o.control {
			o.s = s
			if i == 0 {
				o.s = p.restSet
			}
			anew = anew || !o.closed
		} else {
			if anew || o.red != red || o.black != black {
				epoch++
				red, black = o.red, o.black
			}
			anew = false
		}
		o.epoch = epoch
		o.moved = 0
		for k := range p.npos {
			if fresh || (o.s^s)&p.swMask[k] != 0 {
				o.moved |= 1 << k
				stand[k]++
			}
		}
		o.stand = stand
		session, s = o.session, o.s
	}
}

// tellingSettings are rest with up to two switches moved, with up to three if
// the pod has few positions or two of them are buttons: every condition of so many
// single positions holds in one of them, and an interlock of two buttons shows whether a
// lever has a say in it.
func (p *problem) tellingSettings() []uint64 {
	out := []uint64{p.restSet}
	var grow func(s uint64, from, left int)
	grow = func(s uint64, from, left int) {
		for k := from; k < len(p.npos); k++ {
			for q := range p.npos[k] {
				if q == p.rest[k] {
					continue
				}
				t := p.moveTo(s, k, q)
				if left > 1 || p.slots <= 14 || p.buttons(t) == 2 {
					out = append(out, t)
				}
				if left > 1 {
					grow(t, k+1, left-1)
				}
			}
		}
	}
	grow(p.restSet, 0, 3)
	return out
}

// buttons is how many buttons a hand must hold in a setting.
func (p *problem) buttons(s uint64) int { return bits.OnesCount64(s & p.heldSlots) }

// handsShown is how many buttons at once the readings show the builder can
// hold: with a needle in one hand, one.
func (p *problem) handsShown() int {
	for i := range p.obs {
		if o := &p.obs[i]; bits.OnesCount64(o.red) > 1 || bits.OnesCount64(o.black) > 1 || p.buttons(o.s) > 1 {
			return mapping.BunchLeads.MostHeld()
		}
	}
	if len(p.obs) == 0 {
		return mapping.BunchLeads.MostHeld()
	}
	return mapping.PairLeads.MostHeld()
}
