package tui

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bellout/mapping"
)

// probe is the bench: the one thing to do now, in the same place every time.
// From the top: the two leads, the levers, the steps of the sweep with what was
// heard, why, and the line for what is typed.
type probe struct {
	app  *app
	line *editor
	use  lineUse
	why  bool
}

// lineUse is what the typed line is for.
type lineUse int

const (
	useAnswer lineUse = iota
	useNote
	useAmend
)

func (p *probe) scope() scope    { return onProbe }
func (p *probe) typing() *editor { return p.line }

func (p *probe) title() string {
	s := p.app.ses
	if s.ask != nil && s.ask.sweep.Control {
		return "control beep"
	}
	if s.ask == nil && s.th.asked && !s.th.has {
		return "the bench"
	}
	if p.app.hear.ask != nil {
		return "hands free, I am listening"
	}
	return [...]string{"listen for the beep", "read ohms", "read diode volts"}[s.meterMode()]
}

// short is the title on a narrow screen.
func (p *probe) short() string {
	s := p.app.ses
	switch {
	case s.ask != nil && s.ask.sweep.Control:
		return "control"
	case p.app.hear.ask != nil:
		return "listening"
	}
	return [...]string{"beep?", "ohms?", "volts?"}[s.meterMode()]
}

// meterMode is what the meter has to be set to for the reading in hand.
func (s *session) meterMode() mapping.Mode {
	if s.ask != nil && s.ask.sweep.Mode != mapping.Beep {
		return s.ask.sweep.Mode
	}
	return s.mode
}

// answerWords says what the two answer keys do with the meter as it is set.
func (p *probe) answerWords() string {
	shows := [...]string{"", "0.4 or 38", "0.62"}[p.app.ses.meterMode()]
	if shows == "" {
		return ""
	}
	return "type what the meter shows, as " + shows + "; " + p.app.key(onProbe, actSilent) + " is OL"
}

// hint is what a key is said to do at the foot: with the meter on a range that
// shows figures the two answer keys do something else.
func (p *probe) hint(b bound) string {
	switch {
	case p.app.ses.meterMode() == mapping.Beep:
	case b.act == actBeep:
		return "type a figure"
	case b.act == actSilent:
		return "OL"
	}
	return b.hint
}

// begin starts a typed line with a key that has no other meaning here: figures
// and what a meter shows.
func (p *probe) begin(m tea.KeyMsg) tea.Cmd {
	if !startsLine(m) {
		return nil
	}
	p.line, p.use = &editor{}, useAnswer
	p.line.key(m)
	return nil
}

func startsLine(m tea.KeyMsg) bool {
	return m.Type == tea.KeyRunes && len(m.Runes) == 1 && strings.ContainsRune("0123456789-.Oo+", m.Runes[0])
}

func (p *probe) take(tea.Msg) tea.Cmd { return nil }

func (p *probe) act(a action) tea.Cmd {
	s := p.app.ses
	switch a {
	case actOpen:
		return p.enter()
	case actBack:
		p.line = nil
	case actBeep:
		if s.meterMode() != mapping.Beep {
			p.line, p.use = &editor{}, useAnswer // a figure has to be typed
			return nil
		}
		return s.answer(said{outcome: mapping.Sounded})
	case actSilent:
		if m := s.meterMode(); m != mapping.Beep {
			return s.answer(said{outcome: mapping.OverRange, mode: m})
		}
		return s.answer(said{outcome: mapping.Silent})
	case actMeter:
		return p.play()
	case actNotSure:
		return s.answer(said{outcome: mapping.NotSure})
	case actFlicker:
		return s.answer(said{outcome: mapping.Flicker})
	case actReach:
		return p.cannotReach()
	case actLine:
		p.line, p.use = &editor{}, useAnswer
	case actNote:
		if _, ok := s.noted(); ok {
			p.line, p.use = &editor{}, useNote
		}
	case actAmend:
		p.line, p.use = &editor{}, useAmend
	case actMode:
		s.mode = (s.mode + 1) % 3
		p.app.say("meter on " + modeName(s.mode))
		if s.mode == mapping.Ohms {
			p.app.caution("ohms")
		}
		if s.mode == mapping.Diode {
			p.app.caution("diode")
		}
	case actControl:
		return p.control()
	case actListen:
		return s.listen()
	case actWhy:
		p.why = !p.why
	case actLeads:
		return s.otherLeads()
	default:
		return p.app.visit(a)
	}
	return nil
}

