package tui

import (
	"regexp"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"
)

// swatchCells is a wire drawn in its own colours; the letters stand beside it.
var swatchCells = regexp.MustCompile(`▕ {6}▏`)

// Nothing is told by colour alone: on every screen, on a dark ground and on a
// light one, the words and marks are the same with colours as without. What
// stands out by colour (a lever that moves, a notice to be looked at) has its
// mark or its capitals.
func TestNothingByColourAlone(t *testing.T) {
	for _, sc := range scenes() {
		t.Run(sc.name, func(t *testing.T) {
			r := sc.make(t)
			r.a.route(tea.WindowSizeMsg{Width: 100, Height: 40})
			bare := strings.Join(strings.Fields(r.screen()), " ")
			for _, ground := range []string{"dark", "light"} {
				th, err := newTheme(ground, r.bell)
				if err != nil {
					t.Fatal(err)
				}
				th.r.SetColorProfile(termenv.TrueColor)
				r.a.th = th
				view := r.a.View()
				if !strings.Contains(view, "\x1b[") {
					t.Fatalf("%s: nothing is coloured, so nothing is shown by this test", ground)
				}
				if got := strings.Join(strings.Fields(swatchCells.ReplaceAllString(ansi.Strip(view), " ")), " "); got != bare {
					t.Errorf("%s: with colours it says\n%s\nwithout\n%s", ground, got, bare)
				}
				for _, l := range strings.Split(view, "\n") {
					marked(t, ground, l)
				}
			}
		})
	}
}

// reversed finds what is shown in reverse: what changes, or is to be looked at.
var reversed = regexp.MustCompile("\x1b\\[[0-9;]*7m([^\x1b]*)")

// marked holds what is shown in reverse to having a sign of its own on its line.
func marked(t *testing.T, ground, line string) {
	t.Helper()
	for _, m := range reversed.FindAllStringSubmatch(line, -1) {
		word := strings.TrimSpace(m[1])
		plain := ansi.Strip(line)
		if word == "" || strings.ToUpper(word) == word {
			continue
		}
		if !strings.ContainsAny(plain, "◄▶!?[") {
			t.Errorf("%s: %q stands out by its colour alone: %q", ground, word, plain)
		}
	}
}
