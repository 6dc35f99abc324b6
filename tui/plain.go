package tui

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bellout/inference"
	"bellout/mapping"
)

// plain does the whole work in lines, by the same app and the same engine: for
// a terminal without cursor addressing, for a screen reader, for a script. The
// commands are the actions by their names.
type plain struct {
	app *app
	in  *bufio.Scanner
	out io.Writer
	err error
}

const plainWidth = 78

func runPlain(ctx context.Context, o Options) error {
	o.Theme, o.Plain = "none", true
	o.Quiet = o.Quiet || !o.Screen
	o.Bounce = -1
	a, err := newApp(o)
	if err != nil {
		return err
	}
	p := &plain{app: a, in: bufio.NewScanner(o.In), out: o.Out}
	a.settle(a.begin())
	for ctx.Err() == nil && p.err == nil {
		p.show()
		text, ok := p.read()
		if !ok || p.line(text) {
			break
		}
	}
	if p.err == nil {
		p.err = p.in.Err()
	}
	if p.err == nil && ctx.Err() != nil {
		p.err = context.Cause(ctx)
	}
	if err := a.finish(); err != nil {
		return err
	}
	return p.err
}

// read takes a line; the end of the input is the end of the work.
func (p *plain) read() (string, bool) {
	p.print("> ")
	if !p.in.Scan() {
		p.print("\n")
		return "", false
	}
	return strings.TrimSpace(p.in.Text()), true
}

func (p *plain) print(s string) {
	if _, err := io.WriteString(p.out, s); err != nil && p.err == nil {
		p.err = err
	}
}

func (p *plain) lines(lines []string) {
	for _, l := range lines {
		p.print(strings.TrimRight(l, " ") + "\n")
	}
}

// notice prints what there is to say, once.
func (p *plain) notice() {
	if p.app.saveErr != nil {
		p.lines(p.app.notice())
	}
	if p.app.note != "" {
		p.lines(indent("* ", p.app.note, plainWidth))
		p.app.say("")
	}
}

// show prints what the builder is to do now.
func (p *plain) show() {
	p.notice()
	switch s := p.app.top().(type) {
	case *describe:
		lines := s.view(plainWidth, 40)
		p.lines(append(lines[:2:2], lines[4:]...))
	case *comeback, *pods:
		p.lines(s.view(plainWidth, 200))
	case *probe:
		p.instruction()
	}
}

// instruction prints the sweep when it is new, then the step in hand.
func (p *plain) instruction() {
	s := p.app.ses
	if s.ask == nil {
		p.lines((&probe{app: p.app}).idle(plainWidth))
		return
	}
	k := s.ask
	pod := s.work.Pod
	if len(k.said) == 0 {
		p.lines([]string{"", s.progress(plainWidth)})
		if k.sweep.Control {
			p.lines(wrap("Control beep: touch red to the clip's own end "+endWords(pod, k.sweep.Black[0])+". It should beep.", plainWidth))
		} else {
			p.lines(wrap(fmt.Sprintf("Red on %s. Black on %s.", p.side(k.sweep.Red), p.side(k.sweep.Black)), plainWidth))
			from := k.from.Levers
			for i, st := range k.sweep.Steps {
				p.lines(indent(fmt.Sprintf("%3d  ", i+1), stepWords(pod, from, st), plainWidth))
				from = st
			}
		}
		p.lines(wrap("Why: "+whyWords(k.sweep.Why)+".", plainWidth))
	}
	if !k.sweep.Control {
		p.lines(wrap(fmt.Sprintf("Step %d of %d: %s. Beep or silent?", len(k.said)+1, k.steps(),
			stepWords(pod, s.levers(), k.setting(len(k.said), pod))), plainWidth))
	}
	p.lines((&probe{app: p.app}).coach(plainWidth))
}

func (p *plain) side(ends []mapping.EndID) string {
	var parts []string
	for _, e := range ends {
		parts = append(parts, endWords(p.app.ses.work.Pod, e))
	}
	return strings.Join(parts, " + ")
}

