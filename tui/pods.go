package tui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"bellout/mapping"
)

// pods lists the pods of the job.
type pods struct {
	app *app
	at  int
}

func (p *pods) scope() scope         { return onPods }
func (p *pods) title() string        { return "pods of this job" }
func (p *pods) typing() *editor      { return nil }
func (p *pods) take(tea.Msg) tea.Cmd { return nil }

func (p *pods) act(a action) tea.Cmd {
	order := p.app.job.Order
	switch a {
	case actUp:
		p.at = max(0, p.at-1)
	case actDown:
		p.at = min(len(order)-1, p.at+1)
	case actNew:
		p.app.push(newDescribe(p.app))
	case actPlan:
		return p.app.openHarness()
	case actOpen:
		if p.at < len(order) {
			return p.app.open(order[p.at])
		}
	}
	return nil
}

func (p *pods) view(w, h int) []string {
	var lines []string
	for i, k := range p.app.job.Order {
		work := p.app.job.Pods[k]
		mark := "  "
		if i == p.at {
			mark = "▶ "
		}
		line := fmt.Sprintf("%s%s   %s, %s, %s", mark, mapping.Clean(work.Pod.Name, mapping.MaxName),
			mapping.Count(len(work.Pod.Ends), "end"), mapping.Count(len(work.Pod.Switches), "switch"), mapping.Count(len(work.Live()), "reading"))
		if i == p.at {
			line = p.app.th.strong.Render(fit(line, w))
		}
		lines = append(lines, fit(line, w))
	}
	if len(lines) == 0 {
		lines = append(lines, "no pod yet")
	}
	room := max(1, h-1)
	shown, _ := window(lines, around(p.at, room), room, w)
	return append([]string{""}, shown...)
}
