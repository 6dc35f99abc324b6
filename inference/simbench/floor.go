package simbench

import (
	"math"
	"slices"

	"bellout/mapping"
)

// The floor is the least bench time in which somebody who already knows the
// map, and reads without error, can prove it to the stop rule. Nobody who has
// to find out can do with less.
//
// The proof obligation in the search is the design's stop rule by this
// package's own prices: the summed weight (2^-bits) of all rivals that differ
// from the true map by one link, and of those further off that a random walk
// among the maps that fit comes upon, priced by the oracle's prior and by the
// readings, is under 1 in 200. The readings' part is what one reading after
// the other makes of a rival, bounded for each clip set-up by what one slipped
// clip or one wrong lever would explain. That alone proves too little: the
// cheapest sweeps against a list of rivals are those that leave what is not on the
// list. So the engine is asked whether it grants the proof (FloorOf's grant), the
// maps that it still holds possible go on the list, and the search goes on from
// there until it does.
//
// The search is not exhaustive: simulated annealing over sweeps from several
// starts, then readings are taken out as long as the proof is granted. What it
// finds is an upper bound of the floor; bound gives a lower bound by counting.
//
// Where the caller names claims that must come out proved, every rival that
// turns one of them round must besides be at least 10 bits dearer.

// stopDoubt is the doubt at which the work may stop.
const stopDoubt = 1.0 / 200

// rivalMap is one map that differs from the truth by one link.
type rivalMap struct {
	nets    [][]uint32 // nets of more than one end, by setting number
	weight  float64    // 2^-bits dearer by the prior alone
	latched []int      // latching switches of its condition
	bits    float32    // bits dearer by the prior alone
	must    bool       // it turns a claim round that has to be proved
}

// prover knows the true map and its rivals and judges sets of sweeps.
type prover struct {
	w      *World
	o      *Model
	base   ModelMap
	truth  [][]uint32 // nets by setting number
	rivals []rivalMap
	seen   map[string]bool // signatures of the truth and of rivals
	known  map[posed][]float32
	setUps map[string][]float32
	left   []float32 // weights of the rivals that mass came to last
	leads  mapping.Leads
	all    [][]int // every setting
	held   []int   // buttons held in it
	half   [][]int // settings that it becomes when held buttons are not pressed home
}

// posed is a question to the meter.
type posed struct {
	red, black bunch
	setting    int
}

// newProver lists the rivals of a true map of at most 12 ends.
func newProver(w *World, truth ModelMap, leads mapping.Leads) *prover {
	o := NewModel(w.Pod)
	p := &prover{w: w, o: o, base: truth, leads: leads, known: map[posed][]float32{}, setUps: map[string][]float32{}, all: w.Settings()}
	n := len(w.Pod.Ends)
	p.layOut()
	p.truth = p.netsOf(truth)
	base := o.Prior(truth)
	p.seen = map[string]bool{signature(p.truth): true}
	add := func(m ModelMap, added bool, terms []ModelTerm) {
		d := o.Prior(m) - base
		if d > 24 {
			return
		}
		nets := p.netsOf(m)
		if s := signature(nets); s != signature(p.truth) && (added || !p.seen[s]) {
			p.seen[s] = true
			r := rivalMap{nets: nets, weight: math.Exp2(-d), bits: float32(d)}
			for _, t := range terms {
				if !w.Pod.Switches[t.Switch].Momentary {
					r.latched = append(r.latched, t.Switch)
				}
			}
			p.rivals = append(p.rivals, r)
		}
	}
	for _, terms := range o.singles(3) {
		for b := range n {
			for a := range b {
				add(o.merged(append(slices.Clone(truth), ModelLink{a, b, terms})), true, terms)
			}
		}
	}
	c := &certificate{o: o, pod: w.Pod, base: truth}
	for _, drawn := range p.equivalents() {
		for i, l := range drawn {
			rest := slices.Delete(slices.Clone(drawn), i, i+1)
			add(o.merged(rest), false, l.Terms)
			for e := range n {
				if e != l.A && e != l.B {
					add(o.merged(append(slices.Clone(rest), ModelLink{min(l.A, e), max(l.A, e), l.Terms})), false, l.Terms)
					add(o.merged(append(slices.Clone(rest), ModelLink{min(l.B, e), max(l.B, e), l.Terms})), false, l.Terms)
				}
			}
			for _, terms := range c.conditionsNear(l.Terms) {
				add(o.merged(append(slices.Clone(rest), ModelLink{l.A, l.B, terms})), false, terms)
			}
		}
	}
	return p
}

