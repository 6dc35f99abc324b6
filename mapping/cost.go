package mapping

import "slices"

// Seconds of bench time for each act; a trade
// estimate for a clamped pod with tails fanned and flagged (common practice,
// no published source).
const (
	SecondsInstruction   = 2.0
	SecondsReading       = 1.2
	SecondsMoveBlack     = 6.0
	SecondsMoveRed       = 3.0
	SecondsChangeSingle  = 6.0
	SecondsBunchAdd      = 5.0
	SecondsBunchTake     = 4.0
	SecondsLeverStep     = 2.0
	SecondsHoldBunched   = 3.0
	SecondsHoldPaired    = 5.0
	maxHeldWithPairLeads = 1
	maxHeldWithBunch     = 2
)

// MostHeld is how many momentary switches a builder can hold in one step.
func (l Leads) MostHeld() int {
	if l == BunchLeads {
		return maxHeldWithBunch
	}
	return maxHeldWithPairLeads
}

// HoldSeconds is the price of holding one momentary switch for one step.
func (l Leads) HoldSeconds() float64 {
	if l == BunchLeads {
		return SecondsHoldBunched
	}
	return SecondsHoldPaired
}

// ClipSeconds is the price of moving the clips from where the bench has them
// to the sweep's two sides.
func ClipSeconds(b Bench, red, black []EndID) float64 {
	if b.Leads == PairLeads {
		t := 0.0
		if !slices.Equal(b.Red, red) {
			t += SecondsMoveRed
		}
		if !slices.Equal(b.Black, black) {
			t += SecondsMoveBlack
		}
		return t
	}
	return sideSeconds(b.Red, red) + sideSeconds(b.Black, black)
}

// sideSeconds prices one side of a bunch: a single end changed for another
// single end, else ends added and taken out one by one. The first end on a
// free clip counts as a change.
func sideSeconds(have, want []EndID) float64 {
	add, take := 0, 0
	for _, e := range want {
		if !slices.Contains(have, e) {
			add++
		}
	}
	for _, e := range have {
		if !slices.Contains(want, e) {
			take++
		}
	}
	switch {
	case add == 0 && take == 0:
		return 0
	case len(have) == 0:
		return SecondsChangeSingle + float64(add-1)*SecondsBunchAdd
	case len(have) == 1 && take == 1:
		return SecondsChangeSingle + float64(add-1)*SecondsBunchAdd
	case take == len(have):
		return float64(take-1)*SecondsBunchTake + SecondsChangeSingle + float64(add-1)*SecondsBunchAdd
	}
	return float64(add)*SecondsBunchAdd + float64(take)*SecondsBunchTake
}

// LeverSeconds is the price of moving the levers from one setting to the next:
// latching switches by the positions stepped over, momentary ones by each step
// they are held away from rest.
func LeverSeconds(p Pod, l Leads, from, to Setting) float64 {
	t := 0.0
	for _, sw := range p.Switches {
		at := to.At(sw)
		if sw.Momentary {
			if at != sw.Rest {
				t += l.HoldSeconds()
			}
			continue
		}
		if from != nil {
			d := sw.Index(at) - sw.Index(from.At(sw))
			t += SecondsLeverStep * float64(max(d, -d))
		}
	}
	return t
}

// SweepSeconds is the price of a whole sweep from where the bench stands.
func SweepSeconds(p Pod, b Bench, s Sweep) float64 {
	if s.Control {
		return SecondsInstruction + SecondsReading
	}
	t := SecondsInstruction + ClipSeconds(b, s.Red, s.Black)
	at := b.Levers
	for _, step := range s.Steps {
		t += LeverSeconds(p, b.Leads, at, step) + SecondsReading
		at = step
	}
	return t
}

// After is the bench as a sweep leaves it. A control beep leaves the clips
// where they were; a button let go is at rest again.
func (b Bench) After(p Pod, s Sweep) Bench {
	if s.Control {
		return b
	}
	n := Bench{Leads: b.Leads, Red: s.Red, Black: s.Black, Levers: b.Levers}
	if len(s.Steps) > 0 {
		n.Levers = s.Steps[len(s.Steps)-1].Clone()
		for _, sw := range p.Switches {
			if sw.Momentary {
				n.Levers[sw.Name] = sw.Rest
			}
		}
	}
	return n
}

// GridSweeps is the textbook grid: every pair clipped, at each pair the
// switches worked one at a time through all their positions with everything
// else at rest. It is what a method is compared with, priced with PairLeads.
func GridSweeps(p Pod) []Sweep {
	rest := p.Rest()
	var steps []Setting
	steps = append(steps, rest)
	for _, sw := range p.Switches {
		for _, q := range sw.Positions {
			if q != sw.Rest {
				steps = append(steps, rest.With(sw.Name, q))
			}
		}
	}
	var out []Sweep
	for i := range p.Ends {
		for j := i + 1; j < len(p.Ends); j++ {
			out = append(out, Sweep{
				Red: []EndID{p.Ends[j].ID}, Black: []EndID{p.Ends[i].ID}, Steps: steps,
			})
		}
	}
	return out
}

// GridSeconds is the bench time of the textbook grid, every lever put back to
// rest at the end of each pair.
func GridSeconds(p Pod) float64 {
	b := Bench{Leads: PairLeads, Levers: p.Rest()}
	t := 0.0
	for _, s := range GridSweeps(p) {
		t += SweepSeconds(p, b, s)
		b = b.After(p, s)
		t += LeverSeconds(p, b.Leads, b.Levers, p.Rest())
		b.Levers = p.Rest()
	}
	return t
}
