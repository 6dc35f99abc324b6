package tui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"bellout/mapping"
)

func TestScrub(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"dip low → main", "dip low → main"},
		{"a\x1b[1mb\x1b[0m", "a\x1b[1mb\x1b[0m"},
		{"a\x1b[2Jb", "a[2Jb"},
		{"a\x1b]0;title\ab", "a]0;titleb"},
		{"a\u202eb\u200bc\u009bd", "abcd"},
		{"a\xffb\rc\nd\te", "abcde"},
		{"\x1b[", "["},
	} {
		if got := scrub(c.in, true); got != c.want {
			t.Errorf("%q gave %q, want %q", c.in, got, c.want)
		}
		if got := scrub(c.in, false); strings.Contains(got, "\x1b") {
			t.Errorf("%q leaves an escape in plain text: %q", c.in, got)
		}
	}
}

// A job file from elsewhere may hold anything in its names; no screen lets it
// reach the terminal.
func TestHostileNames(t *testing.T) {
	evil := "\x1b[2J\x1b]0;owned\a\u202egnol\u200b\r\n"
	pod := mapping.Pod{
		Name: "left" + evil,
		Ends: []mapping.End{{ID: mapping.EndID("1" + evil), Base: "BU", Cavity: evil}, {ID: mapping.EndID("2" + evil)}, {ID: "3"}},
		Switches: []mapping.Switch{{
			Name: mapping.SwitchID("dip" + evil), Positions: []mapping.PositionID{mapping.PositionID("low" + evil), "main"},
			Rest: mapping.PositionID("low" + evil), Legend: evil,
		}},
	}
	for _, key := range []string{"", "t", "d", "k", "l", "s", "g", "o", "j", "?"} {
		r := newRig(t, started(pod), func(o *Options) { o.Quiet = true })
		r.press("enter", "space")
		r.a.settle(r.a.ses.remark(evil, r.a.ses.work.Readings[0].ID))
		if key != "" {
			r.press(key)
		}
		for _, w := range []int{20, 80} {
			r.a.route(tea.WindowSizeMsg{Width: w, Height: 24})
			for i, l := range strings.Split(r.a.View(), "\n") {
				if scrub(l, true) != l || strings.Contains(l, "\x1b[2J") {
					t.Fatalf("screen %q line %d lets it through: %q", key, i+1, l)
				}
			}
		}
	}
	out, _ := talk(t, started(pod), "b\nlog\ntable\nknown\nwhy\n", nil)
	if strings.ContainsAny(out, "\r\u202e\u200b") {
		t.Error("the plain mode lets it through")
	}
}
