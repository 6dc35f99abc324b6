package tui

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"bellout/mapping"
	"bellout/mapping/plan"
)

// figure writes a number with no more decimals than it has.
func figure(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

var paneNames = [...]string{"findings", "ways", "what if", "proof", "roadside"}

func (h *harness) view(w, height int) []string {
	if h.made == nil {
		return h.absent(w)
	}
	head := []string{h.tabs(w)}
	if height >= 8 {
		head = append(head, "")
	}
	var foot []string
	if h.line != nil {
		foot = h.line.asked("what is dead?", w)
	}
	text := h.text(w)
	room := max(1, height-len(head)-len(foot))
	h.height = room
	shown, off := window(text, h.offset, room, w)
	h.offset = off
	if h.line != nil { // the line typed stays where it is
		shown = frame(shown, w, room)
	}
	return append(append(head, shown...), foot...)
}

// newKey is what makes a first plan: a key, or a line.
func (h *harness) newKey() string {
	if h.app.o.Plain {
		return "harness new"
	}
	return h.app.key(onPlan, actNew)
}

// absent is the screen while there is no plan to show.
func (h *harness) absent(w int) []string {
	where := mapping.Clean(h.app.o.Harness.Where(), mapping.MaxText)
	switch {
	case h.missing():
		return append(append([]string{""}, wrap("There is no plan yet in "+where+".", w)...),
			wrap(h.newKey()+" makes a first one from the maps of this job: a module and a plug for each pod, and the loads that usually hang on what was found. It is a text file: lengths and loads are yours to mend.", w)...)
	case h.err != nil:
		out := append([]string{""}, wrap(h.app.th.look.Render("!! The plan cannot be used as it is."), w)...)
		for _, l := range strings.Split(h.err.Error(), "\n") {
			out = append(out, indent(" ? ", mapping.Clean(l, mapping.MaxNote), w)...)
		}
		return append(append(out, ""), wrap("Mend "+where+", then "+h.app.key(onPlan, actReload)+" loads it again.", w)...)
	}
	return []string{"", "working it out…"}
}

// tabs names the five panes, the one in sight in brackets; where they do not
// fit side by side, only that one and its number.
func (h *harness) tabs(w int) string {
	line := ""
	for i, n := range paneNames {
		if pane(i) == h.pane {
			line += h.app.th.strong.Render("[" + n + "]")
		} else {
			line += " " + n + " "
		}
	}
	if ansi.StringWidth(line) <= w {
		return line
	}
	return fit(h.app.th.strong.Render("["+paneNames[h.pane]+"]")+fmt.Sprintf(" %d of %d", h.pane+1, len(paneNames)), w)
}

func (h *harness) text(w int) []string {
	switch h.pane {
	case paneWays:
		return h.waysText(w)
	case paneWhatIf:
		return h.whatIfText(w)
	case paneProof:
		return h.proofText(w)
	case paneRoadside:
		return h.roadsideText(w)
	}
	return h.findingsText(w)
}

func (h *harness) findingsText(w int) []string {
	th, p := h.app.th, h.made.plan
	var out []string
	open, meant := 0, 0
	for _, f := range h.made.found {
		if f.Meant {
			meant++
		} else {
			open++
		}
	}
	stand := fmt.Sprintf("%s: %s, %s, %s", p.Name, mapping.Count(len(p.Loads), "load"), mapping.Count(len(p.Block.Ways), "way"), mapping.Count(len(p.Wires), "wire"))
	out = append(out, wrap(mapping.Clean(stand, mapping.MaxNote), w)...)
	if open == 0 {
		out = append(out, th.good.Render(fit("NOTHING FOUND, in any setting of any pod", w)))
	} else {
		out = append(out, th.look.Render(fit("!! "+mapping.Count(open, "finding")+": settle these before anything is cut", w)))
	}
	for _, b := range p.Bypasses {
		out = append(out, indent("!! ", mapping.Clean(b.Notice(), mapping.MaxNote), w)...)
	}
	for _, f := range h.made.found {
		if f.Meant {
			continue
		}
		say := f.Kind + " at " + f.Where
		if f.Setting != "" {
			say += ", with " + f.Setting
		}
		out = append(out, indent(" ? ", mapping.Clean(say+": "+f.Say, mapping.MaxNote), w)...)
		if len(f.Path) > 0 {
			out = append(out, indent("     ", mapping.Clean("path: "+strings.Join(f.Path, " > "), mapping.MaxNote), w)...)
		}
	}
	if meant > 0 {
		out = append(out, wrap(fmt.Sprintf("%d more, marked in the plan as meant", meant), w)...)
	}
	out = append(out, "", th.strong.Render("TAKE CARE"))
	for _, c := range plan.CautionsFor(p) {
		out = append(out, indent(" · ", c.Say, w)...)
	}
	return out
}

func (h *harness) waysText(w int) []string {
	var out []string
	for _, x := range h.made.work.Ways {
		fuse := "no fuse fits"
		if x.Fuse > 0 {
			fuse = strings.TrimSpace(figure(x.Fuse) + " A " + x.Colour)
		}
		say := fmt.Sprintf("%s, %.1f A steady, %.1f A at most: %s", fuse, x.Steady, x.Peak, strings.Join(x.Loads, ", "))
		out = append(out, indent(fmt.Sprintf(" %-4s ", x.Name), mapping.Clean(say, mapping.MaxNote), w)...)
	}
	m := h.made.work.Main
	out = append(out, "")
	if m.Fuse > 0 {
		out = append(out, wrap(fmt.Sprintf("Main fuse %s A: %.1f A steady, %.1f A at most; %.1f A through the ignition contact.", figure(m.Fuse), m.Steady, m.Peak, m.Contact), w)...)
	}
	if s := h.made.work.Charging.Say; s != "" {
		out = append(out, wrap(s, w)...)
	}
	for _, f := range h.made.shared {
		for _, s := range f.Say {
			out = append(out, wrap(mapping.Clean(s, mapping.MaxNote), w)...)
		}
	}
	return out
}

func (h *harness) whatIfText(w int) []string {
	var out []string
	names := func(list []string) string {
		if len(list) == 0 {
			return "nothing"
		}
		return mapping.Clean(strings.Join(list, ", "), mapping.MaxNote)
	}
	for _, u := range h.made.pulls {
		what := "PLUG " + u.Where + " pulled"
		if u.Kind == "fuse" {
			what = "FUSE of " + u.Where + " out"
		}
		out = append(out, h.app.th.strong.Render(fit(mapping.Clean(what, mapping.MaxNote), w)))
		out = append(out, indent("  dies  ", names(u.Dies), w)...)
		out = append(out, indent("  lives ", names(u.Lives), w)...)
		if len(u.Beyond) > 0 {
			out = append(out, indent("  !!    ", "of these outside its own module or way: "+names(u.Beyond), w)...)
		}
	}
	apart := 0
	for _, x := range h.made.tries {
		if !x.Fits {
			apart++
			continue
		}
		head := "  "
		if x.Harm {
			head = "!! "
		}
		out = append(out, indent(head, mapping.Clean(fmt.Sprintf("plug %s in the socket of %s: %s", x.Plug, x.Socket, strings.Join(x.Effects, "; ")), mapping.MaxNote), w)...)
	}
	if apart > 0 {
		out = append(out, wrap(mapping.Count(apart, "pair")+" of plug and wrong socket kept apart by housing, ways or keying.", w)...)
	}
	return out
}

func (h *harness) proofText(w int) []string {
	th, list, read := h.app.th, h.list(), h.read()
	if len(list) == 0 {
		return wrap("Nothing of this plan can be read by itself yet: it has no plug.", w)
	}
	part := mapping.Clean(h.made.parts[h.part], mapping.MaxName)
	out := []string{fit(apart(th.strong.Render(part+", unplugged"), fmt.Sprintf("%d of %d read", len(read), len(list)), w), w)}
	if h.at < len(list) {
		r := list[h.at]
		out = append(out, indent("RED    ", mapping.Clean(strings.Join(r.Red, " "), mapping.MaxNote), w)...)
		out = append(out, indent("BLACK  ", mapping.Clean(strings.Join(r.Black, " "), mapping.MaxNote), w)...)
		out = append(out, indent("▶ ", mapping.Clean(r.Say, mapping.MaxNote), w)...)
		if beep, ok := read[r.ID]; ok {
			say, asPlanned := r.Answer(beep)
			if !asPlanned {
				say += ", not as planned. Read it again once it is mended"
			}
			out = append(out, wrap("Last time: "+say+"; the later word counts.", w)...)
		}
		out = append(out, wrap(h.app.key(onPlan, actBeep)+" it beeped, "+h.app.key(onPlan, actSilent)+" it was silent. Fuses and relays out, battery off.", w)...)
	} else {
		out = append(out, wrap("Every reading has its answer.", w)...)
		out = append(out, th.good.Render(fit("AS PLANNED", w)))
	}
	for i, s := range h.faults {
		head := "   or: "
		if i == 0 {
			head = "!! likely: "
		}
		say := s.Say
		if s.Retest != "" {
			say += "; to tell: " + s.Retest
		}
		out = append(out, indent(head, mapping.Clean(say, mapping.MaxNote), w)...)
	}
	out = append(out, "")
	for i, r := range list {
		mark := "[ ]"
		if beep, ok := read[r.ID]; ok {
			mark = "[!]"
			if beep == r.Joined {
				mark = "[x]"
			}
		}
		at := " "
		if i == h.at {
			at = "▶"
		}
		out = append(out, fit(fmt.Sprintf("%s%s %2d  %s", at, mark, i+1, mapping.Clean(r.Say, mapping.MaxNote)), w))
	}
	return out
}

func (h *harness) roadsideText(w int) []string {
	if len(h.answer) == 0 {
		return wrap(h.app.key(onPlan, actLine)+" and what is dead, in words: left indicators, no horn, nothing at all. It answers with fuse, plug, cavity, wire, what to expect, what next.", w)
	}
	out := []string{h.app.th.strong.Render(fit(h.asked, w)), ""}
	for _, l := range h.answer {
		out = append(out, indent("", mapping.Clean(l, mapping.MaxNote), w)...)
	}
	return append(out, "", fit("Hot smell, hot plug, or a fuse that blows twice: stop.", w))
}
