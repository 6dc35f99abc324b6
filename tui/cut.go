package tui

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"bellout/mapping"
)

// cut is the gate before the plug comes off: what is not settled, what becomes
// of each wire, the labels, and what cannot be undone.
type cut struct {
	app    *app
	at     int
	offset int
	height int
	follow bool // keep the wire under the cursor in sight
}

// The fates of a wire and the faces of a plug, as kept.
var (
	fates = []string{"use", "insulate", "leave"}
	faces = []string{"wire-entry side", "mating face"}
)

func (c *cut) scope() scope    { return onCut }
func (c *cut) title() string   { return "before the cut" }
func (c *cut) typing() *editor { return nil }

func (c *cut) take(m tea.Msg) tea.Cmd { return c.app.onExported(m) }

func (c *cut) act(a action) tea.Cmd {
	s := c.app.ses
	n := len(s.work.Pod.Ends)
	switch a {
	case actRight:
		c.at, c.follow = (c.at+1)%n, true
	case actLeft:
		c.at, c.follow = (c.at+n-1)%n, true
	case actUp, actDown, actPgUp, actPgDown:
		c.offset, c.follow = scrolled(c.offset, a, c.height), false
	case actFate:
		e := s.work.Pod.Ends[c.at]
		now, _ := s.fate(e)
		next := fates[(slices.Index(fates, now)+1)%len(fates)]
		c.follow = true
		c.app.say(fmt.Sprintf("%s: %s", e.ID, next))
		return s.decide(mapping.WireFate, e.ID, next)
	case actLabels:
		if c.app.o.Sheets == nil {
			c.app.lookAt("nothing is set up to print on; leave and use bellout labels")
			return nil
		}
		return c.app.export(Labels)
	case actFace:
		now, _ := s.work.Decided(mapping.PlugFace, "")
		next := faces[(slices.Index(faces, now)+1)%len(faces)]
		c.app.say("cavity numbers are as seen from the " + next)
		return s.decide(mapping.PlugFace, "", next)
	}
	return nil
}

// fate is what becomes of a wire: the builder's word, else what the map
// suggests; a wire that reaches something is used.
func (s *session) fate(e mapping.End) (fate string, decided bool) {
	if v, ok := s.work.Decided(mapping.WireFate, e.ID); ok && slices.Contains(fates, v) {
		return v, true
	}
	for _, l := range s.th.sum.Map.Links {
		if l.A == e.ID || l.B == e.ID {
			return "use", false
		}
	}
	return "insulate", false
}

func (c *cut) view(w, h int) []string {
	c.height = h
	text, at := c.text(w)
	if c.follow {
		c.offset = around(at, h)
	}
	lines, off := window(text, c.offset, h, w)
	c.offset = off
	return lines
}

// text is the whole gate, and the line of the wire under the cursor.
func (c *cut) text(w int) ([]string, int) {
	s := c.app.ses
	th := c.app.th
	var out []string
	switch s.standsAt() {
	case settled:
		out = append(out, th.good.Render("ALL IS SETTLED"))
	case clashing:
		out = append(out, th.look.Render(fit("!! NOT SETTLED: doubts come before a cut", w)))
	case moreHands:
		out = append(out, th.look.Render(fit("!! NOT SETTLED: this takes more hands", w)))
	default:
		out = append(out, th.look.Render(fit("!! NOT SETTLED: probe on before you cut", w)))
	}
	const most = 6 // the wires should come into sight as well
	out = append(out, s.leftText(most, w)...)
	for _, d := range s.openDoubts() {
		out = append(out, indent(" ? ", s.story(d), w)...)
	}
	face, ok := s.work.Decided(mapping.PlugFace, "")
	if !ok {
		face = "not said yet; " + c.app.key(onCut, actFace) + " says it"
	}
	out = append(out, "")
	out = append(out, wrap("Cavity numbers as seen from: "+face, w)...)
	out = append(out, "", th.strong.Render("THE WIRES"))
	at := 0
	for i, e := range s.work.Pod.Ends {
		mark := "  "
		if i == c.at {
			mark, at = "▶ ", len(out)
		}
		fate, decided := s.fate(e)
		if !decided {
			fate += " (proposed)"
		}
		name, _ := s.work.Decided(mapping.NameFunction, e.ID)
		line := fmt.Sprintf("%s%-5s%-7s%-21s %s", mark, e.ID, e.Colours(), fate, mapping.Clean(name, mapping.MaxName))
		out = append(out, fit(line, w))
	}
	out = append(out, "", th.strong.Render("LABELS, one each side of the cut"))
	var labels []string
	for _, e := range s.work.Pod.Ends {
		if e.Kind == mapping.Wire {
			labels = append(labels, "["+strings.TrimSpace(s.name()+" "+string(e.ID)+" "+e.Colours())+"]")
		}
	}
	out = append(out, wrap(strings.Join(labels, "  "), w)...)
	if c.app.o.Sheets != nil {
		out = append(out, wrap(c.app.key(onCut, actLabels)+" puts them on paper, two of each", w)...)
	}
	out = append(out, "", th.strong.Render("THE CUT"))
	for _, t := range []string{
		"It cannot be undone. Photograph the plug from both faces.",
		"Flags on both sides of the cut before the first snip.",
		"One wire at a time, 50 to 100 mm of tail left on the old plug.",
		"Insulated wires: cut staggered, sealed, folded back, listed. A spare that is bridged inside is live whenever its partner is.",
		"Anti-lock brakes, airbag, immobiliser or engine control wires in here? Leave them to a qualified vehicle electrician.",
	} {
		out = append(out, indent(" □ ", t, w)...)
	}
	return out, at
}
