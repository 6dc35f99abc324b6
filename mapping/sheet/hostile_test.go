package sheet

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"

	"bellout/mapping"
	"bellout/mapping/sheet/ink"
)

// TestHostileNames: what a plan from elsewhere may hold does no harm in any
// form, and characters that the font lacks are written as their numbers.
func TestHostileNames(t *testing.T) {
	in := madePlan(2, 2, 4, 1)
	evil := []string{
		"</text><script>alert(1)</script>", "\x1b]0;x\x07\x1b[31mred", "a\u202eb\u200bc", "左のポッド",
		strings.Repeat("long ", 60), strings.Repeat("x", 300), "=1+1", "", "tab\tnew\nline", "\xff\xfe",
	}
	for i, e := range evil {
		p := &in.Plan
		switch i % 5 {
		case 0:
			p.Name = e
		case 1:
			p.Modules[0].Place = e
		case 2:
			p.Plugs[0].Housing = e
		case 3:
			p.Block.Ways[0].What = e
		case 4:
			p.Earths[0].Place = e
		}
		d, err := newDrawing(in.tidy())
		if err != nil {
			t.Fatal(err)
		}
		checkDrawing(t, fmt.Sprintf("%q", e), d)
		page, err := HTML(in)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(page, []byte("<script")) || bytes.Contains(page, []byte("\x1b")) {
			t.Errorf("%q came through to HTML", e)
		}
		if _, err := PDF(in); err != nil {
			t.Errorf("%q: %v", e, err)
		}
		checkText(t, Text(in))
	}
	in.Plan.Name = "左"
	d, _ := newDrawing(in.tidy())
	if !slices.ContainsFunc(d.page.Marks, func(m ink.Mark) bool { return strings.Contains(fmt.Sprint(m), "U+5DE6") }) {
		t.Error("a character that the font lacks is not told")
	}
	if !strings.Contains(string(Text(in)), "U+ and a number") {
		t.Error("the sign for lacking characters is not explained")
	}
}

// TestWideAndAccentedNames: a name may begin with a letter of several bytes and
// have characters that are two columns wide.
func TestWideAndAccentedNames(t *testing.T) {
	for name, want := range map[string]string{"étrier": "Étrier", "left": "Left", "左": "左", "": ""} {
		if got := title(name); got != want {
			t.Errorf("%q begins %q, want %q", name, got, want)
		}
	}
	table := contactTable{title: "turn", ends: []mapping.EndID{"4", "5左", "6"}, rows: []contactRow{
		{position: "左側", ties: [][]int{{0, 1}}, grade: []mapping.Grade{mapping.Proved}},
		{position: "off (rest)"},
		{position: "右", ties: [][]int{{0, 2}}, grade: []mapping.Grade{mapping.Proved}},
	}}
	sign := glyph(mapping.Proved)
	for i, l := range table.lines() {
		before, _, found := strings.Cut(l, map[bool]string{true: "4", false: sign}[i == 0])
		if got := ansi.StringWidth(before); found && got != len("off (rest) ") {
			t.Errorf("end 4 is %d columns in: %q", got, l)
		}
		if at := strings.LastIndex(l, "6"); i == 0 && ansi.StringWidth(l[:at]) != len("off (rest) 4   5oo ") {
			t.Errorf("end 6 is %d columns in: %q", ansi.StringWidth(l[:at]), l)
		}
	}
}

func checkText(t *testing.T, text []byte) {
	t.Helper()
	if !utf8.Valid(text) {
		t.Error("the text is not UTF-8")
	}
	for i, l := range strings.Split(string(text), "\n") {
		if w := ansi.StringWidth(l); w > textWidth {
			t.Errorf("line %d is %d wide: %q", i+1, w, l)
		}
		if strings.TrimRight(l, " ") != l || strings.ContainsAny(l, "\x1b\x07\t\r") {
			t.Errorf("line %d is not clean: %q", i+1, l)
		}
	}
}
