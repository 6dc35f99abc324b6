package simbench

import "bellout/mapping"

// Cost is the bench time by the cost table of the design, counted act by act
// from where the bench stands. It is written anew here, so that a slip in
// package mapping's arithmetic shows.
type Cost struct {
	Instructions int     // instructions read, control beeps included
	Readings     int     // readings entered, control beeps included
	Controls     int     // control beeps
	Seconds      float64 // all of it
}

// Hand follows the clips and levers of a bench and adds up the seconds.
type Hand struct {
	Cost
	pod   mapping.Pod
	bunch bool
	red   map[mapping.EndID]bool
	black map[mapping.EndID]bool
	lever map[mapping.SwitchID]int // believed positions, momentary at rest
}

// NewHand begins with free clips and every lever at rest.
func NewHand(p mapping.Pod, l mapping.Leads) *Hand {
	h := &Hand{pod: p, bunch: l == mapping.BunchLeads, lever: map[mapping.SwitchID]int{}}
	for _, sw := range p.Switches {
		h.lever[sw.Name] = positionOf(sw, nil)
	}
	return h
}

func set(ends []mapping.EndID) map[mapping.EndID]bool {
	m := map[mapping.EndID]bool{}
	for _, e := range ends {
		m[e] = true
	}
	return m
}

func missing(from, in map[mapping.EndID]bool) int {
	n := 0
	for e := range from {
		if !in[e] {
			n++
		}
	}
	return n
}

// rebunch is the price of turning one bunch into another: an added end 5, one
// taken out 4, a clip with a single end (or none) changed over 6.
func rebunch(have, want map[mapping.EndID]bool) float64 {
	come, go_ := missing(want, have), missing(have, want)
	switch {
	case come == 0 && go_ == 0:
		return 0
	case go_ == len(have): // nothing stays: strip to one, change it, fill up
		return 4*float64(max(0, go_-1)) + 6 + 5*float64(come-1)
	}
	return 5*float64(come) + 4*float64(go_)
}

// Do adds the price of one sweep.
func (h *Hand) Do(s mapping.Sweep) {
	h.Instructions++
	h.Seconds += 2
	if s.Control {
		h.Controls++
		h.Readings++
		h.Seconds += 1.2
		return
	}
	red, black := set(s.Red), set(s.Black)
	if h.bunch {
		h.Seconds += rebunch(h.red, red) + rebunch(h.black, black)
	} else {
		if missing(red, h.red)+missing(h.red, red) > 0 {
			h.Seconds += 3
		}
		if missing(black, h.black)+missing(h.black, black) > 0 {
			h.Seconds += 6
		}
	}
	h.red, h.black = red, black
	for _, step := range s.Steps {
		h.levers(step)
		h.Readings++
		h.Seconds += 1.2
	}
}

// levers moves the levers to a setting: 2 for each position stepped over, 3 or
// 5 for each momentary switch held for the step.
func (h *Hand) levers(to mapping.Setting) {
	for _, sw := range h.pod.Switches {
		at, rest := positionOf(sw, to), positionOf(sw, nil)
		if sw.Momentary {
			if at != rest && h.bunch {
				h.Seconds += 3
			} else if at != rest {
				h.Seconds += 5
			}
			continue
		}
		d := at - h.lever[sw.Name]
		if d < 0 {
			d = -d
		}
		h.Seconds += 2 * float64(d)
		h.lever[sw.Name] = at
	}
}

// Grid is the textbook grid: every pair with pair leads, the switches worked
// one at a time through all their positions, everything else at rest.
func Grid(p mapping.Pod) []mapping.Sweep {
	rest := mapping.Setting{}
	for _, sw := range p.Switches {
		rest[sw.Name] = sw.Rest
	}
	steps := []mapping.Setting{rest}
	for _, sw := range p.Switches {
		for _, q := range sw.Positions {
			if q == sw.Rest {
				continue
			}
			s := mapping.Setting{}
			for k, v := range rest {
				s[k] = v
			}
			s[sw.Name] = q
			steps = append(steps, s)
		}
	}
	var out []mapping.Sweep
	for i, a := range p.Ends {
		for _, b := range p.Ends[i+1:] {
			out = append(out, mapping.Sweep{
				Black: []mapping.EndID{a.ID}, Red: []mapping.EndID{b.ID}, Steps: steps,
			})
		}
	}
	return out
}

// GridSeconds prices the textbook grid, the levers put back to rest after each
// pair.
func GridSeconds(p mapping.Pod) float64 {
	h := NewHand(p, mapping.PairLeads)
	rest := mapping.Setting{}
	for _, s := range Grid(p) {
		h.Do(s)
		h.levers(rest)
	}
	return h.Seconds
}
