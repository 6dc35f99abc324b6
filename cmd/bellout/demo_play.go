package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"bellout/cmd/bellout/internal/rig"
	"bellout/inference"
	"bellout/mapping"
	"bellout/tui"
)

// selfPlay plays the practice pod through without a builder and tells what
// happens, line by line.
type selfPlay struct {
	out    io.Writer
	meter  *practice
	engine rig.Engine
	job    *memoryJob
	bench  mapping.Bench

	number  int
	seconds float64
	told    map[string]bool // doubts told already
	taught  map[string]bool // what the old hand has said
}

// podKey is the one pod of a practice job.
const podKey = mapping.PodKey("practice")

// play goes on until nothing is left to ask.
func (p *selfPlay) play(ctx context.Context) error {
	p.told, p.taught = map[string]bool{}, map[string]bool{}
	for ctx.Err() == nil {
		if retest, ok := p.doubt(); ok {
			if err := p.sweep(retest); err != nil {
				return err
			}
			continue
		}
		next, ok := p.engine.Next(p.bench)
		if !ok {
			return nil
		}
		if err := p.sweep(next.Sweep); err != nil {
			return err
		}
	}
	return ctx.Err()
}

// sweep prints an instruction, takes the meter's answers and keeps them.
func (p *selfPlay) sweep(s mapping.Sweep) error {
	pod := p.meter.pod.Pod
	kept, err := p.job.Append(mapping.Entry{Pod: podKey, Ask: &mapping.Ask{Sweep: s}})
	if err != nil {
		return err
	}
	s = kept[0].Ask.Sweep
	p.number++
	p.seconds += mapping.SweepSeconds(pod, p.bench, s)
	fmt.Fprintf(p.out, "\n%3d  %s\n", p.number, instruction(s))
	if !s.Control {
		fmt.Fprintf(p.out, "     why: %s\n", s.Why.Words())
	}
	if says := p.meter.Coach(s, 0); says != "" && !p.taught[says] {
		p.taught[says] = true
		fmt.Fprintf(p.out, "     old hand: %s\n", says)
	}
	steps := s.Steps
	if s.Control {
		steps = []mapping.Setting{nil}
	}
	at := p.bench.Levers
	var entries []mapping.Entry
	for i, step := range steps {
		r := mapping.Reading{Session: 1, Sweep: s.ID, Step: i, Red: s.Red, Black: s.Black, Setting: step, Mode: s.Mode, Control: s.Control}
		r.Outcome, r.Value = p.meter.Meter(s, i)
		fmt.Fprintf(p.out, "       %-44s %s\n", levers(pod, at, step), r.OutcomeWords())
		entries = append(entries, mapping.Entry{Pod: podKey, Reading: &r})
		at = step
	}
	kept, err = p.job.Append(entries...)
	if err != nil {
		return err
	}
	for _, e := range kept {
		p.engine.Add(*e.Reading)
	}
	p.bench = p.bench.After(pod, s)
	return nil
}

// doubt tells a doubt that has not been told yet, and gives its re-test.
func (p *selfPlay) doubt() (mapping.Sweep, bool) {
	entries, err := p.job.Entries()
	if err != nil {
		return mapping.Sweep{}, false
	}
	for _, d := range p.engine.Result().Doubts {
		// The clashing set may change as readings come in; the likeliest
		// culprit is what a builder would know the doubt by.
		key := fmt.Sprint(d.Readings)
		if len(d.Culprits) > 0 {
			key = tui.CulpritWords(d.Culprits[0])
		}
		if p.told[key] {
			continue
		}
		p.told[key] = true
		fmt.Fprintf(p.out, "\n   ? A doubt: these readings cannot all be right.\n")
		for _, id := range d.Readings {
			fmt.Fprintf(p.out, "       %s\n", readingLine(p.meter.pod.Pod, find(entries, id)))
		}
		if len(d.Culprits) > 0 {
			fmt.Fprintf(p.out, "     likeliest: %s\n", tui.CulpritWords(d.Culprits[0]))
		}
		if len(d.Retest.Red) > 0 {
			fmt.Fprintf(p.out, "     the re-test that settles it comes next\n")
			return d.Retest, true
		}
	}
	return mapping.Sweep{}, false
}

// score compares what was learnt with the truth and the time with the grid.
func (p *selfPlay) score(r inference.Result) {
	f := p.meter.pod
	right, all := p.meter.Right(r.Map)
	grid := mapping.GridSeconds(f.Pod)
	fmt.Fprintf(p.out, "\nThe map is right in %d of %d settings.\n", right, all)
	fmt.Fprintf(p.out, "Bench time %s by the cost table; the textbook grid takes %s.\n", mapping.Minutes(p.seconds), mapping.Minutes(grid))
	if p.meter.lie != (told{}) {
		fmt.Fprintf(p.out, "The wrong reading in store was step %d of the sweep kept as %d: %s.\n",
			p.meter.lie.step+1, p.meter.lie.sweep, whatWentWrong)
	}
}

func find(entries []mapping.Entry, id mapping.ReadingID) mapping.Reading {
	for _, e := range entries {
		if e.Reading != nil && e.Reading.ID == id {
			return *e.Reading
		}
	}
	return mapping.Reading{ID: id}
}

// instruction says where the clips go.
func instruction(s mapping.Sweep) string {
	if s.Control {
		return "control beep: touch " + mapping.SideWords(s.Red) + " with the other lead"
	}
	meter := ""
	switch s.Mode {
	case mapping.Ohms:
		meter = ", meter on ohms"
	case mapping.Diode:
		meter = ", meter on diode"
	}
	return "red on " + mapping.SideWords(s.Red) + ", black on " + mapping.SideWords(s.Black) + meter
}

// levers says what moves from one setting to the next; all of it at first.
func levers(p mapping.Pod, from, to mapping.Setting) string {
	if to == nil {
		return "as they stand"
	}
	var moved []string
	for _, sw := range p.Switches {
		if from == nil || from.At(sw) != to.At(sw) {
			moved = append(moved, string(sw.Name)+" "+string(to.At(sw)))
		}
	}
	if len(moved) == 0 {
		return "levers as they stand"
	}
	return strings.Join(moved, ", ")
}
