package simbench

import (
	"fmt"
	"math/rand/v2"

	"bellout/mapping"
)

// Rates are the chances of going wrong at the bench. DefaultRates are those of
// the trade notes, section 9 (trade estimates, no published source).
type Rates struct {
	FalseSilence float64 // a joined pair reads silent, once
	FalseBeep    float64 // an open pair beeps, once
	ClipSlip     float64 // a reading at which the clip comes off
	MoveRemakes  float64 // moving the clips to other ends makes a slipped clip good
	WrongLever   float64 // a latching lever moved comes to stand one position off
	HalfPressed  float64 // a momentary switch held for a step acts as if at rest
	WrongKey     float64 // the other outcome's key is hit
	KeyUndone    float64 // share of wrong keys that are undone at once
}

// DefaultRates gives the figures of the trade notes. A slipped clip silences
// everything until the next control beep, wherever the clips move meanwhile.
// The same-colour swap named there as well is left out: it is consistent, so
// no reading can show it.
func DefaultRates() Rates {
	return Rates{
		FalseSilence: 0.04, FalseBeep: 0.005, ClipSlip: 0.003, MoveRemakes: 0,
		WrongLever: 0.02, HalfPressed: 0.04, WrongKey: 0.007, KeyUndone: 0.5,
	}
}

// Mishap is one thing that went wrong, for printing beside a failed play.
type Mishap struct {
	Reading int // number of the reading, from 1
	What    string
}

// Person plays the builder with pod and meter: it does sweeps step by step and
// writes down what it believes. With Fallible unset every reading is true.
//
// A control beep is a reading like any other, so it too may be falsely silent
// or mistyped. Whenever the meter is silent at a control beep the builder clips
// anew.
type Person struct {
	World    *World
	Fallible bool
	Seed     int64
	Leads    mapping.Leads
	Rates    Rates // zero: DefaultRates

	Mishaps []Mishap

	r        *rand.Rand
	believed []int // latching levers as the builder believes them
	actual   []int // and as they are
	red      []mapping.EndID
	black    []mapping.EndID
	slipped  bool
	sweeps   int
	readings int
}

func (p *Person) start() {
	if p.r != nil {
		return
	}
	if p.Rates == (Rates{}) {
		p.Rates = DefaultRates()
	}
	p.r = rand.New(rand.NewPCG(uint64(p.Seed), 0x706572736f6e))
	p.believed = p.World.Lever(nil)
	p.actual = p.World.Lever(nil)
}

// hit draws one mishap; a person who does not err never has one.
func (p *Person) hit(rate float64, what string) bool {
	if !p.Fallible || p.r.Float64() >= rate {
		return false
	}
	p.Mishaps = append(p.Mishaps, Mishap{p.readings + 1, what})
	return true
}

// Answer does one sweep. The error says why a builder could not do it.
func (p *Person) Answer(s mapping.Sweep) ([]mapping.Reading, error) {
	p.start()
	if err := Doable(p.World.Pod, p.Leads, s); err != nil {
		return nil, err
	}
	p.sweeps++
	id := s.ID
	if id == 0 {
		id = mapping.SweepID(p.sweeps)
	}
	if s.Control {
		return []mapping.Reading{p.control(s, id)}, nil
	}
	if p.slipped && (!sameEnds(s.Red, p.red) || !sameEnds(s.Black, p.black)) &&
		p.Rates.MoveRemakes > 0 && p.r.Float64() < p.Rates.MoveRemakes {
		p.slipped = false
	}
	p.red, p.black = s.Red, s.Black
	var out []mapping.Reading
	for i, step := range s.Steps {
		p.setLevers(step)
		closed := p.meter(p.World.touching(p.pressed(step), s.Red, s.Black))
		r := p.write(s, id, closed)
		r.Step, r.Setting = i, p.World.Setting(p.World.Lever(step))
		out = append(out, r)
	}
	return out, nil
}

// control touches the clip's own end.
func (p *Person) control(s mapping.Sweep, id mapping.SweepID) mapping.Reading {
	closed := p.meter(true)
	if !closed {
		p.slipped = false // seen, and clipped anew
	}
	r := p.write(s, id, closed)
	r.Control, r.Setting = true, p.World.Setting(p.believed)
	return r
}

// setLevers moves the latching levers whose believed position changes.
func (p *Person) setLevers(step mapping.Setting) {
	for k, sw := range p.World.Pod.Switches {
		to := positionOf(sw, step)
		if sw.Momentary || to == p.believed[k] {
			continue
		}
		p.believed[k], p.actual[k] = to, to
		if p.hit(p.Rates.WrongLever, "lever "+string(sw.Name)+" not where it was put") {
			if to == 0 || (to < len(sw.Positions)-1 && p.r.IntN(2) == 0) {
				p.actual[k] = to + 1
			} else {
				p.actual[k] = to - 1
			}
		}
	}
}

