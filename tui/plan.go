package tui

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bellout/mapping"
	"bellout/mapping/plan"
)

// Harness keeps the plan of the harness, a text file beside the job. Load reads
// it; the error says what is wrong in it line by line, or is fs.ErrNotExist
// where there is none yet. Make writes a first one from the maps of the job with
// this log, and says what it wrote.
type Harness interface {
	Where() string
	Load() (plan.Plan, error)
	Make(log []mapping.Entry) (wrote []string, err error)
}

// harness is the screen of the plan: what is wrong with it, what its ways carry,
// what a pulled plug stops, the proof of the finished harness, the roadside.
type harness struct {
	app    *app
	made   *workedOut // nil while it is worked out
	err    error
	pane   pane
	offset int
	height int
	line   *editor
	answer []string       // of the roadside
	asked  string         // and what was asked
	part   int            // that is being proved
	at     int            // its reading in hand
	gone   [][2]int       // parts and readings answered here, for undo
	faults []plan.Suspect // what explains the readings of the part in hand
}

// pane is one side of the plan.
type pane int

const (
	paneFindings pane = iota
	paneWays
	paneWhatIf
	paneProof
	paneRoadside
)

// workedOut is all that follows from a plan as it stood when it was read.
type workedOut struct {
	plan     plan.Plan
	found    []plan.Judged
	work     plan.Worked
	shared   []plan.SharedFeed
	pulls    []plan.WhatIf
	tries    []plan.PlugTry
	parts    []string
	readings map[string][]plan.ProofReading
}

// planReady comes from the command that reads the plan and works it out;
// planMade from the one that writes a first plan.
type (
	planReady struct {
		made *workedOut
		err  error
	}
	planMade struct {
		wrote []string
		err   error
	}
)

// openHarness opens the screen of the plan.
func (a *app) openHarness() tea.Cmd {
	if a.o.Harness == nil {
		a.lookAt("nothing is set up to hold a plan here; leave and use the plan command")
		return nil
	}
	h := &harness{app: a}
	a.push(h)
	return h.load()
}

func (h *harness) scope() scope    { return onPlan }
func (h *harness) title() string   { return "harness" }
func (h *harness) typing() *editor { return h.line }

func (h *harness) load() tea.Cmd {
	h.made, h.err, h.gone = nil, nil, nil // what was answered may be at other places now
	file := h.app.o.Harness
	return func() tea.Msg {
		p, err := file.Load()
		if err != nil {
			return planReady{err: err}
		}
		m := &workedOut{plan: p, found: plan.CheckAll(p), work: plan.Work(p), shared: plan.ShareOut(p),
			pulls: plan.Unplug(p), tries: plan.TryPlugs(p), parts: plan.Parts(p), readings: map[string][]plan.ProofReading{}}
		for _, part := range m.parts {
			m.readings[part] = plan.ProofReadings(p, part)
		}
		return planReady{made: m}
	}
}

func (h *harness) take(m tea.Msg) tea.Cmd {
	switch m := m.(type) {
	case planReady:
		h.made, h.err = m.made, m.err
		if m.made != nil {
			h.part = min(h.part, max(0, len(m.made.parts)-1))
			h.at, h.faults = h.next(0), h.suspects()
		}
	case planMade:
		if m.err != nil {
			return h.app.refuse(m.err)
		}
		h.app.say("written: " + strings.Join(m.wrote, ", ") + ". Lengths are guesses and loads typical ones: mend it, then load it again")
		return tea.Batch(h.load(), h.app.ring(false))
	}
	return nil
}

func (h *harness) act(a action) tea.Cmd {
	h.offset = scrolled(h.offset, a, h.height)
	switch a {
	case actRight, actLeft:
		step := pane(1)
		if a == actLeft {
			step = paneRoadside
		}
		h.pane, h.offset = (h.pane+step)%(paneRoadside+1), 0
	case actReload:
		return h.load()
	case actNew:
		if !h.missing() {
			h.app.lookAt("there is a plan already: it is never written over; mend " + h.app.o.Harness.Where() + " and load it again")
			return nil
		}
		file, log := h.app.o.Harness, slices.Clone(h.app.log)
		h.app.say("working out the maps")
		return func() tea.Msg {
			wrote, err := file.Make(log)
			return planMade{wrote, err}
		}
	case actLine:
		if h.made != nil {
			h.line, h.pane, h.offset = &editor{}, paneRoadside, 0
		}
	case actBack:
		h.line = nil
	case actOpen:
		return h.look()
	case actBeep, actSilent:
		return h.heard(a == actBeep)
	case actPart:
		if h.made != nil && len(h.made.parts) > 0 {
			h.part, h.pane, h.offset = (h.part+1)%len(h.made.parts), paneProof, 0
			h.at, h.faults = h.next(0), h.suspects()
		}
	}
	return nil
}

