package simbench

import (
	"math"
	"slices"

	"bellout/mapping"
)

// ModelTerm is one switch and the positions (bit q: position q) in which it lets a
// link hold.
type ModelTerm struct {
	Switch int
	Mask   uint32
}

// ModelLink joins two ends while all its terms hold.
type ModelLink struct {
	A, B  int
	Terms []ModelTerm
}

// ModelMap is a whole map.
type ModelMap []ModelLink

// Model is the oracle: a second telling of the engine's model of prices for one
// pod (inference/doc.go, price.go and pricedeep.go write it down). It shares no code with the
// engine: maps are plain lists of links, nets are found by repeated merging,
// explanations by walking every course of events. Slow and short on purpose.
type Model struct {
	// Plain leaves slipped clips and wrong levers out: every odd reading is
	// priced by itself.
	Plain bool

	// Needle is for readings taken with a needle in one hand: links of several
	// switches are priced dearer where their switches have other jobs.
	Needle bool

	pod  mapping.Pod
	rest []int
}

// NewModel takes a pod.
func NewModel(p mapping.Pod) *Model {
	o := &Model{pod: p}
	for _, sw := range p.Switches {
		o.rest = append(o.rest, slices.Index(sw.Positions, sw.Rest))
	}
	return o
}

// WithNeedle tells whether readings show a needle at work: there are some, and in
// none of them is an end bunched with another or a second button held.
func WithNeedle(p mapping.Pod, readings []mapping.Reading) bool {
	for _, r := range readings {
		held := 0
		for _, sw := range p.Switches {
			if at, ok := r.Setting[sw.Name]; ok && sw.Momentary && at != sw.Rest {
				held++
			}
		}
		if held > 1 || len(r.Red) > 1 || len(r.Black) > 1 {
			return false
		}
	}
	return len(readings) > 0
}

func (o *Model) lever(s mapping.Setting) []int {
	at := slices.Clone(o.rest)
	for k, sw := range o.pod.Switches {
		if q, ok := s[sw.Name]; ok {
			at[k] = slices.Index(sw.Positions, q)
		}
	}
	return at
}

func (l ModelLink) holds(lever []int) bool {
	for _, t := range l.Terms {
		if t.Mask>>lever[t.Switch]&1 == 0 {
			return false
		}
	}
	return true
}

// nets gives every end the smallest end that it is joined to.
func (m ModelMap) nets(n int, lever []int) []int {
	name := make([]int, n)
	for i := range name {
		name[i] = i
	}
	for _, l := range m {
		if !l.holds(lever) || name[l.A] == name[l.B] {
			continue
		}
		low, high := min(name[l.A], name[l.B]), max(name[l.A], name[l.B])
		for i := range name {
			if name[i] == high {
				name[i] = low
			}
		}
	}
	return name
}

// joinFunc tells whether any red end is joined to any black end in a setting.
type joinFunc func(lever, red, black []int) bool

// joiner reads the joins off a map's nets.
func (m ModelMap) joiner(n int) joinFunc {
	return func(lever, red, black []int) bool {
		name := m.nets(n, lever)
		for _, a := range red {
			for _, b := range black {
				if name[a] == name[b] {
					return true
				}
			}
		}
		return false
	}
}

// remembering is joiner for many questions: nets are found once a setting.
func (m ModelMap) remembering(n int) joinFunc {
	known := map[string][]int{}
	return func(lever, red, black []int) bool {
		key := make([]byte, len(lever))
		for k, q := range lever {
			key[k] = byte(q)
		}
		name, ok := known[string(key)]
		if !ok {
			name = m.nets(n, lever)
			known[string(key)] = name
		}
		for _, a := range red {
			for _, b := range black {
				if name[a] == name[b] {
					return true
				}
			}
		}
		return false
	}
}

// ModelReading is a reading by numbers, with what was moved before it.
type ModelReading struct {
	red, black []int
	lever      []int
	beep       bool
	control    bool
	newClip    bool   // other ends, or another sitting, than the reading before
	moved      []bool // switches moved since the reading before
}

