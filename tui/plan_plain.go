package tui

import "strings"

// harness is the plan in lines: what is wrong with it, what its ways carry, what
// a pulled plug stops; with words after it the roadside's answer, and "new" for
// a first plan. The proof asks line by line in a command of its own.
func (p *plain) harness(rest string) {
	a := p.app
	before := len(a.stack)
	a.settle(a.openHarness())
	h, ok := a.top().(*harness)
	if !ok || len(a.stack) == before {
		return
	}
	defer a.drop()
	switch {
	case h.made == nil && strings.EqualFold(rest, "new"):
		a.settle(h.act(actNew))
	case h.made == nil:
		p.lines(h.absent(p.app.w))
	case rest == "":
		p.lines(h.findingsText(p.app.w))
		p.lines(append([]string{""}, h.waysText(p.app.w)...))
		p.lines(append([]string{""}, h.whatIfText(p.app.w)...))
		p.lines(append([]string{""}, wrap("harness and what is dead, as in: harness left indicators dead, answers for the roadside. "+
			"bellout plan proof --ask reads the finished harness.", p.app.w)...))
	default:
		h.line = &editor{}
		h.line.set(rest)
		a.settle(h.look())
		if len(h.answer) > 0 {
			p.lines(h.answer)
		}
	}
}
