package tui

import (
	"strings"

	"github.com/charmbracelet/x/ansi"

	"bellout/mapping"
)

// View draws the whole terminal: what is at hand, the screen, the notice, the
// keys.
func (a *app) View() string {
	if a.w <= 0 || a.h <= 0 || len(a.stack) == 0 {
		return ""
	}
	s := a.top()
	var head, foot []string
	if a.h >= 7 {
		head = append(head, a.header(s))
	}
	if a.h >= 12 {
		head = append(head, strings.Repeat("─", a.w))
	}
	foot = a.notice()
	if hint := a.hints(s); a.h >= 8 && hint != "" {
		foot = append(foot, hint)
	}
	room := a.h - len(head) - len(foot)
	if room < 1 {
		head, foot, room = nil, a.notice()[:1], a.h-1
	}
	if room < 1 {
		foot, room = nil, a.h
	}
	body := frame(s.view(a.w, room), a.w, room)
	lines := append(append(head, body...), foot...)
	for i := range lines {
		lines[i] = fit(scrub(lines[i], true), a.w)
	}
	return strings.Join(lines[:min(len(lines), a.h)], "\n")
}

func (a *app) header(s screen) string {
	left := s.title()
	if p, ok := s.(*probe); ok && a.w < 60 {
		left = p.short()
	}
	if a.ses == nil {
		return apart(a.th.strong.Render(left), mapping.Clean(a.job.Name, mapping.MaxName), a.w)
	}
	return apart(a.th.strong.Render(left)+"  "+a.ses.name(), a.ses.progress(a.w), a.w)
}

// notice is the line above the keys; a failed save takes it over until it is
// cured, since nothing else matters then.
func (a *app) notice() []string {
	if a.saveErr != nil {
		s := "NOT SAVED (" + mapping.Count(a.unsaved(), "entry") + "): " + mapping.Clean(a.saveErr.Error(), mapping.MaxText) +
			". Your answers stay here. Make room or access, then " + a.key(everywhere, actRetry) + " saves again."
		if a.leaving {
			s = "LEAVING NOW LOSES " + mapping.Count(a.unsaved(), "entry") + " that could not be saved. Once more leaves; " + a.key(everywhere, actRetry) + " saves again."
		}
		lines := wrap("!! "+s, a.w)
		lines = lines[:min(len(lines), max(1, a.h/3))]
		for i := range lines {
			lines[i] = a.th.look.Render(fit(lines[i], a.w))
		}
		return lines
	}
	s := a.note
	if s != "" && a.look {
		s = "!! " + s
	}
	switch {
	case a.noteAt > a.acked:
		s = "saving: " + s
	case a.noteAt > 0:
		s = "taken: " + s
	case a.unsaved() > 0 && !a.look:
		s = strings.TrimSpace(s + "  (saving…)")
	}
	lines := wrap(s, a.w)
	most := max(1, min(3, a.h/6))
	if a.look && a.top().typing() != nil {
		most = max(1, a.h/3) // what is wrong with the line in hand is read to its end
	}
	if len(lines) > most {
		lines = lines[:most:most]
		lines[most-1] = more(lines[most-1], a.w)
	}
	if a.look && a.note != "" {
		for i := range lines {
			lines[i] = a.th.look.Render(lines[i])
		}
	}
	// Two lines are always kept free where there is room, so that what is above
	// does not move with every notice.
	if a.h >= 20 && len(lines) < 2 {
		lines = append([]string{""}, lines...)
	}
	return lines
}

// hints names the few keys that matter on this screen; the way to all the
// others is never left out.
func (a *app) hints(s screen) string {
	if s.typing() != nil {
		line := a.hint(onForm, actOpen)
		if d, ok := s.(*describe); !ok || d.at > askName || len(a.stack) > 1 {
			line += "  " + a.hint(onForm, actBack)
		}
		return fit(line+"  "+a.th.key.Render("ctrl+c")+" quit", a.w)
	}
	last := a.hint(everywhere, actHelp)
	if len(a.stack) > 1 {
		last = a.hint(everywhere, actBack) + "  " + last
	}
	room := a.w - ansi.StringWidth(last) - 2
	line := ""
	for _, b := range append(append([]bound(nil), a.keys[s.scope()]...), a.keys[everywhere]...) {
		if b.act == actMeter && a.o.Player != nil {
			b.hint = "as the meter shows"
		}
		if p, ok := s.(*probe); ok {
			b.hint = p.hint(b)
		}
		if b.hint == "" || b.act == actHelp || b.act == actBack || a.idle(s, b.act) {
			continue
		}
		h := a.th.key.Render(keyNames(b.bind.Keys()[:1])) + " " + b.hint + "  "
		if ansi.StringWidth(line+h) > room {
			break
		}
		line += h
	}
	return line + last
}

// idle tells of an action that has nothing to act on just now.
func (a *app) idle(s screen, act action) bool {
	switch s := s.(type) {
	case *probe:
		if act == actPinout || act == actCut {
			return a.ses.ask != nil || a.ses.thinking
		}
		return a.ses.ask == nil && !a.ses.thinking && answers(act)
	case *harness:
		return s.idle(act)
	case *comeback:
		s.look()
		red, _ := s.expected(s.step())
		return answers(act) && red == ""
	case *pinout:
		_, widest := s.page()
		return act == actRight && widest <= a.w
	case *doubts:
		n := len(a.ses.openDoubts())
		switch act {
		case actRetest, actStrike, actAside:
			return n == 0
		case actRight:
			return n < 2
		}
	}
	return false
}

func (a *app) hint(sc scope, act action) string {
	for _, b := range a.keys[sc] {
		if b.act == act {
			return a.th.key.Render(keyNames(b.bind.Keys()[:1])) + " " + b.hint
		}
	}
	return ""
}
