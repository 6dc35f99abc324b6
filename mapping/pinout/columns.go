package pinout

import (
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// columns is how wide a text is in a terminal, the same in every locale.
func columns(s string) int { return ansi.StringWidth(s) }

func pad(s string, width int) string {
	return s + strings.Repeat(" ", max(0, width-columns(s)))
}

// wrap breaks a text into lines of at most a width in columns, at spaces where
// there are any, and a long word anywhere. There is always one line.
func wrap(s string, width int) []string {
	width = max(2, width)
	if columns(s) <= width {
		return []string{s}
	}
	out := []string{""}
	for _, word := range strings.Fields(s) {
		last := &out[len(out)-1]
		switch {
		case *last == "" && columns(word) <= width:
			*last = word
			continue
		case *last != "" && columns(*last)+1+columns(word) <= width:
			*last += " " + word
			continue
		}
		parts := strings.Split(ansi.Hardwrap(word, width, true), "\n")
		if *last == "" {
			out = out[:len(out)-1]
		}
		out = append(out, parts...)
	}
	return out
}

// aligned sets cells in columns of given widths, each wrapped within its own;
// the gap between columns is two.
func aligned(widths []int, cells []string) []string {
	var parts [][]string
	height := 0
	for i, c := range cells {
		parts = append(parts, wrap(c, widths[i]))
		height = max(height, len(parts[i]))
	}
	var out []string
	for row := range height {
		line := ""
		for i, p := range parts {
			cell := ""
			if row < len(p) {
				cell = p[row]
			}
			line += pad(cell, widths[i])
			if i < len(parts)-1 {
				line += "  "
			}
		}
		out = append(out, strings.TrimRight(line, " "))
	}
	return out
}
