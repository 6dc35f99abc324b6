package tui

import (
	"fmt"
	"math"

	tea "github.com/charmbracelet/bubbletea"

	"bellout/inference"
	"bellout/mapping"
)

// doubts tells what clashes as a short story, who the likely culprit is, and
// the one re-test that settles it; taking it is the builder's choice.
type doubts struct {
	app    *app
	at     int
	offset int
	height int
}

// alike is how many bits apart two culprits are still equally suspect.
const alike = 0.1

func (d *doubts) scope() scope         { return onDoubts }
func (d *doubts) typing() *editor      { return nil }
func (d *doubts) take(tea.Msg) tea.Cmd { return nil }

func (d *doubts) title() string {
	n := len(d.app.ses.openDoubts())
	if n == 0 {
		return "doubts: none"
	}
	return fmt.Sprintf("doubt %d of %d", min(d.at, n-1)+1, n)
}

func (d *doubts) act(a action) tea.Cmd {
	s := d.app.ses
	open := s.openDoubts()
	switch a {
	case actUp, actDown, actPgUp, actPgDown:
		d.offset = scrolled(d.offset, a, d.height)
		return nil
	}
	if len(open) == 0 {
		return nil
	}
	d.at = min(d.at, len(open)-1)
	cur := open[d.at]
	switch a {
	case actRight:
		d.at, d.offset = (d.at+1)%len(open), 0
	case actLeft:
		d.at, d.offset = (d.at+len(open)-1)%len(open), 0
	case actRetest:
		if len(cur.Retest.Steps) == 0 && !cur.Retest.Control {
			d.app.lookAt("no re-test would settle this one; strike out what you trust least, or set it aside")
			return nil
		}
		d.app.pop()
		d.app.say("the re-test is the next sweep")
		s.abandon()
		return s.put(cur.Retest)
	case actAside:
		s.doubts = max(0, s.doubts-1)
		d.app.say("set aside; the readings stay, and so does the grade that they leave")
		aside := mapping.Decision{Kind: mapping.SetAside, Readings: cur.Readings}
		back := aside
		back.Value = mapping.TakenBack
		s.undoable("the doubt is no longer set aside", mapping.Entry{Decision: &back})
		s.ahead = nil // the number of the next reading has changed
		return tea.Batch(d.app.put(s.key, mapping.Entry{Decision: &aside}), s.lookAhead())
	case actStrike:
		if len(cur.Culprits) == 0 {
			d.app.lookAt("no culprit stands out: " + d.byHand())
			return nil
		}
		c := cur.Culprits[0]
		if c.Kind == inference.Intermittent {
			d.app.lookAt("a contact that comes and goes is no slip of yours: " + d.app.key(onDoubts, actAside) + " sets it aside; " + d.byHand())
			return nil
		}
		if len(cur.Culprits) > 1 && cur.Culprits[1].Kind == c.Kind && math.Abs(cur.Culprits[1].Bits-c.Bits) < alike {
			d.app.lookAt("two are equally suspect, so none is struck out for you: " + d.app.key(onDoubts, actRetest) + " takes the re-test; " + d.byHand())
			return nil
		}
		return s.strike(CulpritWords(c), c.Readings...)
	}
	return nil
}

// byHand is the way to strike out a single reading.
func (d *doubts) byHand() string {
	strike := d.app.key(onLog, actStrike)
	if d.app.o.Plain {
		return strike + " and its number strikes out one reading"
	}
	return d.app.key(everywhere, actBack) + " " + d.app.key(onProbe, actLog) + " " + strike + " strikes out one reading, in the log"
}

// abandon leaves the sweep in hand where it is; what has been read of it stands,
// and so do the levers.
func (s *session) abandon() {
	k := s.ask
	s.spent += s.spentOn(k)
	if k != nil && !k.sweep.Control && len(k.said) > 0 {
		s.bench = s.bench.After(s.work.Pod, mapping.Sweep{Red: k.sweep.Red, Black: k.sweep.Black, Steps: k.sweep.Steps[:len(k.said)]})
	}
	s.ask = nil
}

func (d *doubts) view(w, h int) []string {
	d.height = h
	lines, off := window(d.text(w), d.offset, h, w)
	d.offset = off
	return lines
}

func (d *doubts) text(w int) []string {
	s := d.app.ses
	open := s.openDoubts()
	if len(open) == 0 {
		out := wrap("No two readings contradict each other.", w)
		if n := len(s.th.sum.Doubts); n > 0 {
			out = append(out, wrap(mapping.Count(n, "doubt")+" set aside.", w)...)
		}
		return out
	}
	return s.doubtText(d.app, open[min(d.at, len(open)-1)], w)
}

func (s *session) doubtText(a *app, cur inference.Doubt, w int) []string {
	strong := a.th.strong
	out := []string{strong.Render("THESE CANNOT ALL BE RIGHT")}
	out = append(out, wrap(s.story(cur), w)...)
	out = append(out, "", strong.Render("LIKELY CULPRIT"))
	for i, say := range s.suspects(cur.Culprits) {
		head := "   or "
		if i == 0 {
			head = " ▶ "
		}
		out = append(out, indent(head, say, w)...)
	}
	if len(cur.Culprits) == 0 {
		out = append(out, fit(" none stands out", w))
	}
	out = append(out, "", strong.Render("THE ONE RE-TEST"))
	if len(cur.Retest.Steps) > 0 || cur.Retest.Control {
		out = append(out, wrap(sweepWords(s.work.Pod, cur.Retest), w)...)
		out = append(out, wrap(a.key(onDoubts, actRetest)+" takes it now; it is not forced. "+
			a.key(onDoubts, actAside)+" sets the doubt aside, "+a.key(onDoubts, actStrike)+" strikes out what the culprit spoiled.", w)...)
	} else {
		out = append(out, wrap("none would settle it.", w)...)
	}
	out = append(out, "", strong.Render("THE READINGS"))
	for _, id := range cur.Readings {
		if r, ok := s.byID(id); ok {
			out = append(out, indent(fmt.Sprintf(" #%d ", id), r.Words(s.work.Pod), w)...)
		}
	}
	return out
}
