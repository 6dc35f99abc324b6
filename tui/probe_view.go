package tui

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"bellout/mapping"
)

func (p *probe) view(w, h int) []string {
	s := p.app.ses
	top := p.leads(w, h)
	least := 0
	if s.ask == nil {
		top = p.idle(w)
	} else {
		top = append(top, p.levers(w, h)...)
		least = min(s.ask.steps(), 3) // the step in hand and its neighbours are never crowded out
	}
	foot := p.foot(w, 0)
	for cut := 1; cut <= mostCut && (len(top)+least+len(foot) > h || h < 12 && len(foot) > 1); cut++ {
		foot = p.foot(w, cut)
	}
	if h < 7 && p.line == nil {
		foot = nil
	}
	room := h - len(top) - len(foot)
	var steps []string
	if s.ask != nil && room > 0 {
		steps = p.steps(w, room)
	}
	body := append(top, steps...)
	if keep := max(h-len(foot), 1); len(body) > keep {
		body = append(body[:keep-1:keep-1], fit("…  more: make the window taller", w))
	}
	for len(body) < h-len(foot) {
		body = append(body, "")
	}
	return append(body, foot...)
}

// idle stands where the instruction stands while there is none.
func (p *probe) idle(w int) []string {
	s := p.app.ses
	if s.thinking {
		return append([]string{"", fit("working out the next sweep…", w)}, s.howFar(w)...)
	}
	if s.th.find == nil {
		return []string{"", fit("getting ready…", w)}
	}
	k := p.app.key
	text := p.app.th.good.Render("Nothing more to ask: less than 1 chance in 200 is left that the map is wrong.")
	n := len(openPairs(s.th.sum))
	switch at := s.standsAt(); {
	case at == clashing:
		text = p.app.th.look.Render("!! " + mapping.Count(len(s.openDoubts()), "doubt") + " first: readings that cannot all be right. " +
			k(onProbe, actDoubts) + " shows what settles it. Nothing more to ask beside that.")
	case at == unsettled && n == 0:
		text = "Nothing more to ask that would help; chance that the map is wrong: " + percent(1-s.th.sum.Confidence) + "."
	case at == unsettled:
		text = "Nothing more to ask that would help. Not settled: " + mapping.Count(n, "pair") + "; " + k(onProbe, actKnown) + " shows what is left."
	case at == moreHands:
		text = "Nothing more to ask of these hands. Not settled, and more buttons to hold than you have hands for: " + mapping.Count(n, "pair") + "; " +
			k(onProbe, actKnown) + " shows what is left."
	}
	out := append([]string{""}, wrap(text, w)...)
	out = append(out, "", fit(k(onProbe, actPinout)+"  the pinout", w), fit(k(onProbe, actCut)+"  before the cut", w),
		fit(k(onProbe, actTable)+"  the contact table", w), fit(k(onProbe, actLine)+"  a reading of your own: 3 7 dip=main beep", w))
	return out
}

// leads shows where red and black go: big where there is room.
func (p *probe) leads(w, h int) []string {
	s := p.app.ses
	if s.ask == nil {
		return nil
	}
	k := s.ask.sweep
	red, black := "RED needle", "BLACK clip"
	if s.bench.Leads == mapping.BunchLeads {
		red, black = "RED clip", "BLACK clip"
	}
	moveRed, moveBlack := p.moved(s.bench.Red, k.Red), p.moved(s.bench.Black, k.Black)
	if k.Control {
		moveRed, moveBlack = "touch the clip's own end", "stays"
	}
	if len(s.ask.said) > 0 {
		moveRed, moveBlack = "stays", "stays"
	}
	if s.reclip {
		moveBlack = "set"
	}
	if (s.reclip || s.reneedle) && !k.Control {
		moveRed = "set"
	}
	if h < 8 {
		if line := p.gutter(moveRed) + "RED " + mapping.SideWords(k.Red) + p.tinyGutter(moveBlack) + "BLACK " + mapping.SideWords(k.Black); ansi.StringWidth(line) <= w {
			return []string{p.app.th.strong.Render(line)}
		}
	}
	if w >= 64 && h >= 16 {
		left := p.bigLead(red, moveRed, k.Red, w/2)
		right := p.bigLead(black, moveBlack, k.Black, w-w/2)
		out := make([]string, len(left))
		for i := range left {
			out[i] = pad(left[i], w/2) + right[i]
		}
		return out
	}
	return append(p.smallLead(red, moveRed, k.Red, w), p.smallLead(black, moveBlack, k.Black, w)...)
}

// moved says what happens to a clip; "" for the mark that stands out.
func (p *probe) moved(have, want []mapping.EndID) string {
	switch {
	case len(have) == 0:
		return "set"
	case slices.Equal(have, want):
		return "stays"
	}
	var add, take []mapping.EndID
	for _, e := range want {
		if !slices.Contains(have, e) {
			add = append(add, e)
		}
	}
	for _, e := range have {
		if !slices.Contains(want, e) {
			take = append(take, e)
		}
	}
	switch {
	case len(have) == 1 && len(want) == 1, len(take) == len(have):
		return "move"
	case len(take) == 0:
		return "add " + mapping.SideWords(add)
	case len(add) == 0:
		return "take out " + mapping.SideWords(take)
	}
	return "add " + mapping.SideWords(add) + ", take out " + mapping.SideWords(take)
}

func (p *probe) mark(what string) string {
	if what == "stays" {
		return "stays"
	}
	return p.app.th.change.Render(strings.ToUpper(what))
}

func (p *probe) gutter(what string) string {
	if what == "stays" {
		return "  "
	}
	return "◄ "
}

// tinyGutter stands between the two leads where both share a line.
func (p *probe) tinyGutter(what string) string {
	if what == "stays" {
		return "  "
	}
	return " ◄"
}

