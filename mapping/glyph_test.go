package mapping

import (
	"testing"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"
)

func TestGlyphsAreToldApart(t *testing.T) {
	for name, g := range map[string]Glyphs{"unicode": UnicodeGlyphs(), "ascii": ASCIIGlyphs()} {
		of := map[string]string{}
		for grade := NotTested; grade <= Proved; grade++ {
			for _, joined := range []bool{true, false} {
				s := g.Cell(joined, grade)
				if utf8.RuneCountInString(s) != 1 || ansi.StringWidth(s) != 1 {
					t.Errorf("%s: %q is not one column", name, s)
				}
				what := grade.String()
				if grade >= Likely && joined {
					what += " joined"
				}
				if was, ok := of[s]; ok && was != what {
					t.Errorf("%s: %q stands for %q and %q", name, s, was, what)
				}
				of[s] = what
				if name == "ascii" && s[0] >= 0x7f {
					t.Errorf("%q is not ASCII", s)
				}
				if s == g.Tie {
					t.Errorf("%s: %q is the tie as well", name, s)
				}
			}
		}
		if len(of) != 6 {
			t.Errorf("%s: %d signs, want 6", name, len(of))
		}
		if n := ansi.StringWidth(g.Legend()); n > 80 {
			t.Errorf("%s: the legend has %d columns", name, n)
		}
		if g.Cell(true, Grade(9)) != g.Cell(true, NotTested) {
			t.Error("an unknown grade looks surer than not tested")
		}
	}
}
