package tui

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bellout/mapping"
)

// comeback is the return screen after an absence. It never assumes that the
// levers stayed where they were: it says where each should be, where the clip
// goes, and proves it by one pair that should beep and one that should not.
type comeback struct {
	app    *app
	line   *editor // a reading out of turn
	plan   *proving
	looked bool
	ids    []mapping.ReadingID
	said   []mapping.Outcome
}

// proving is what has to be set, and the two pairs that prove it.
type proving struct {
	setting      mapping.Setting
	black        mapping.EndID
	beep, silent mapping.EndID // red; empty where no such pair is known yet
}

func (c *comeback) scope() scope         { return onReturn }
func (c *comeback) title() string        { return "coming back" }
func (c *comeback) typing() *editor      { return c.line }
func (c *comeback) take(tea.Msg) tea.Cmd { return nil }

// look finds the proving pairs in the contact table: the surest join, heard more
// than once where there is one, that needs the fewest levers off rest, and an end
// that is surely open to it.
func (c *comeback) look() {
	t := c.app.ses.th.table
	if c.looked || len(t.rows) == 0 {
		return
	}
	c.looked = true
	c.plan = provingPair(c.app.ses.work.Pod, c.app.ses.work.Live(), t)
}

func provingPair(pod mapping.Pod, readings []mapping.Reading, t contactTable) *proving {
	best := &proving{setting: pod.Rest()}
	score := 0
	for _, r := range t.rows {
		if r.name != "" {
			continue // several levers at once prove too much in one go
		}
		sw, _ := pod.Switch(r.sw)
		for _, tie := range r.Ties {
			g := min(r.Grade[tie[0]], r.Grade[tie[1]])
			if g < mapping.Likely {
				continue
			}
			p := &proving{setting: r.setting, black: t.ends[tie[0]].ID, beep: t.ends[tie[1]].ID}
			n := 16 * int(g)
			if beeps(pod, readings, p) > 1 {
				n += 8
			}
			if r.rest {
				n += 4
			}
			if !sw.Momentary {
				n += 2
			}
			for i, e := range t.ends {
				if len(r.tied(i)) == 0 && r.Grade[i] >= mapping.Likely {
					p.silent = e.ID
					n += int(r.Grade[i])
					break
				}
			}
			if n > score {
				best, score = p, n
			}
		}
	}
	return best
}

// beeps counts how often the very reading that is to prove the bench was a beep.
func beeps(pod mapping.Pod, readings []mapping.Reading, p *proving) int {
	n := 0
	for _, r := range readings {
		if len(r.Red) != 1 || len(r.Black) != 1 || r.Continuity() != mapping.Closed {
			continue
		}
		if x, y := r.Red[0], r.Black[0]; x == p.black && y == p.beep || x == p.beep && y == p.black {
			if !slices.ContainsFunc(pod.Switches, func(sw mapping.Switch) bool { return r.Setting.At(sw) != p.setting.At(sw) }) {
				n++
			}
		}
	}
	return n
}

// step is how many of the two pairs have been read and not undone.
func (c *comeback) step() int {
	n := 0
	for _, id := range c.ids {
		if _, gone := c.app.ses.work.Struck[id]; !gone {
			n++
		}
	}
	c.ids, c.said = c.ids[:n], c.said[:n]
	return n
}

func (c *comeback) expected(step int) (red mapping.EndID, want mapping.Outcome) {
	if c.plan == nil {
		return "", mapping.NoOutcome
	}
	if step == 0 && c.plan.beep != "" {
		return c.plan.beep, mapping.Sounded
	}
	if step == 1 && c.plan.silent != "" {
		return c.plan.silent, mapping.Silent
	}
	return "", mapping.NoOutcome
}