// Readings reads mapping's readings in the order of their numbers. All must be
// beeps or silences.
func (o *Model) Readings(rs []mapping.Reading) []ModelReading {
	end := map[mapping.EndID]int{}
	for i, e := range o.pod.Ends {
		end[e.ID] = i
	}
	number := func(ids []mapping.EndID) []int {
		var out []int
		for _, id := range ids {
			out = append(out, end[id])
		}
		slices.Sort(out)
		return out
	}
	sorted := slices.Clone(rs)
	slices.SortFunc(sorted, func(a, b mapping.Reading) int { return int(a.ID) - int(b.ID) })
	var out []ModelReading
	var clip *ModelReading // the last reading that was no control beep
	anew := false          // the clips are put on anew: another sitting, or a control beep failed
	for i, r := range sorted {
		x := ModelReading{red: number(r.Red), black: number(r.Black), lever: o.lever(r.Setting),
			beep: r.Outcome == mapping.Sounded, control: r.Control, moved: make([]bool, len(o.rest))}
		fresh := i == 0 || sorted[i-1].Session != r.Session
		anew = anew || fresh
		if x.control { // the levers stay as they were
			x.lever = o.rest
			if i > 0 {
				x.lever = out[i-1].lever
			}
			anew = anew || !x.beep
		} else {
			x.newClip = i > 0 && (anew || clip == nil || !slices.Equal(clip.red, x.red) || !slices.Equal(clip.black, x.black))
			anew = false
		}
		for k := range o.rest {
			x.moved[k] = fresh || out[i-1].lever[k] != x.lever[k]
		}
		out = append(out, x)
		if !x.control {
			clip = &out[len(out)-1]
		}
	}
	return out
}

// benchFault is what is wrong at the bench while a reading is taken.
type benchFault struct {
	slip   bool
	sw, at int // sw < 0: no lever is wrong
}

// explain is the price of the cheapest course of events that makes a map give
// the readings: at each reading nothing is wrong, or the clip is off, or one
// latching lever stands elsewhere.
func (o *Model) explain(m joinFunc, rs []ModelReading) float64 {
	faults := []benchFault{{sw: -1}, {slip: true, sw: -1}}
	for k, sw := range o.pod.Switches {
		for q := range sw.Positions {
			if !sw.Momentary {
				faults = append(faults, benchFault{sw: k, at: q})
			}
		}
	}
	// best[f] is the cheapest course so far that ends in fault f.
	best := make([]float64, len(faults))
	for f := range best {
		best[f] = math.Inf(1)
	}
	best[0] = 0
	for i, r := range rs {
		failed := i > 0 && rs[i-1].control && !rs[i-1].beep
		next := make([]float64, len(faults))
		for to, g := range faults {
			next[to] = math.Inf(1)
			here := o.under(m, r, g)
			for from, f := range faults {
				v := best[from] + o.step(f, g, from == to, r, failed) + here
				next[to] = min(next[to], v)
			}
		}
		best = next
	}
	return slices.Min(best)
}

// step is the price of going from one fault to the next just before a reading.
// Going from a fault to itself may mean that it lasts, or ended and came anew.
func (o *Model) step(f, g benchFault, same bool, r ModelReading, failed bool) float64 {
	end := 0.0 // of f
	switch {
	case f.slip && failed: // seen, clipped anew
	case f.slip && r.newClip: // moving the clips makes it good in half of the cases
		end = 1
	case f.slip:
		end = math.Inf(1)
	case f.sw >= 0 && !r.moved[f.sw]:
		end = math.Inf(1)
	}
	begin := 0.0 // of g
	switch {
	case g.slip:
		begin = priceSlip
	case g.sw >= 0 && r.moved[g.sw]:
		begin = priceLever + math.Log2(float64(len(o.pod.Switches[g.sw].Positions)-1))
	case g.sw >= 0:
		begin = math.Inf(1)
	}
	v := end + begin
	if !same {
		return v
	}
	switch {
	case f.slip && failed:
	case f.slip && r.newClip:
		v = min(v, 1)
	case f.slip, f.sw >= 0 && !r.moved[f.sw]:
		v = 0
	}
	return v
}

// under is the price of one reading while a fault lasts.
func (o *Model) under(m joinFunc, r ModelReading, f benchFault) float64 {
	switch {
	case f.slip && r.beep:
		return priceBeep
	case f.slip:
		return 0
	case r.control && r.beep:
		return 0
	case r.control:
		return priceSilence
	}
	lever := r.lever
	if f.sw >= 0 {
		if lever[f.sw] == f.at {
			return math.Inf(1) // where it was believed: no fault
		}
		lever = slices.Clone(lever)
		lever[f.sw] = f.at
	}
	joined := m(lever, r.red, r.black)
	switch {
	case joined == r.beep:
		return 0
	case joined:
		return priceSilence
	case o.halfPressed(m, r, lever):
		return priceHalf
	}
	return priceBeep
}

// halfPressed tells whether a beep can come of one or both held buttons not
// being pressed home.
func (o *Model) halfPressed(m joinFunc, r ModelReading, lever []int) bool {
	held := heldButtons(o.pod, o.rest, lever)
	for some := 1; some < 1<<len(held); some++ {
		at := slices.Clone(lever)
		for i, k := range held {
			if some>>i&1 == 1 {
				at[k] = o.rest[k]
			}
		}
		if m(at, r.red, r.black) {
			return true
		}
	}
	return false
}