func (p *probe) bigLead(head, what string, ends []mapping.EndID, w int) []string {
	th := p.app.th
	out := []string{fit(p.gutter(what)+th.strong.Render(head)+"  "+p.mark(what), w), "", "", "", ""}
	rows, ok := large(strings.ReplaceAll(mapping.SideWords(ends), "+", " "))
	switch {
	case ok && len(ends) == 1 && ansi.StringWidth(rows[0])+24 <= w:
		side := p.endLines(ends[0])
		for i := range rows {
			out[i+1] = fit("   "+th.strong.Render(rows[i])+"   "+side[i], w)
		}
	case ok && len(ends) > 1 && ansi.StringWidth(rows[0])+4 <= w:
		for i := range rows {
			out[i+1] = fit("   "+th.strong.Render(rows[i]), w)
		}
		out[4] = fit("   "+p.bunchWords(ends), w)
	default:
		lines := wrap(p.bunchWords(ends), w-4)
		for i := 0; i < 4 && i < len(lines); i++ {
			out[i+1] = fit("   "+th.strong.Render(lines[i]), w)
		}
		if len(lines) > 4 {
			out[4] = more("   "+lines[3], w)
		}
	}
	return out
}

// bunchWords lists the ends of a side with their colours.
func (p *probe) bunchWords(ends []mapping.EndID) string {
	parts := make([]string, len(ends))
	for i, e := range ends {
		parts[i] = endWords(p.app.ses.work.Pod, e)
	}
	if len(ends) == 1 {
		return "end " + parts[0]
	}
	return fmt.Sprintf("bunch of %d: %s", len(ends), strings.Join(parts, ", "))
}

// endLines are three short lines about the end beside its large flag.
func (p *probe) endLines(id mapping.EndID) [3]string {
	e, _ := p.app.ses.work.Pod.End(id)
	out := [3]string{"end " + mapping.Clean(string(e.ID), mapping.MaxName), strings.TrimSpace(p.app.th.swatch(e) + " " + e.Colours()), colourWords(e)}
	if e.Cavity != "" {
		out[0] += ", cavity " + mapping.Clean(e.Cavity, mapping.MaxName)
	}
	return out
}

func (p *probe) smallLead(head, what string, ends []mapping.EndID, w int) []string {
	word, _, _ := strings.Cut(head, " ")
	pod := p.app.ses.work.Pod
	flag := mapping.SideWords(ends)
	s := p.gutter(what) + pad(word, 6) + p.app.th.strong.Render(flag)
	if len(ends) == 1 {
		e, _ := pod.End(ends[0])
		if e.Base != "" {
			s += " " + p.app.th.swatch(e) + e.Colours()
		}
	}
	m := p.mark(what)
	if ansi.StringWidth(s)+ansi.StringWidth(m)+2 <= w {
		return []string{s + "  " + m}
	}
	return append(indent(p.gutter(what)+pad(word, 6), p.bunchWords(ends), w), fit("        "+m, w))
}

// steps lists the sweep with the cursor and what was heard.
func (p *probe) steps(w, room int) []string {
	s := p.app.ses
	k := s.ask
	pod := s.work.Pod
	if k.sweep.Control || room < 1 {
		return nil
	}
	var out []string
	if room > k.steps()+1 {
		out = append(out, "")
		room--
	}
	lines := make([]string, k.steps())
	from := k.from.Levers
	for i := range lines {
		mark, heard := "  ", ""
		if i == len(k.said) {
			mark, heard = "▶ ", "?"
		}
		if i < len(k.said) {
			heard = k.said[i].words()
			if uint64(k.ids[i]) > p.app.acked {
				heard += " (saving)"
			}
		}
		say := again(i, stepWords(pod, from, k.sweep.Steps[i]))
		if i == len(k.said) {
			say = s.stepNow()
		}
		text := fmt.Sprintf("%s%2d  %s", mark, i+1, say)
		if i == len(k.said) {
			text = p.app.th.strong.Render(fit(text, max(w-10, w*2/3)))
		}
		lines[i] = apart(text, heard, min(w, 76))
		from = k.sweep.Steps[i]
	}
	shown, _ := window(lines, around(len(k.said), room), room, w)
	return append(out, shown...)
}

// mostCut is how far the foot of the bench gives way: first goes the score, then
// the old hand's word, then why but for a line, then that.
const mostCut = 4

// foot is why, and the line being typed.
func (p *probe) foot(w, cut int) []string {
	s := p.app.ses
	if p.line != nil {
		prompt := [...]string{"answer: ", "note: ", "change: "}[p.use]
		out := []string{p.line.view(prompt, w)}
		if p.use == useAmend {
			out = append(wrap("end 9 · switch flash out* in! · position dip half after low · colour 3 blue · remove 11", w), out...)
		}
		return out
	}
	var out []string
	if say := p.answerWords(); say != "" && s.ask != nil {
		out = append(out, fit(p.app.th.strong.Render(say), w))
	}
	if s.ask != nil && cut < mostCut {
		why := "why: " + s.ask.sweep.Why.Words()
		if p.why && s.ask.sweep.Why.Seconds > 0 {
			why += fmt.Sprintf("; takes away %.1f bits of doubt in %s", s.ask.sweep.Why.Bits, mapping.Minutes(s.ask.sweep.Why.Seconds))
		}
		lines := wrap(why, w)
		switch {
		case cut == mostCut-1 && len(lines) > 1:
			lines = []string{more(lines[0], w)}
		case len(lines) > 2 && !p.why:
			lines = append(lines[:1], more(lines[1], w))
		}
		out = append(out, lines...)
	}
	return append(out, p.coach(w, cut)...)
}
