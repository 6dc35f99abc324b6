package tui

import (
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// helpFor is made from the key bindings, so that it cannot be out of date.
func helpFor(a *app, s screen) *reader {
	scopes := []scope{s.scope(), everywhere}
	if s.typing() != nil {
		scopes = []scope{onForm}
	}
	return &reader{name: "keys", text: func(w int) []string {
		var out []string
		for i, sc := range scopes {
			if i > 0 {
				out = append(out, "")
			}
			out = append(out, a.th.strong.Render(strings.ToUpper(string(sc))))
			for _, b := range a.keys[sc] {
				if b.act == actMeter && a.o.Player == nil {
					continue
				}
				k := keyNames(b.bind.Keys())
				head := a.th.key.Render(k) + strings.Repeat(" ", max(1, 14-ansi.StringWidth(k)))
				out = append(out, indent(head, b.bind.Help().Desc, w)...)
			}
		}
		if s.scope() == onProbe {
			out = append(out, "", a.th.strong.Render("A TYPED LINE"))
			for _, l := range lineHelp {
				out = append(out, indent(l[0]+strings.Repeat(" ", max(1, 24-len(l[0]))), l[1], w)...)
			}
		}
		return out
	}}
}

// lineHelp explains what can be typed at the bench; the plain mode shows it too.
var lineHelp = [][2]string{
	{"3 7", "it beeped at the third and seventh step and at no other"},
	{"0 or -", "it beeped at no step"},
	{"3 5~ 6? 8x", "flicker at 5, not sure at 6, cannot reach at 8"},
	{"0.4  38r  4.7k  OL", "what the meter shows in ohms, for this step"},
	{"0.62V", "what it shows in the diode range, red to black"},
	{"3 7 dip=main beep", "a reading of your own: red end, black end, levers that moved, answer"},
	{"1+2+5 3 silent", "the same with a bunch on red"},
	{"3 3 beep", "a control beep of your own"},
}
