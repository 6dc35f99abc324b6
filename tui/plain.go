package tui

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"bellout/mapping"
)

// plain does the whole work in lines, by the same app and the same engine: for
// a terminal without cursor addressing, for a screen reader, for a script. The
// commands are the actions by their names.
type plain struct {
	app *app
	in  lineReader
	out io.Writer
	err error

	said time.Time // when the builder last heard of a long thought, or began it
}

const (
	mostPlain  = 78 // columns of a line
	leastPlain = 20
	quietFor   = 3 * time.Second // of a long thought, before a line says how far it is
)

func runPlain(ctx context.Context, o Options) error {
	o.Theme, o.Plain = "none", true
	o.Quiet = o.Quiet || !o.Screen
	o.Bounce = -1
	a, err := newApp(o)
	if err != nil {
		return err
	}
	a.w = mostPlain
	if o.Columns > 0 { // some terminals break a line that fills them
		a.w = max(leastPlain, min(mostPlain, o.Columns-1))
	}
	p := &plain{app: a, in: newLineReader(o.In), out: o.Out, said: o.Now()}
	a.far = p.far
	if o.Ears != nil {
		p.lines(indent("* ", "the meter is not listened to here: that is for the screens; type the answers", p.app.w))
	}
	a.settle(a.begin())
	for ctx.Err() == nil && p.err == nil {
		p.show()
		text, ok := p.read()
		if !ok || p.line(text) {
			break
		}
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
	text, err := p.in.next()
	for ; errors.Is(err, errLongLine) && p.err == nil; text, err = p.in.next() {
		p.print("\n")
		p.lines(indent("* ", err.Error(), p.app.w))
		p.print("> ")
	}
	if err != nil {
		p.print("\n")
		if !errors.Is(err, io.EOF) && p.err == nil {
			p.err = err
		}
		return "", false
	}
	p.said = p.app.o.Now()
	return strings.TrimSpace(text), true
}

// far says how far a long thought is, every few seconds.
func (p *plain) far(lines []string) {
	if at := p.app.o.Now(); at.Sub(p.said) >= quietFor {
		p.said = at
		p.lines(lines)
	}
}

func (p *plain) print(s string) {
	if _, err := io.WriteString(p.out, s); err != nil && p.err == nil {
		p.err = err
	}
}

func (p *plain) lines(lines []string) {
	for _, l := range lines {
		p.print(strings.TrimRight(scrub(l, false), " ") + "\n")
	}
}

// notice prints what there is to say, once.
func (p *plain) notice() {
	if p.app.saveErr != nil {
		p.lines(p.app.notice())
	}
	if p.app.note != "" && p.app.saveErr == nil {
		note := p.app.note
		if p.app.noteAt > 0 {
			note = "taken: " + note
		}
		p.lines(indent("* ", note, p.app.w))
		p.app.say("")
	}
}

// show prints what the builder is to do now.
func (p *plain) show() {
	p.notice()
	switch s := p.app.top().(type) {
	case *describe:
		for _, l := range s.view(p.app.w, 60) {
			if l != "" && !strings.HasPrefix(l, "> ") {
				p.lines([]string{l})
			}
		}
	case *comeback, *pods:
		p.lines(s.view(p.app.w, 200))
	case *probe:
		p.instruction()
	}
}

// instruction prints the sweep when it is new, then the step in hand.
func (p *plain) instruction() {
	s := p.app.ses
	if s.ask == nil {
		p.lines((&probe{app: p.app}).idle(p.app.w))
		p.lines((&probe{app: p.app}).coach(p.app.w, 0))
		return
	}
	k := s.ask
	pod := s.work.Pod
	if len(k.said) == 0 || s.reclip {
		p.lines([]string{"", s.progress(p.app.w)})
		if k.sweep.Control {
			p.lines(wrap("Control beep: touch red to the clip's own end "+endWords(pod, k.sweep.Black[0])+". It should beep.", p.app.w))
		} else {
			p.lines(wrap(fmt.Sprintf("Red on %s. Black on %s.", p.side(k.sweep.Red), p.side(k.sweep.Black)), p.app.w))
			from := k.from.Levers
			for i, st := range k.sweep.Steps {
				say := again(i, stepWords(pod, from, st))
				if i == len(k.said) {
					say = s.stepNow()
				}
				p.lines(indent(fmt.Sprintf("%3d  ", i+1), say, p.app.w))
				from = st
			}
		}
		p.lines(wrap("Why: "+k.sweep.Why.Words()+".", p.app.w))
	}
	if !k.sweep.Control {
		ask := cmp.Or((&probe{app: p.app}).answerWords(), "Beep or silent?")
		p.lines(wrap(fmt.Sprintf("Step %d of %d: %s. %s", len(k.said)+1, k.steps(), s.stepNow(), ask), p.app.w))
	}
	p.lines((&probe{app: p.app}).coach(p.app.w, 0))
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
	case actHelp, "?": // as on the screens
		p.lines(plainHelp(p.app.w))
		return false
	case actRetry:
		a.settle(a.global(a.top(), actRetry))
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
		p.pods(word, rest)
	case *comeback:
		p.comeback(s, answerWord(word), rest, text)
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
	default:
		return action(w)
	}
}

func (p *plain) pods(word, rest string) {
	order := p.app.job.Order
	k, ok, _ := called(order, func(k mapping.PodKey) mapping.PodKey { return k }, strings.TrimSpace(word+" "+rest))
	if n, err := strconv.Atoi(word); !ok && err == nil && n >= 1 && n <= len(order) {
		k, ok = order[n-1], true
	}
	if ok {
		p.app.settle(p.app.open(k))
		return
	}
	if action(word) == actNew {
		p.app.push(newDescribe(p.app))
		return
	}
	p.app.lookAt("type a pod's name, or new to describe another; help lists the rest, quit leaves")
}
