package tui

import (
	tea "github.com/charmbracelet/bubbletea"
)

// reader is a screen of text that scrolls: what we know, help, why.
type reader struct {
	name   string
	text   func(w int) []string
	offset int
	height int
}

func (r *reader) scope() scope         { return onText }
func (r *reader) title() string        { return r.name }
func (r *reader) typing() *editor      { return nil }
func (r *reader) take(tea.Msg) tea.Cmd { return nil }

func (r *reader) act(a action) tea.Cmd {
	r.offset = scrolled(r.offset, a, r.height)
	return nil
}

func (r *reader) view(w, h int) []string {
	r.height = h
	var lines []string
	lines, r.offset = window(r.text(w), r.offset, h, w)
	return lines
}

// scrolled moves an offset as an action says; the window holds it in bounds.
func scrolled(at int, a action, height int) int {
	switch a {
	case actUp:
		return max(0, at-1)
	case actDown:
		return at + 1
	case actPgUp:
		return max(0, at-max(1, height-2))
	case actPgDown:
		return at + max(1, height-2)
	}
	return at
}
