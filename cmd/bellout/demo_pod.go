package main

import (
	_ "embed"
	"fmt"
	"strings"

	"bellout/mapping"
	"bellout/mapping/fixture"
)

//go:embed demo.pod
var demoPodText string

// practice plays the practice pod and a meter that errs once.
type practice struct {
	pod *fixture.Fixture

	// The lie is told to one reading and stands: asked twice about the same
	// step of the same sweep the meter says the same.
	beeps int
	told  map[told]mapping.Outcome
	lie   told
}

type told struct {
	sweep mapping.SweepID
	step  int
}

// lieAtBeep says which beep the meter misses, counted from 1: late enough for
// the builder to trust it by then.
const lieAtBeep = 4

// whatWentWrong is the wrong reading in store, told when all is over.
const whatWentWrong = "the needle had slid onto varnish"

func newPractice() (*practice, error) {
	pod, err := fixture.Parse(strings.NewReader(demoPodText))
	if err != nil {
		return nil, err
	}
	for i, sw := range pod.Pod.Switches {
		switch sw.Name {
		case "dip":
			pod.Pod.Switches[i].Legend = "two lamps"
		case "turn":
			pod.Pod.Switches[i].Legend = "two arrows"
		case "hooter":
			pod.Pod.Switches[i].Legend = "bugle"
		}
	}
	return &practice{pod: pod, told: map[told]mapping.Outcome{}}, nil
}

// Meter says what the meter shows at one step of a sweep.
func (p *practice) Meter(s mapping.Sweep, step int) (mapping.Outcome, float64) {
	if s.Control {
		return mapping.Sounded, 0
	}
	if s.Mode != mapping.Beep {
		return p.pod.Measure(s.Mode, s.Red, s.Black, s.Steps[step])
	}
	key := told{s.ID, step}
	if o, ok := p.told[key]; ok && s.ID != 0 {
		return o, 0
	}
	o := p.pod.Read(s.Red, s.Black, s.Steps[step])
	if o == mapping.Sounded {
		p.beeps++
		if p.beeps == lieAtBeep {
			o, p.lie = mapping.Silent, key
		}
	}
	p.told[key] = o
	return o, 0
}

// Right says in how many of all settings a map has the pod's nets.
func (p *practice) Right(m mapping.Map) (right, all int) {
	settings(p.pod.Pod, func(s mapping.Setting) bool {
		all++
		if fmt.Sprint(m.Nets(p.pod.Pod, s)) == fmt.Sprint(p.pod.Nets(s)) {
			right++
		}
		return true
	})
	return right, all
}

// Coach is what an old hand would say to the sweep in hand, or nothing.
func (p *practice) Coach(s mapping.Sweep, step int) string {
	switch {
	case s.Control:
		return "A silent clip proves nothing: touch its own wire and hear it bite."
	case step > 0:
		return ""
	case s.Why.Reason == mapping.Settle:
		return "Never average. Ask the one question that only one of them can answer."
	case s.Why.Reason == mapping.Partner:
		return "A switch that clicks and changes nothing has a partner: move them together."
	case len(s.Steps) > 2:
		return "Clips on once, then work the levers: that makes a three-handed job a one-handed one."
	case len(s.Red)+len(s.Black) > 3:
		return "A bunch that stays silent clears all of its wires in one go."
	case s.Why.Reason == mapping.Confirm:
		return "A beep that stops and starts with the click is near proof."
	}
	return ""
}

// settings calls visit for every setting of a pod until it says no.
func settings(p mapping.Pod, visit func(mapping.Setting) bool) {
	var walk func(i int, s mapping.Setting) bool
	walk = func(i int, s mapping.Setting) bool {
		if i == len(p.Switches) {
			return visit(s.Clone())
		}
		for _, q := range p.Switches[i].Positions {
			s[p.Switches[i].Name] = q
			if !walk(i+1, s) {
				return false
			}
		}
		return true
	}
	walk(0, mapping.Setting{})
}
