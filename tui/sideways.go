package tui

import (
	"regexp"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// sideways is a page that is wider than the screen, from a column on. What names
// a row stays where it is: a function that stands at no wire says nothing.
func sideways(lines []string, from, w int) []string {
	out := make([]string, len(lines))
	keep := 0
	for i, l := range lines {
		name := ansi.StringWidth(rowHead.FindString(l))
		if name > 0 && (name == keep || i+1 < len(lines) && goesOn(lines[i+1], name)) {
			keep = name
		} else if blank := len(l) - len(strings.TrimLeft(l, " ")); blank < keep && !isRule(l) {
			keep = 0 // running text, or the end of the table
		}
		if keep > w/2 {
			keep = 0 // there is no room for it
		}
		out[i] = ansi.Cut(l, 0, keep) + slice(ansi.Cut(l, keep, 1<<20), from, w-keep)
	}
	return out
}

// rowHead is the first column of a row: a word or two with blanks after it.
var rowHead = regexp.MustCompile(`^\S{1,12}( \S{1,12})? {2,}`)

// goesOn tells that a line belongs to a table whose first column is so wide.
func goesOn(l string, keep int) bool {
	blank := len(l) - len(strings.TrimLeft(l, " "))
	return isRule(l) || blank >= keep || ansi.StringWidth(rowHead.FindString(l)) == keep
}

func isRule(l string) bool { return l != "" && strings.Trim(l, "-─") == "" }

// slice is the part of a line that is in sight; what is cut at a side is said to
// be, but for blanks.
func slice(l string, from, w int) string {
	if w < 2 {
		return fit(l, w)
	}
	out := ansi.Cut(l, from, from+w)
	if from > 0 && strings.TrimSpace(ansi.Cut(l, 0, from+1)) != "" {
		out = "…" + ansi.Cut(l, from+1, from+w)
	}
	if strings.TrimSpace(ansi.Cut(l, from+w-1, 1<<20)) != "" && ansi.StringWidth(l) > from+w {
		out = more(out, w)
	}
	return out
}
