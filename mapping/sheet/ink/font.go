package ink

import (
	"fmt"
	"strings"

	"bellout/mapping/page"
)

func fontOf(bold bool) page.Font {
	if bold {
		return page.Bold
	}
	return page.Regular
}

// Width is how wide a text is, in points.
func Width(s string, size float64, bold bool) float64 { return page.Ems(fontOf(bold), s) * size }

// Printable writes characters that the font lacks as U+ and their number, and
// tells whether there were any: the font would draw an empty box.
func Printable(s string) (string, bool) {
	var b strings.Builder
	missing := false
	for _, r := range s {
		if page.Regular.Has(r) && page.Bold.Has(r) {
			b.WriteRune(r)
			continue
		}
		missing = true
		fmt.Fprintf(&b, "U+%04X", r)
	}
	return b.String(), missing
}

// Fit cuts a text to a width with "..." at its end, and tells whether it had to.
func Fit(s string, size float64, bold bool, width float64) (string, bool) {
	if Width(s, size, bold) <= width {
		return s, false
	}
	rs := []rune(s)
	for len(rs) > 0 && Width(string(rs)+"...", size, bold) > width {
		rs = rs[:len(rs)-1]
	}
	return string(rs) + "...", true
}

// Wrap breaks a text into lines no wider than width, at spaces where it can and
// within a word where it must. No text is one empty line.
func Wrap(s string, size float64, bold bool, width float64) []string {
	lines := page.Break(s, func(part string) bool { return Width(part, size, bold) <= width })
	if len(lines) == 0 {
		return []string{""}
	}
	return lines
}
