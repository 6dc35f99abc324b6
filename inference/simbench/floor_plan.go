package simbench

import (
	"math"
	"math/bits"
	"slices"

	"bellout/mapping"
)

// bunch is a set of ends as bits.
type bunch uint32

func (b bunch) list() []int {
	var out []int
	for ; b != 0; b &= b - 1 {
		out = append(out, bits.TrailingZeros32(uint32(b)))
	}
	return out
}

// plan is one sweep of a proof.
type plan struct {
	red, black bunch
	steps      []int // setting numbers
	control    bool  // a control beep follows
}

func (s plan) clone() plan {
	return plan{s.red, s.black, slices.Clone(s.steps), s.control}
}

// sweeps writes plans down as sweeps.
func (p *prover) sweeps(plans []plan) []mapping.Sweep {
	var out []mapping.Sweep
	name := func(b bunch) []mapping.EndID {
		var ids []mapping.EndID
		for _, i := range b.list() {
			ids = append(ids, p.w.Pod.Ends[i].ID)
		}
		return ids
	}
	for _, s := range plans {
		m := mapping.Sweep{Red: name(s.red), Black: name(s.black)}
		for _, at := range s.steps {
			m.Steps = append(m.Steps, p.w.Setting(p.all[at]))
		}
		out = append(out, m)
		if s.control {
			out = append(out, mapping.Sweep{Control: true, Red: m.Red[:1], Black: m.Red[:1]})
		}
	}
	return out
}

// seconds prices plans from a bench with free clips and levers at rest.
func (p *prover) seconds(plans []plan) float64 {
	t := 0.0
	var red, black bunch
	lever := p.o.rest
	hold := 5.0
	if p.leads == mapping.BunchLeads {
		hold = 3
	}
	for _, s := range plans {
		t += 2
		if p.leads == mapping.BunchLeads {
			t += rebunchBits(red, s.red) + rebunchBits(black, s.black)
		} else {
			if s.red != red {
				t += 3
			}
			if s.black != black {
				t += 6
			}
		}
		red, black = s.red, s.black
		if s.control {
			t += 3.2
		}
		for _, at := range s.steps {
			to := p.all[at]
			t += 1.2
			for k, sw := range p.w.Pod.Switches {
				switch {
				case sw.Momentary && to[k] != p.o.rest[k]:
					t += hold
				case !sw.Momentary:
					t += 2 * math.Abs(float64(to[k]-lever[k]))
				}
			}
			lever = to
		}
	}
	return t
}

func rebunchBits(have, want bunch) float64 {
	come, leave := bits.OnesCount32(uint32(want&^have)), bits.OnesCount32(uint32(have&^want))
	switch {
	case come == 0 && leave == 0:
		return 0
	case have&want == 0:
		return 4*float64(max(0, leave-1)) + 6 + 5*float64(come-1)
	}
	return 5*float64(come) + 4*float64(leave)
}

// doable tells whether the plan can be done: two sides, apart, and no more
// buttons held than there are hands.
func (p *prover) doable(s plan) bool {
	if s.red == 0 || s.black == 0 || s.red&s.black != 0 || len(s.steps) == 0 {
		return false
	}
	if p.leads == mapping.PairLeads && (s.red&(s.red-1) != 0 || s.black&(s.black-1) != 0) {
		return false
	}
	return !slices.ContainsFunc(s.steps, func(at int) bool { return p.held[at] > hands(p.leads) })
}
