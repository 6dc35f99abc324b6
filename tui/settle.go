package tui

import tea "github.com/charmbracelet/bubbletea"

// settle runs a command and all that follows from it to the end, one after the
// other. The plain mode lives by it: there nothing is drawn meanwhile. It
// reports whether leaving was asked for.
func (a *app) settle(cmd tea.Cmd) (left bool) {
	todo := []tea.Cmd{cmd}
	for len(todo) > 0 {
		c := todo[0]
		todo = todo[1:]
		if c == nil {
			continue
		}
		switch m := c().(type) {
		case nil:
		case tea.QuitMsg:
			left = true
		case tea.BatchMsg:
			todo = append(append([]tea.Cmd(nil), m...), todo...)
		default:
			todo = append(todo, a.route(m))
		}
	}
	return left
}