func (c *comeback) act(a action) tea.Cmd {
	c.look()
	s := c.app.ses
	switch a {
	case actLine:
		c.line = &editor{}
	case actBack:
		c.line = nil
	case actOpen:
		text := c.line.string()
		if strings.TrimSpace(text) == "" {
			c.line = nil
			return nil
		}
		return c.turn(text)
	case actGoOn:
		return c.goOn(nil)
	case actLeads:
		return s.otherLeads()
	case actKnown:
		c.app.push(known(c.app))
	case actBeep:
		return c.read(mapping.Sounded)
	case actSilent:
		return c.read(mapping.Silent)
	case actMeter:
		red, _ := c.expected(c.step())
		if c.app.o.Player == nil || red == "" {
			return nil
		}
		o, _ := c.app.o.Player.Meter(mapping.Sweep{
			Red: []mapping.EndID{red}, Black: []mapping.EndID{c.plan.black}, Steps: []mapping.Setting{c.plan.setting},
		}, 0)
		return c.read(o)
	}
	return nil
}

// read records a proving reading; it is evidence like any other.
func (c *comeback) read(o mapping.Outcome) tea.Cmd {
	s := c.app.ses
	step := c.step()
	red, want := c.expected(step)
	if red == "" {
		return c.goOn(nil)
	}
	if c.app.saveErr != nil {
		return c.app.ring(true)
	}
	id := mapping.ReadingID(c.app.seq + 1)
	cmd := s.outOfTurn(mapping.Reading{
		Red: []mapping.EndID{red}, Black: []mapping.EndID{c.plan.black}, Setting: c.plan.setting, Outcome: o,
	})
	c.ids, c.said = append(c.ids, id), append(c.said, o)
	if o != want {
		c.app.lookAt(fmt.Sprintf("not as it was: %s should be %s. Look at every lever, the clip's bite and the flags; %s takes it back to read again, %s goes on as it is",
			red, map[mapping.Outcome]string{mapping.Sounded: "a beep", mapping.Silent: "silent"}[want],
			c.app.key(everywhere, actUndo), c.app.key(onReturn, actGoOn)))
		return tea.Batch(cmd, c.app.ring(true))
	}
	if next, _ := c.expected(step + 1); next == "" && !c.odd() {
		c.app.say("proved: levers and clip are as shown")
		return tea.Batch(cmd, c.goOn(&mapping.Bench{
			Leads: s.bench.Leads, Red: []mapping.EndID{red}, Black: []mapping.EndID{c.plan.black}, Levers: atRest(s.work.Pod, c.plan.setting),
		}))
	}
	return cmd
}

// begin starts a typed line with a figure, as at the bench.
func (c *comeback) begin(m tea.KeyMsg) tea.Cmd {
	if startsLine(m) {
		c.line = &editor{}
		c.line.key(m)
	}
	return nil
}

// turn takes a reading of the builder's own: it is as welcome before the proof
// as at any other time. What is not understood stays in the line.
func (c *comeback) turn(text string) tea.Cmd {
	s := c.app.ses
	l, err := parseLine(text, s.work.Pod, s.meterMode(), 0, 0, nil)
	if err == nil && l.turn == nil {
		err = fmt.Errorf("no sweep is in hand: a reading out of turn is typed as 3 7 dip=main beep")
	}
	if err != nil {
		return c.app.refuse(err)
	}
	c.line = nil
	return s.outOfTurn(*l.turn)
}

// odd tells that a proving reading was not as it should be.
func (c *comeback) odd() bool {
	for i, o := range c.said {
		if _, want := c.expected(i); o != want {
			return true
		}
	}
	return false
}

// atRest is a setting after the buttons are let go.
func atRest(pod mapping.Pod, s mapping.Setting) mapping.Setting {
	out := s.Clone()
	for _, sw := range pod.Switches {
		if sw.Momentary {
			out[sw.Name] = sw.Rest
		}
	}
	return out
}

