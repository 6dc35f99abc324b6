package tui

import (
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"bellout/mapping"
)

// editor is one line of typed text. Its cursor is a character of its own that
// never blinks: it is seen without colours, and a slow link carries nothing
// while nobody types.
type editor struct {
	text []rune
	at   int
}

func (e *editor) set(s string) { e.text = []rune(s); e.at = len(e.text) }

func (e *editor) string() string { return string(e.text) }

// key takes an editing key; what is no such key is left alone.
func (e *editor) key(m tea.KeyMsg) {
	switch m.Type {
	case tea.KeyRunes, tea.KeySpace:
		in := []rune(cleanTyped(string(m.Runes)))
		if m.Alt || len(e.text)+len(in) > mapping.MaxNote {
			return
		}
		e.text = append(e.text[:e.at:e.at], append(in, e.text[e.at:]...)...)
		e.at += len(in)
	case tea.KeyBackspace:
		if e.at > 0 {
			e.text = append(e.text[:e.at-1:e.at-1], e.text[e.at:]...)
			e.at--
		}
	case tea.KeyDelete:
		if e.at < len(e.text) {
			e.text = append(e.text[:e.at:e.at], e.text[e.at+1:]...)
		}
	case tea.KeyLeft:
		e.at = max(0, e.at-1)
	case tea.KeyRight:
		e.at = min(len(e.text), e.at+1)
	case tea.KeyHome, tea.KeyCtrlA:
		e.at = 0
	case tea.KeyEnd, tea.KeyCtrlE:
		e.at = len(e.text)
	case tea.KeyCtrlU:
		e.set("")
	}
}

// cleanTyped keeps a lone space, which Clean would trim away.
func cleanTyped(s string) string {
	out := ""
	for _, r := range s {
		if r == ' ' || r == '\n' || r == '\t' {
			out += " "
		} else {
			out += mapping.Clean(string(r), 1)
		}
	}
	return out
}

// asked is the line under what is asked for: beside it where there is room to
// type, above it where there is not.
func (e *editor) asked(what string, w int) []string {
	if ansi.StringWidth(what)+20 <= w {
		return []string{e.view(what+" ", w)}
	}
	return append(wrap(what, w), e.view("> ", w))
}

// view shows the line with its cursor in w cells; a long one shows its end and
// says that its beginning is cut.
func (e *editor) view(prompt string, w int) string {
	left := string(e.text[:e.at])
	s := left + "▏" + string(e.text[e.at:])
	room := w - ansi.StringWidth(prompt)
	if ansi.StringWidth(s) > room {
		if over := ansi.StringWidth(left) + 1 - room; over > 0 {
			s = ansi.TruncateLeft(s, over+1, "…")
		}
	}
	return fit(prompt+s, w)
}