// missing tells that there is no plan yet.
func (h *harness) missing() bool { return errors.Is(h.err, fs.ErrNotExist) }

// look answers a symptom.
func (h *harness) look() tea.Cmd {
	symptom := strings.TrimSpace(mapping.Clean(h.line.string(), mapping.MaxText))
	if symptom == "" {
		h.line = nil
		return nil
	}
	lines, err := plan.Roadside(h.made.plan, symptom)
	if err != nil {
		return h.app.refuse(err)
	}
	h.answer, h.asked, h.line = lines, symptom, nil
	return nil
}

// list is the readings of the part in hand.
func (h *harness) list() []plan.ProofReading {
	if h.made == nil || h.part >= len(h.made.parts) {
		return nil
	}
	return h.made.readings[h.made.parts[h.part]]
}

// read gives for the readings of the part in hand that have their answer whether
// it beeped: the latest word of each.
func (h *harness) read() map[string]bool {
	return plan.Heard(h.list(), h.app.job.LastValues())
}

// next is the reading to take from one on: the first that has no answer yet, else
// the first that differs from the plan, else behind the last.
func (h *harness) next(from int) int {
	list, read := h.list(), h.read()
	again := len(list)
	for i := range list {
		k := (from + i) % len(list)
		beep, ok := read[list[k].ID]
		switch {
		case !ok:
			return k
		case beep != list[k].Joined && again == len(list):
			again = k
		}
	}
	return again
}

// heard keeps the answer to the reading in hand and names the fault, if there
// is one.
func (h *harness) heard(beep bool) tea.Cmd {
	list := h.list()
	if h.pane != paneProof || h.made == nil {
		return nil
	}
	if h.at >= len(list) {
		h.app.lookAt("every reading of this part is as planned; " + h.app.key(onPlan, actPart) + " takes the next part")
		return nil
	}
	r := list[h.at]
	value, pass := r.Answer(beep)
	cmd := h.app.put("", mapping.Entry{Check: &mapping.CheckResult{Check: r.ID, Value: value, Pass: pass}})
	h.gone = append(h.gone, [2]int{h.part, h.at})
	say := fmt.Sprintf("reading %d: %s", h.at+1, value)
	h.at, h.faults = h.next(h.at+1), h.suspects()
	if pass {
		h.app.answered(say + ", as planned")
		return cmd
	}
	say += ", not as planned"
	if len(h.faults) > 0 {
		say += ". Likely: " + h.faults[0].Say
	}
	h.app.lookAt(say)
	return tea.Batch(cmd, h.app.ring(true))
}

// undo puts the last answer back to be given again. Nothing is taken out of the
// job: the latest word on a reading counts.
func (h *harness) undo() tea.Cmd {
	n := len(h.gone)
	if n == 0 {
		h.app.lookAt("nothing was answered on this screen yet")
		return nil
	}
	h.pane, h.offset, h.part, h.at = paneProof, 0, h.gone[n-1][0], h.gone[n-1][1]
	h.gone, h.faults = h.gone[:n-1], h.suspects()
	h.app.say(fmt.Sprintf("answer reading %d again: the later word counts", h.at+1))
	return nil
}

// suspects are the faults that explain what was read of the part in hand.
func (h *harness) suspects() []plan.Suspect {
	if len(h.list()) == 0 {
		return nil
	}
	return plan.NameFault(h.made.plan, h.made.parts[h.part], h.read())
}

// idle tells of an action that has nothing to act on just now.
func (h *harness) idle(act action) bool {
	switch act {
	case actBeep, actSilent:
		return h.pane != paneProof || h.at >= len(h.list())
	case actUndo:
		return len(h.gone) == 0
	case actNew:
		return !h.missing()
	case actLine, actPart, actRight:
		return h.made == nil
	}
	return false
}
