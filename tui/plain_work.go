package tui

import (
	"fmt"
	"strconv"
	"strings"

	"bellout/inference"
	"bellout/mapping"
)

// work does one line at the bench.
func (p *plain) work(s *probe, act action, rest, text string) {
	a, ses := p.app, p.app.ses
	switch act {
	case actTable:
		t := &table{app: a}
		rows, foot := t.parts(mostPlain, 200) // no end is left out, there is no going to the right
		p.lines(append(rows, foot...))
	case actKnown:
		p.lines(ses.knownText(a, p.app.w))
	case actLog:
		l := &logbook{app: a, words: strings.Fields(strings.ToLower(rest)), upTo: -1, at: 1 << 30}
		l.sift()
		for _, i := range l.shown {
			p.lines(wrap(l.row(ses.work.Readings[i]), p.app.w))
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
			a.drop()
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
		a.drop()
		p.lines(strings.Split(o.text, "\n"))
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
		a.drop()
	case actCut:
		a.caution("cut")
		lines, _ := (&cut{app: a, at: -1}).text(p.app.w)
		p.lines(lines)
	case actFate:
		p.fate(rest)
	case actFace:
		a.settle((&cut{app: a}).act(actFace))
	case actLabels:
		c := &cut{app: a}
		a.push(c)
		a.settle(c.act(actLabels))
		a.drop()
	case actPods:
		a.push(&pods{app: a})
	case actPlan:
		p.harness(rest)
	case actWhy, actMode, actControl, actLeads, actReach, actFlicker, actNotSure:
		a.settle(s.act(act))
		if act == actWhy && ses.ask != nil {
			p.lines(wrap(ses.ask.sweep.Why.Words(), p.app.w))
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

// comeback takes a line on the return screen: an answer of the proof, a look at
// what there is, or a reading out of turn. Nothing is dropped without a word.
func (p *plain) comeback(c *comeback, act action, rest, text string) {
	switch act {
	case actBeep, actSilent, actMeter, actGoOn, actLeads:
		p.app.settle(c.act(act))
	case actTable, actKnown, actLog, actDoubts, actPinout, actCut, actPods:
		p.work(&probe{app: p.app}, act, rest, text)
	case actNotSure, "":
		p.app.lookAt("a proving reading is beep or silence; go-on leaves without the proof")
	default:
		c.line = &editor{}
		p.app.settle(c.turn(text))
		p.waysOut(c.line != nil)
		c.line = nil
	}
}

// waysOut adds to what was wrong with a line what can always be typed.
func (p *plain) waysOut(refused bool) {
	if refused {
		p.app.lookAt(p.app.note + ". help lists what can be typed, undo takes back the last answer, quit leaves")
	}
}

func (p *plain) typed(s *probe, use lineUse, text string) {
	s.line, s.use = &editor{}, use
	s.line.set(text)
	p.app.settle(s.enter())
	p.waysOut(s.line != nil && use == useAnswer)
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
		p.lines(ses.plainDoubt(d, p.app.w))
	}
}

func (s *session) plainDoubt(d inference.Doubt, w int) []string {
	out := indent("  ", s.story(d), w)
	for _, say := range s.suspects(d.Culprits) {
		out = append(out, indent("  perhaps ", say, w)...)
	}
	if len(d.Retest.Steps) > 0 || d.Retest.Control {
		out = append(out, indent("  re-test: ", sweepWords(s.work.Pod, d.Retest)+" (type re-test, or set-aside)", w)...)
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
	a.settle(s.decide(mapping.WireFate, id, value))
	a.say(fmt.Sprintf("%s: %s", id, value))
}

func plainHelp(w int) []string {
	out := wrap("answers: beep (b), silent (s), not-sure where you could not tell, flicker, cannot-reach, or a line:", w)
	for _, l := range lineHelp {
		out = append(out, indent("  "+l[0]+strings.Repeat(" ", max(1, 24-len(l[0]))), l[1], w)...)
	}
	return append(out, wrap("commands: undo, why, table, doubts, re-test 1, set-aside 1, known, log WORDS, slipped [READING], strike-reading N, "+
		"strike-sweep N, strike-since N, restore N, note TEXT, change end 9, change remove 9, control-beep, meter-mode, leads, pinout, name 5 horn, "+
		"terminal 5 49a, new-cavity 5 B2, export FORMAT, before-cut, fate 5 insulate, face, labels, pods, save-again, quit", w)...)
}