// visit opens the screen that an action names.
func (a *app) visit(act action) tea.Cmd {
	a.hush()
	switch act {
	case actTable:
		a.push(&table{app: a})
	case actDoubts:
		a.push(&doubts{app: a})
	case actKnown:
		a.push(known(a))
	case actLog:
		a.push(&logbook{app: a, at: 1 << 30})
	case actSlip:
		a.push(newSlip(a))
	case actPinout:
		p := &pinout{app: a}
		a.push(p)
		return p.load()
	case actCut:
		a.push(&cut{app: a})
		a.caution("cut")
	case actPods:
		a.push(&pods{app: a})
	case actPlan:
		return a.openHarness()
	}
	return nil
}

// enter takes the typed line. A line that is not understood stays, with what is
// wrong with it: nothing typed is lost.
func (p *probe) enter() tea.Cmd {
	s := p.app.ses
	text := p.line.string()
	if strings.TrimSpace(text) == "" {
		p.line = nil
		return nil
	}
	switch p.use {
	case useNote:
		p.line = nil
		if about, ok := s.noted(); ok {
			return s.remark(text, about)
		}
		return nil
	case useAmend:
		if d, say, ok, err := meterLineOf(text); ok {
			if err != nil {
				return p.app.refuse(err)
			}
			p.line = nil
			p.app.say(say)
			return s.decide(d.Kind, d.End, d.Value)
		}
		pod, say, err := changed(s.work, text)
		if err != nil {
			return p.app.refuse(err)
		}
		p.line = nil
		p.app.say(say)
		return s.amendPod(pod)
	}
	n, cursor := 0, 0
	if s.ask != nil {
		n, cursor = s.ask.steps(), len(s.ask.said)
	}
	l, err := parseLine(text, s.work.Pod, s.meterMode(), n, cursor, s.levers())
	if err != nil {
		return p.app.refuse(err)
	}
	p.line = nil
	if l.turn != nil {
		cmd := s.outOfTurn(*l.turn)
		p.app.cautionFor(said{outcome: l.turn.Outcome, mode: l.turn.Mode, value: l.turn.Value})
		return cmd
	}
	vs := inOrder(l.steps, cursor)
	cmd := s.answer(vs...)
	p.app.cautionFor(vs...)
	return cmd
}

// inOrder lists the answers of a line from the step in hand on.
func inOrder(steps map[int]said, cursor int) []said {
	var out []said
	for i := cursor; ; i++ {
		v, ok := steps[i]
		if !ok {
			return out
		}
		out = append(out, v)
	}
}

func (a *app) refuse(err error) tea.Cmd {
	a.lookAt(err.Error())
	return a.ring(true)
}

// noted is the reading that a note goes with: the last one that stands.
func (s *session) noted() (mapping.ReadingID, bool) {
	live := s.work.Live()
	if len(live) == 0 {
		s.app.lookAt("a note goes with a reading that stands: take one first")
		return 0, false
	}
	return live[len(live)-1].ID, true
}

func (s *session) remark(text string, about mapping.ReadingID) tea.Cmd {
	s.ahead = nil // the number of the next reading has changed
	s.app.say(fmt.Sprintf("note kept with reading #%d", about))
	return tea.Batch(
		s.app.put(s.key, mapping.Entry{Remark: &mapping.Remark{Text: mapping.Clean(text, mapping.MaxNote), Reading: about}}),
		s.lookAhead(),
	)
}

// cannotReach leaves out the rest of the sweep: its ends are the same at every
// step.
func (p *probe) cannotReach() tea.Cmd {
	s := p.app.ses
	if s.ask == nil {
		return s.answer()
	}
	vs := make([]said, s.ask.steps()-len(s.ask.said))
	for i := range vs {
		vs[i] = said{outcome: mapping.CannotReach}
	}
	return s.answer(vs...)
}

// control puts a control beep before the sweep in hand, which is asked again
// after it.
func (p *probe) control() tea.Cmd {
	s := p.app.ses
	black := s.bench.Black
	if s.ask != nil && !s.ask.sweep.Control {
		black = s.ask.sweep.Black
	}
	if len(black) == 0 {
		p.app.lookAt("no clip is set yet, so there is nothing to prove")
		return nil
	}
	s.abandon()
	return s.put(mapping.Sweep{Red: black[:1], Black: black[:1], Control: true, Why: mapping.Why{Reason: mapping.BiteTest, Ends: black[:1]}})
}

// otherLeads begins a sitting with the leads held the other way.
func (s *session) otherLeads() tea.Cmd {
	l := mapping.PairLeads
	if s.bench.Leads == l {
		l = mapping.BunchLeads
	}
	cmd := s.sit(l)
	s.app.say(fmt.Sprintf("sitting %d begins: %s", s.work.Session, leadsWords(l)))
	return cmd
}

func leadsWords(l mapping.Leads) string {
	if l == mapping.BunchLeads {
		return "both leads clipped, bunches allowed"
	}
	return "black is a clip, red a needle"
}

func modeName(m mapping.Mode) string { return [...]string{"beep", "ohms", "diode volts"}[m] }