// goOn leaves for the bench. Without a proof nobody vouches for the levers, and
// the first sweep says where each one goes.
func (c *comeback) goOn(b *mapping.Bench) tea.Cmd {
	s := c.app.ses
	if c.app.top() == screen(c) {
		c.app.drop()
	}
	if b != nil {
		s.bench = *b
		s.reclip, s.reneedle = false, false
		s.sure()
	}
	s.holding = false
	return s.rethink(s.ask == nil)
}

// view keeps the last line for what is being typed.
func (c *comeback) view(w, h int) []string {
	if c.line == nil {
		return c.body(w, h)
	}
	out := frame(c.body(w, h-1), w, h-1)
	return append(out, c.line.view("answer: ", w))
}

func (c *comeback) body(w, h int) []string {
	c.look()
	s := c.app.ses
	th := c.app.th
	pod := s.work.Pod
	head := wrap(fmt.Sprintf("Welcome back: sitting %d, %s kept. Nobody knows that the levers stayed, so:", s.work.Session, mapping.Count(len(s.work.Live()), "reading")), w)
	if last, ok := s.lastBefore(); ok {
		head = append(head, indent("Last kept: ", fmt.Sprintf("#%d %s", last.ID, last.Words(pod)), w)...)
	}
	if c.plan == nil {
		return append(append(head, "", "looking for a pair that proves it…"), s.howFar(w)...)
	}
	var out []string
	var at []string
	for _, sw := range pod.Switches {
		at = append(at, string(sw.Name)+" "+string(c.plan.setting.At(sw)))
	}
	if len(at) > 0 {
		out = append(out, indent("  1 set all    ", strings.Join(at, ", "), w)...)
	}
	step := c.step()
	if c.plan.beep == "" {
		out = append(out, wrap("No join is sure enough yet to prove it by. "+c.app.key(onReturn, actGoOn)+" goes on.", w)...)
		return c.fitted(head, out, nil, h)
	}
	out = append(out, indent("  2 black clip ", endWords(pod, c.plan.black), w)...)
	rows := []struct{ head, what string }{{"3 red to     ", endWords(pod, c.plan.beep) + ": should BEEP"}}
	if c.plan.silent != "" {
		rows = append(rows, struct{ head, what string }{"4 red to     ", endWords(pod, c.plan.silent) + ": should be SILENT"})
	}
	for i, r := range rows {
		mark := "  "
		if i == step {
			mark = "▶ "
		}
		if i < step {
			r.what += ", was " + mapping.Reading{Outcome: c.said[i]}.OutcomeWords()
		}
		lines := indent(mark+r.head, r.what, w)
		if i == step {
			for k := range lines {
				lines[k] = th.strong.Render(lines[k])
			}
		}
		out = append(out, lines...)
	}
	k := c.app.key
	foot := []string{""}
	foot = append(foot, wrap(k(onReturn, actBeep)+" it beeped, "+k(onReturn, actSilent)+" it was silent. "+k(onReturn, actKnown)+
		" shows what we know and what is left; "+k(onReturn, actGoOn)+" goes on without the proof.", w)...)
	foot = append(foot, wrap("Leads: "+leadsWords(s.bench.Leads)+"; "+k(onReturn, actLeads)+" changes that.", w)...)
	return c.fitted(head, out, foot, h)
}

// lastBefore is the last reading of the sittings before: whoever comes back sees
// whether it is the last one that was taken.
func (s *session) lastBefore() (mapping.Reading, bool) {
	for _, r := range slices.Backward(s.work.Readings) {
		if r.Session < s.work.Session {
			return r, true
		}
	}
	return mapping.Reading{}, false
}

// fitted keeps what is to be done and gives up the words around it first.
func (c *comeback) fitted(head, do, foot []string, h int) []string {
	switch {
	case len(head)+1+len(do)+len(foot) <= h:
		return append(append(append(head, ""), do...), foot...)
	case len(do)+len(foot) <= h:
		return append(do, foot...)
	}
	return do
}