// line takes what was typed; true means that the builder leaves.
func (p *plain) line(text string) bool {
	a := p.app
	word, rest, _ := strings.Cut(text, " ")
	rest = strings.TrimSpace(rest)
	switch act := action(strings.ToLower(word)); act {
	case actQuit, "exit":
		if a.settle(a.quit()) {
			return true
		}
		p.notice()
		return false
	case actHelp:
		p.lines(plainHelp())
		return false
	case actRetry:
		a.settle(a.global(a.top(), actRetry, tea.KeyMsg{}))
		return false
	case actUndo:
		if a.ses != nil {
			a.settle(a.ses.undo())
		}
		return false
	}
	switch s := a.top().(type) {
	case *describe:
		if action(text) == actBack {
			a.settle(s.act(actBack))
			return false
		}
		s.line.set(text)
		a.settle(s.act(actOpen))
	case *pods:
		p.pods(s, word, rest)
	case *comeback:
		a.settle(s.act(answerWord(word)))
	case *probe:
		p.work(s, action(strings.ToLower(word)), rest, text)
	}
	return false
}

// answerWord is the action of an answer that is typed.
func answerWord(word string) action {
	switch w := strings.ToLower(word); w {
	case "b", "beep":
		return actBeep
	case "s", "silent", "silence":
		return actSilent
	case "p":
		return actMeter
	case "?":
		return actNotSure
	default:
		return action(w)
	}
}

func (p *plain) pods(s *pods, word, rest string) {
	order := p.app.job.Order
	for i, k := range order {
		if strings.EqualFold(string(k), strings.TrimSpace(word+" "+rest)) || strconv.Itoa(i+1) == word {
			p.app.settle(p.app.open(k))
			return
		}
	}
	if action(word) == actNew {
		p.app.push(newDescribe(p.app))
		return
	}
	p.app.lookAt("type a pod's name, or new to describe another")
}

// work does one line at the bench.
func (p *plain) work(s *probe, act action, rest, text string) {
	a, ses := p.app, p.app.ses
	switch act {
	case actTable:
		t := &table{app: a}
		p.lines(t.view(plainWidth, 200))
	case actKnown:
		p.lines(ses.knownText(a, plainWidth))
	case actLog:
		l := &logbook{app: a, words: strings.Fields(strings.ToLower(rest)), upTo: -1, at: 1 << 30}
		l.sift()
		for _, i := range l.shown {
			p.lines(wrap(l.row(ses.work.Readings[i]), plainWidth))
		}
	case actDoubts:
		p.doubts()
	case actRetest, actAside:
		d := &doubts{app: a}
		if n, err := strconv.Atoi(rest); err == nil {
			d.at = max(0, n-1)
		}
		a.push(d)
		a.settle(d.act(act))
		if a.top() == screen(d) {
			a.pop()
		}
	case actStrike, actSweep, actSince, actRestore, actSlip:
		p.strike(act, rest)
	case actNote:
		p.typed(s, useNote, rest)
	case actAmend, "change":
		p.typed(s, useAmend, rest)
	case actPinout:
		o := &pinout{app: a}
		a.push(o)
		a.settle(o.load())
		a.pop()
		p.print(o.text + "\n")
	case actName, actTerminal, actCavity, actExport:
		o := &pinout{app: a, line: &editor{}, use: act}
		o.line.set(rest)
		if act == actExport && a.o.Sheets == nil {
			o.line = nil
			a.settle(o.act(actExport))
			return
		}
		a.push(o)
		a.settle(o.enter())
		a.pop()
	case actCut:
		a.caution("cut")
		lines, _ := (&cut{app: a, at: -1}).text(plainWidth)
		p.lines(lines)
	case actFate:
		p.fate(rest)
	case actFace:
		a.settle((&cut{app: a}).act(actFace))
	case actPods:
		a.push(&pods{app: a})
	case actWhy, actMode, actControl, actLeads, actReach, actFlicker, actNotSure:
		a.settle(s.act(act))
		if act == actWhy && ses.ask != nil {
			p.lines(wrap(whyWords(ses.ask.sweep.Why), plainWidth))
		}
	default:
		switch w := answerWord(text); w {
		case actBeep, actSilent, actMeter, actNotSure:
			a.settle(s.act(w))
		default:
			p.typed(s, useAnswer, text)
		}
	}
}

