package tui

import (
	"fmt"
	"strings"

	"bellout/mapping"
)

// todo is what the hands have to do to bring levers and buttons to a setting from
// where they stand. Where nobody vouches for the levers, nor does anybody for the
// buttons that were asked to be held.
func (s *session) todo(to mapping.Setting) (levers, hold, free []move) {
	levers, hold, free = moves(s.work.Pod, s.standing(), to)
	if s.relever {
		for _, sw := range s.work.Pod.Switches {
			if s.held[sw.Name] && to.At(sw) == sw.Rest {
				free = append(free, move{sw: sw, to: sw.Rest})
			}
		}
	}
	return levers, hold, free
}

// stepNow says what to do for the step in hand.
func (s *session) stepNow() string {
	return again(len(s.ask.said), moveWords(s.todo(s.ask.setting(len(s.ask.said), s.work.Pod))))
}

// levers shows which levers to set for the step in hand; what moves stands
// first and marked, what stays is named after it.
func (p *probe) levers(w, h int) []string {
	s := p.app.ses
	pod, k := s.work.Pod, s.ask
	if k.sweep.Control {
		return append(indent("  STAYS  ", "levers and buttons as they are", w), fit("  It SHOULD beep, if the clip bites", w))
	}
	if len(pod.Switches) == 0 {
		return nil
	}
	to := k.setting(len(k.said), pod)
	levers, hold, free := s.todo(to)
	var mv, hd, fr, stay []string
	moved := map[mapping.SwitchID]bool{}
	for _, m := range levers {
		moved[m.sw.Name] = true
		if m.from == "" {
			mv = append(mv, p.app.th.change.Render(fmt.Sprintf("%s to %s", m.sw.Name, m.to)))
		} else {
			mv = append(mv, p.app.th.change.Render(fmt.Sprintf("%s %s → %s", m.sw.Name, m.from, m.to)))
		}
	}
	for _, m := range hold {
		moved[m.sw.Name] = true
		hd = append(hd, p.app.th.change.Render(fmt.Sprintf("%s %s", m.sw.Name, m.to)))
	}
	for _, m := range free {
		moved[m.sw.Name] = true
		fr = append(fr, p.app.th.change.Render(string(m.sw.Name)))
	}
	for _, sw := range pod.Switches {
		if !moved[sw.Name] {
			stay = append(stay, string(sw.Name)+" "+string(to.At(sw)))
		}
	}
	var out []string
	if h >= 8 || len(mv) > 0 || len(hd)+len(fr) == 0 {
		out = leverLine("SET    ", mv, w)
	}
	if h >= 8 && len(fr) == 0 || len(hd) > 0 {
		out = append(out, leverLine("HOLD   ", hd, w)...)
	}
	if len(fr) > 0 {
		out = append(out, leverLine("LET GO ", fr, w)...)
	}
	if h >= 12 && len(stay) > 0 {
		lines := indent("  STAYS  ", strings.Join(stay, ", "), w)
		if len(lines) > 2 {
			lines = append(lines[:1:1], more(lines[1], w))
		}
		out = append(out, lines...)
	}
	return out
}

// leverLine puts a mark before what changes: it must be found at a glance, and
// without colours.
func leverLine(head string, parts []string, w int) []string {
	if len(parts) == 0 {
		return []string{fit("  "+head+"nothing", w)}
	}
	return indent("◄ "+head, strings.Join(parts, "  "), w)
}
