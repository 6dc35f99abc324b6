package tui

import (
	"strings"
	"testing"

	"bellout/inference"
	"bellout/mapping"
)

// given is a finding made of a map; every claim is proved.
type given struct {
	pod mapping.Pod
	m   mapping.Map
}

func (g given) Summary() inference.Result {
	return inference.Result{Map: g.m, Confidence: 0.999, Done: true}
}
func (g given) Joined(s mapping.Setting, a, b mapping.EndID) inference.Verdict {
	return inference.Verdict{Joined: g.m.Joined(g.pod, s, a, b), Grade: mapping.Proved, Bits: 20}
}
func (given) Why(mapping.Setting, mapping.EndID, mapping.EndID) []mapping.ReadingID { return nil }

func drawTable(t *testing.T, g given, w, h int) string {
	t.Helper()
	r := newRig(t, started(g.pod), func(o *Options) { o.Quiet = true })
	r.a.ses.th = thought{find: g, sum: g.Summary(), table: newContactTable(g.pod, g)}
	r.a.w, r.a.h = w, h
	r.press("t")
	return r.screen()
}

// Joined ends are tied, ties of one row never cross, and joins that need two
// levers have rows of their own.
func TestContactTable(t *testing.T) {
	pod := mapping.Pod{
		Name: "right",
		Ends: []mapping.End{{ID: "1"}, {ID: "2"}, {ID: "3"}, {ID: "4"}, {ID: "5"}},
		Switches: []mapping.Switch{
			{Name: "kill", Positions: []mapping.PositionID{"off", "run"}, Rest: "off"},
			{Name: "start", Positions: []mapping.PositionID{"out", "in"}, Rest: "out", Momentary: true},
		},
	}
	on := func(sw mapping.SwitchID, p mapping.PositionID) mapping.Term {
		return mapping.Term{Switch: sw, Positions: []mapping.PositionID{p}}
	}
	out := drawTable(t, given{pod, mapping.Map{Links: []mapping.Link{
		{A: "1", B: "3", When: []mapping.Condition{{on("kill", "run")}}},
		{A: "2", B: "4", When: []mapping.Condition{{on("kill", "run")}}},
		{A: "2", B: "5", When: []mapping.Condition{{on("kill", "run"), on("start", "in")}}},
	}}}, 80, 24)
	want := `                               1  2  3  4  5
▶ all at rest                 [ ]
  kill off*
  kill run                     ●═════●
                                  ●═════●
  start out*
  start in
  kill run, start in           ●═════●
                                  ●═════●══●`
	var got []string
	for _, l := range strings.Split(out, "\n")[2:11] {
		got = append(got, strings.TrimRight(l, " "))
	}
	squeeze := func(s string) string { return strings.Join(strings.Fields(s), " ") }
	for i, l := range strings.Split(want, "\n") {
		if squeeze(l) != squeeze(got[i]) {
			t.Fatalf("line %d is %q, want %q\n%s", i+1, got[i], l, out)
		}
	}
	col := func(line string, n rune) int { return len([]rune(line[:strings.IndexRune(line, n)])) }
	if col(got[0], '3') != len([]rune(strings.TrimRight(got[3], " ")))-1 {
		t.Errorf("the dot of 3 does not stand under its flag:\n%s", out)
	}
}

func TestLargeLetters(t *testing.T) {
	for _, id := range []string{"0123456789", "ABCDEFGHIJKLMNOPQRSTUVWXYZ", "A4 B2", "body"} {
		rows, ok := large(id)
		if !ok || len(rows) != 3 {
			t.Fatalf("%s cannot be drawn large", id)
		}
		for _, r := range rows {
			if n := len([]rune(r)); n != 4*len(id)-1 {
				t.Errorf("%s: a row is %d wide: %q", id, n, r)
			}
		}
	}
	if _, ok := large("π"); ok {
		t.Error("a letter that there is not was drawn")
	}
	seen := map[string]rune{}
	for r, dots := range letterDots {
		if len(dots) != 15 {
			t.Errorf("%c has %d dots", r, len(dots))
		}
		if other, dup := seen[dots]; dup {
			t.Errorf("%c and %c look alike", r, other)
		}
		seen[dots] = r
	}
}