func (p *plain) typed(s *probe, use lineUse, text string) {
	s.line, s.use = &editor{}, use
	s.line.set(text)
	p.app.settle(s.enter())
	s.line = nil
}

func (p *plain) doubts() {
	ses := p.app.ses
	open := ses.openDoubts()
	if len(open) == 0 {
		p.lines([]string{"No two readings contradict each other."})
	}
	for i, d := range open {
		p.lines([]string{fmt.Sprintf("doubt %d:", i+1)})
		p.lines(ses.plainDoubt(d))
	}
}

func (s *session) plainDoubt(d inference.Doubt) []string {
	out := indent("  ", s.story(d), plainWidth)
	for _, c := range d.Culprits {
		out = append(out, indent("  perhaps ", s.culpritWords(c), plainWidth)...)
	}
	if len(d.Retest.Steps) > 0 || d.Retest.Control {
		out = append(out, indent("  re-test: ", sweepWords(s.work.Pod, d.Retest)+" (type re-test, or set-aside)", plainWidth)...)
	}
	return out
}

// strike strikes out by the number of a reading, as the log shows it.
func (p *plain) strike(act action, rest string) {
	a, s := p.app, p.app.ses
	l := &logbook{app: a, upTo: -1}
	if act == actSlip {
		l = newSlip(a)
		act = actSince
	}
	if rest != "" {
		n, err := strconv.ParseUint(strings.TrimPrefix(rest, "#"), 10, 64)
		r, ok := s.byID(mapping.ReadingID(n))
		if err != nil || !ok {
			a.lookAt("there is no reading " + mapping.Clean(rest, mapping.MaxName) + ": type its number as the log shows it")
			return
		}
		l.sift()
		for i, at := range l.shown {
			if s.work.Readings[at].ID == r.ID {
				l.at = i
			}
		}
	} else if !l.slip {
		a.lookAt("which reading? type its number after it, as the log shows it")
		return
	}
	a.settle(l.act(act))
}

func (p *plain) fate(rest string) {
	a, s := p.app, p.app.ses
	name, value, _ := strings.Cut(rest, " ")
	id, err := findEnd(s.work.Pod, name)
	if err == nil && value != fates[0] && value != fates[1] && value != fates[2] {
		err = fmt.Errorf("a wire's fate is use, insulate or leave: type fate %s insulate", id)
	}
	if err != nil {
		a.settle(a.refuse(err))
		return
	}
	a.settle(a.put(s.key, mapping.Entry{Decision: &mapping.Decision{Kind: mapping.WireFate, End: id, Value: value}}))
	a.say(fmt.Sprintf("%s: %s", id, value))
}

func plainHelp() []string {
	out := []string{"answers: beep (b), silent (s), not-sure (?), flicker, cannot-reach, or a line:"}
	for _, l := range lineHelp {
		out = append(out, indent("  "+l[0]+strings.Repeat(" ", max(1, 24-len(l[0]))), l[1], plainWidth)...)
	}
	return append(out, wrap("commands: undo, why, table, doubts, re-test 1, set-aside 1, known, log WORDS, slipped [READING], strike-reading N, "+
		"strike-sweep N, strike-since N, restore N, note TEXT, change end 9, control-beep, meter-mode, leads, pinout, name 5 horn, "+
		"terminal 5 49a, new-cavity 5 B2, export FORMAT, before-cut, fate 5 insulate, face, pods, save-again, quit", plainWidth)...)
}