// singles lists the conditions of up to so many single positions.
func (o *Model) singles(most int) [][]ModelTerm {
	out := [][]ModelTerm{nil}
	for k, sw := range o.pod.Switches {
		for _, head := range slices.Clone(out) {
			if len(head) == most {
				continue
			}
			for q := range sw.Positions {
				out = append(out, append(slices.Clone(head), ModelTerm{k, 1 << q}))
			}
		}
	}
	return out
}

// layOut numbers the settings and what half-pressed buttons make of them.
func (p *prover) layOut() {
	for _, lever := range p.all {
		held := heldButtons(p.w.Pod, p.o.rest, lever)
		var half []int
		for some := 1; some < 1<<min(len(held), 3); some++ {
			at := slices.Clone(lever)
			for i, k := range held {
				if some>>i&1 == 1 {
					at[k] = p.o.rest[k]
				}
			}
			half = append(half, p.number(at))
		}
		p.held = append(p.held, len(held))
		p.half = append(p.half, half)
	}
}

// number is a setting's place in the list of all.
func (p *prover) number(lever []int) int {
	s := 0
	for k, q := range lever {
		s = s*len(p.w.Pod.Switches[k].Positions) + q
	}
	return s
}

// netsOf gives a map's nets of more than one end in every setting that hands can
// make; what two maps say of another no reading can tell apart.
func (p *prover) netsOf(m ModelMap) [][]uint32 {
	n := len(p.w.Pod.Ends)
	out := make([][]uint32, len(p.all))
	for s, lever := range p.all {
		if p.held[s] > hands(p.leads) {
			continue
		}
		byName := make([]uint32, n)
		for e, name := range m.nets(n, lever) {
			byName[name] |= 1 << e
		}
		for _, net := range byName {
			if net&(net-1) != 0 {
				out[s] = append(out[s], net)
			}
		}
	}
	return out
}

func signature(nets [][]uint32) string {
	var out []byte
	for _, at := range nets {
		for _, m := range at {
			out = append(out, byte(m), byte(m>>8), byte(m>>16), byte(m>>24))
		}
		out = append(out, '|')
	}
	return string(out)
}

func beeps(nets []uint32, red, black bunch) bool {
	for _, m := range nets {
		if bunch(m)&red != 0 && bunch(m)&black != 0 {
			return true
		}
	}
	return false
}

// bitsOf is what one true reading says against each rival; negative where it
// takes a beep against the rival, so that loose silences can be told apart.
func (p *prover) bitsOf(red, black bunch, setting int) []float32 {
	q := posed{red, black, setting}
	if v, ok := p.known[q]; ok {
		return v
	}
	if len(p.known) > 20000 {
		clear(p.known)
	}
	out := make([]float32, len(p.rivals)+1)
	beep := beeps(p.truth[setting], red, black)
	for i := range p.rivals {
		r := &p.rivals[i]
		if beeps(r.nets[setting], red, black) == beep {
			continue
		}
		switch {
		case !beep:
			out[i] = float32(priceSilence)
		case slices.ContainsFunc(p.half[setting], func(h int) bool { return beeps(r.nets[h], red, black) }):
			out[i] = -float32(priceHalf)
		default:
			out[i] = -float32(priceBeep)
		}
	}
	if beep {
		out[len(p.rivals)] = 1
	}
	p.known[q] = out
	return out
}

// doubt is the chance that the map is wrong after some sweeps.
func (p *prover) doubt(plans []plan) float64 {
	t, _ := p.mass(plans)
	return t / (1 + t)
}

// demand marks the rivals that turn round a claim that has to be proved.
func (p *prover) demand(claims []Claim) {
	for i := range p.rivals {
		r := &p.rivals[i]
		for _, c := range claims {
			at := p.number(p.w.Lever(c.Setting))
			a, b := bunch(1)<<p.w.endAt[c.A], bunch(1)<<p.w.endAt[c.B]
			if beeps(r.nets[at], a, b) != beeps(p.truth[at], a, b) {
				r.must = true
				break
			}
		}
	}
}
