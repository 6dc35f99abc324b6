package tui

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"bellout/mapping"
)

// pinout shows the pinout as it will be printed, takes the builder's own names
// for it, and has it written.
type pinout struct {
	app    *app
	text   string
	line   *editor
	use    action
	offset int
	shift  int // columns scrolled to the right
	width  int
	height int
}

func (p *pinout) scope() scope    { return onPinout }
func (p *pinout) title() string   { return "pinout" }
func (p *pinout) typing() *editor { return p.line }

// load has the text made outside the drawing.
func (p *pinout) load() tea.Cmd {
	s := p.app.ses
	sh := p.app.o.Sheets
	if sh == nil {
		p.text = s.ownPinout()
		return nil
	}
	w, r, b := s.snapshot(), s.th.sum, s.brain
	return func() (m tea.Msg) {
		b.with(func() {
			text, err := sh.Text(w, r)
			m = sheetReady{text, err}
		})
		return m
	}
}

func (p *pinout) take(m tea.Msg) tea.Cmd {
	switch m := m.(type) {
	case sheetReady:
		if m.err != nil {
			return p.app.refuse(m.err)
		}
		p.text = m.text
	}
	return p.app.onExported(m)
}

// onExported tells what became of a file.
func (a *app) onExported(m tea.Msg) tea.Cmd {
	e, ok := m.(exported)
	switch {
	case !ok:
		return nil
	case e.err != nil:
		return a.refuse(e.err)
	}
	a.say("written: " + e.where)
	return a.ring(false)
}

// export has something written outside the drawing.
func (a *app) export(format string) tea.Cmd {
	s, sh := a.ses, a.o.Sheets
	w, r, key, b := s.snapshot(), s.th.sum, s.key, s.brain
	return func() (m tea.Msg) {
		b.with(func() {
			where, err := sh.Export(format, key, w, r)
			m = exported{where, err}
		})
		return m
	}
}

func (p *pinout) act(a action) tea.Cmd {
	p.offset = scrolled(p.offset, a, p.height)
	switch a {
	case actName, actTerminal, actCavity:
		p.line, p.use = &editor{}, a
	case actRight:
		p.shift += max(1, p.width/2)
	case actLeft:
		p.shift = max(0, p.shift-max(1, p.width/2))
	case actExport:
		if p.app.o.Sheets == nil {
			p.app.lookAt("nothing is set up to write to; leave and use the pinout command")
			return nil
		}
		p.line, p.use = &editor{}, a
	case actBack:
		p.line = nil
	case actOpen:
		return p.enter()
	}
	return nil
}

func (p *pinout) enter() tea.Cmd {
	text := mapping.Clean(p.line.string(), mapping.MaxText)
	s := p.app.ses
	if p.use == actExport {
		return p.export(text)
	}
	if text == "" {
		p.line = nil
		return nil
	}
	name, value, _ := strings.Cut(text, " ")
	id, err := findEnd(s.work.Pod, name)
	if err != nil {
		return p.app.refuse(err)
	}
	kind := map[action]mapping.DecisionKind{
		actName: mapping.NameFunction, actTerminal: mapping.SetTerminal, actCavity: mapping.SetNewCavity,
	}[p.use]
	p.line = nil
	say := fmt.Sprintf("%s: %s", id, value)
	if p.use == actCavity {
		say += shared(s.work.Pod, id, value, func(e mapping.End) string { v, _ := s.work.Decided(kind, e.ID); return v })
	}
	p.app.say(say)
	return tea.Batch(s.decide(kind, id, value), p.load())
}

func (p *pinout) export(format string) tea.Cmd {
	formats := p.app.o.Sheets.Formats()
	if format == "" && len(formats) > 0 {
		format = formats[0]
	}
	for _, f := range formats {
		if !strings.EqualFold(f, format) {
			continue
		}
		p.line = nil
		return p.app.export(f)
	}
	return p.app.refuse(fmt.Errorf("there is no format %q: choose %s", format, strings.Join(formats, ", ")))
}

// page is the lines of the page, and how wide they go.
func (p *pinout) page() (lines []string, widest int) {
	lines = strings.Split(strings.TrimRight(p.text, "\n"), "\n")
	for i := range lines {
		lines[i] = scrub(lines[i], false)
		widest = max(widest, ansi.StringWidth(lines[i]))
	}
	return lines, widest
}

func (p *pinout) view(w, h int) []string {
	var foot []string
	if p.line != nil {
		ask := map[action]string{
			actName: "end and what it does, as 5 horn:", actTerminal: "end and terminal, as 5 49a:",
			actCavity: "end and new cavity, as 5 B2:",
		}[p.use]
		if p.use == actExport {
			ask = "format (" + strings.Join(p.app.o.Sheets.Formats(), ", ") + "):"
		}
		foot = p.line.asked(ask, w)
	}
	p.height, p.width = max(1, h-len(foot)), w
	lines, widest := p.page()
	p.shift = max(0, min(p.shift, widest-w))
	shown, off := window(sideways(lines, p.shift, w), p.offset, p.height, w)
	p.offset = off
	out := append([]string(nil), shown...)
	for len(out) < h-len(foot) {
		out = append(out, "")
	}
	return append(out, foot...)
}

// ownPinout is end by end what the map says, where nothing better is set up.
func (s *session) ownPinout() string {
	var b strings.Builder
	for _, e := range s.work.Pod.Ends {
		name, _ := s.work.Decided(mapping.NameFunction, e.ID)
		fmt.Fprintf(&b, "%-6s%-8s%s\n", e.ID, e.Colours(), mapping.Clean(name, mapping.MaxName))
		for _, l := range s.th.sum.Map.Links {
			if l.A == e.ID || l.B == e.ID {
				fmt.Fprintf(&b, "        %s (%s)\n", linkWords(l), l.Grade)
			}
		}
	}
	return b.String()
}
