package simbench

import (
	"fmt"
	"time"

	"bellout/mapping"
)

// Limits stop a play that does not end by itself. Zero: 6 times the grid's
// readings plus 200, or 10 times the grid's seconds plus 600.
type Limits struct {
	Readings int
	Seconds  float64
	// Watch, when set, is told of every sweep and its answers.
	Watch func(s mapping.Sweep, answers []mapping.Reading)
	// Readings taken are kept here when set.
	Keep *[]mapping.Reading
}

// Play lets a solver work a pod through a person to the end, and judges it.
func Play(w *World, p *Person, s Solver, l Limits) Score {
	if p.World != w {
		panic("simbench: the person holds another pod")
	}
	grid := Grid(w.Pod)
	if l.Readings == 0 {
		l.Readings = 200
		for _, g := range grid {
			l.Readings += 6 * len(g.Steps)
		}
	}
	if l.Seconds == 0 {
		l.Seconds = 10*GridSeconds(w.Pod) + 600
	}
	hand := NewHand(w.Pod, p.Leads)
	bench := mapping.Bench{Leads: p.Leads, Levers: w.Setting(w.Lever(nil))}
	var think []float64
	var fail error
	stopped := false
	for hand.Readings < l.Readings && hand.Seconds < l.Seconds {
		began := time.Now()
		sweep, ok := s.Next(bench)
		took := time.Since(began).Seconds()
		if !ok {
			think = append(think, took)
			stopped = true
			break
		}
		answers, err := p.Answer(sweep)
		if err != nil {
			fail = fmt.Errorf("sweep %d cannot be done: %w", hand.Instructions+1, err)
			break
		}
		hand.Do(sweep)
		if l.Watch != nil {
			l.Watch(sweep, answers)
		}
		if l.Keep != nil {
			*l.Keep = append(*l.Keep, answers...)
		}
		bench = standing(w, bench, sweep)
		began = time.Now()
		s.Add(answers...)
		think = append(think, took+time.Since(began).Seconds())
	}
	out := Judge(w, p.Leads, s)
	out.Cost, out.Stopped, out.Err = hand.Cost, stopped, fail
	out.Thinking = think
	for _, t := range think {
		out.Slowest = max(out.Slowest, t)
	}
	out.Mishaps = p.Mishaps
	return out
}

// standing is the bench as a sweep leaves it: clips where the sweep put them,
// latching levers as in its last step, buttons let go.
func standing(w *World, b mapping.Bench, s mapping.Sweep) mapping.Bench {
	if s.Control || len(s.Steps) == 0 {
		return b
	}
	lever := w.Lever(s.Steps[len(s.Steps)-1])
	rest := w.Lever(nil)
	for k, sw := range w.Pod.Switches {
		if sw.Momentary {
			lever[k] = rest[k]
		}
	}
	return mapping.Bench{Leads: b.Leads, Red: s.Red, Black: s.Black, Levers: w.Setting(lever)}
}