// pressed is where every switch really stands in a step.
func (p *Person) pressed(step mapping.Setting) []int {
	at := append([]int(nil), p.actual...)
	for k, sw := range p.World.Pod.Switches {
		if !sw.Momentary {
			continue
		}
		rest := positionOf(sw, nil)
		at[k] = positionOf(sw, step)
		if at[k] != rest && p.hit(p.Rates.HalfPressed, "button "+string(sw.Name)+" half pressed") {
			at[k] = rest
		}
	}
	return at
}

// meter is what the meter says, given the truth.
func (p *Person) meter(joined bool) bool {
	if p.hit(p.Rates.ClipSlip, "clip slipped") {
		p.slipped = true
	}
	if p.slipped {
		return false
	}
	if joined {
		return !p.hit(p.Rates.FalseSilence, "false silence")
	}
	return p.hit(p.Rates.FalseBeep, "false beep")
}

// write is the reading as the builder's keys record it.
func (p *Person) write(s mapping.Sweep, id mapping.SweepID, closed bool) mapping.Reading {
	if p.Fallible && p.r.Float64() < p.Rates.WrongKey && p.r.Float64() >= p.Rates.KeyUndone {
		closed = !closed
		p.Mishaps = append(p.Mishaps, Mishap{p.readings + 1, "wrong key"})
	}
	p.readings++
	out := mapping.Reading{
		ID: mapping.ReadingID(p.readings), Session: 1, Sweep: id, Red: s.Red, Black: s.Black,
		Mode: mapping.Beep, Outcome: mapping.Silent,
	}
	if closed {
		out.Outcome = mapping.Sounded
	}
	return out
}

func sameEnds(a, b []mapping.EndID) bool {
	x, y := set(a), set(b)
	return missing(x, y) == 0 && missing(y, x) == 0
}

// Doable says why a builder with these leads could not do the sweep, or nil.
func Doable(p mapping.Pod, leads mapping.Leads, s mapping.Sweep) error {
	known := map[mapping.EndID]bool{}
	for _, e := range p.Ends {
		known[e.ID] = true
	}
	red, black := set(s.Red), set(s.Black)
	for _, side := range [][]mapping.EndID{s.Red, s.Black} {
		if len(side) == 0 {
			return fmt.Errorf("a side of the sweep has no end")
		}
		if len(set(side)) != len(side) {
			return fmt.Errorf("a side of the sweep names an end twice: %v", side)
		}
		for _, e := range side {
			if !known[e] {
				return fmt.Errorf("the pod has no end %q", e)
			}
		}
	}
	if s.Mode != mapping.Beep {
		return fmt.Errorf("this person reads the beeper only")
	}
	if s.Control {
		if len(s.Red) != 1 || len(s.Black) != 1 || s.Red[0] != s.Black[0] || len(s.Steps) != 0 {
			return fmt.Errorf("a control beep touches one end with both leads, in no step: %v %v", s.Red, s.Black)
		}
		return nil
	}
	if missing(red, black) != len(red) {
		return fmt.Errorf("an end is on both sides: %v %v", s.Red, s.Black)
	}
	if leads == mapping.PairLeads && (len(s.Red) != 1 || len(s.Black) != 1) {
		return fmt.Errorf("pair leads hold one end a side: %v %v", s.Red, s.Black)
	}
	if len(s.Steps) == 0 {
		return fmt.Errorf("the sweep has no step")
	}
	for i, step := range s.Steps {
		held := 0
		for _, sw := range p.Switches {
			at, ok := step[sw.Name]
			if !ok {
				return fmt.Errorf("step %d does not say where %q stands", i+1, sw.Name)
			}
			found := false
			for _, q := range sw.Positions {
				found = found || q == at
			}
			if !found {
				return fmt.Errorf("step %d puts %q at %q, which it has not", i+1, sw.Name, at)
			}
			if sw.Momentary && at != sw.Rest {
				held++
			}
		}
		if len(step) != len(p.Switches) {
			return fmt.Errorf("step %d names a switch that the pod has not", i+1)
		}
		if held > hands(leads) {
			return fmt.Errorf("step %d needs %d buttons held", i+1, held)
		}
	}
	return nil
}

// heldButtons lists the buttons that are not at rest.
func heldButtons(p mapping.Pod, rest, lever []int) []int {
	var held []int
	for k, sw := range p.Switches {
		if sw.Momentary && lever[k] != rest[k] {
			held = append(held, k)
		}
	}
	return held
}

// hands is how many buttons can be held in a step; written anew here, like the
// cost table.
func hands(l mapping.Leads) int {
	if l == mapping.PairLeads {
		return 1
	}
	return 2
}
