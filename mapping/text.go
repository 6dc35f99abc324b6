package mapping

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"
)

// The most characters that a text from outside may have: a name on a flag, a
// legend or a note. Longer ones are cut by Clean.
const (
	MaxName = 40
	MaxText = 200
	MaxNote = 500
)

// Clean makes text from outside safe to keep, to show and to print: terminal
// escapes are taken out whole; line breaks and tabs become one space; control
// characters, invisible and direction-changing format characters, private-use
// characters and invalid UTF-8 are dropped; runs of spaces are closed up; and
// the rest is capped at max characters (0 or less: no cap). Cleaning twice is
// cleaning once.
func Clean(s string, max int) string {
	s = ansi.Strip(strings.ToValidUTF8(s, ""))
	var b strings.Builder
	n, gap := 0, false
	for _, r := range s {
		switch {
		case unicode.IsSpace(r) && r != '\u0085', unicode.Is(unicode.Zs, r):
			gap = n > 0
			continue
		case !unicode.IsGraphic(r), invisible(r):
			continue
		}
		if gap {
			if max > 0 && n+2 > max {
				break
			}
			b.WriteByte(' ')
			n++
			gap = false
		}
		if max > 0 && n+1 > max {
			break
		}
		b.WriteRune(r)
		n++
	}
	return b.String()
}

// invisible names what unicode.IsGraphic lets through although nothing is
// seen: blank letters used as fillers, and the combining joiner. A combining
// mark stack is left alone: accents are part of names.
func invisible(r rune) bool {
	switch r {
	case '\u034f', '\u115f', '\u1160', '\u3164', '\uffa0', '\u2800', utf8.RuneError:
		return true
	}
	return unicode.Is(unicode.Variation_Selector, r)
}

// Count is a number with its noun: "1 switch", "3 switches", "2 entries".
func Count(n int, noun string) string {
	switch {
	case n == 1:
	case strings.HasSuffix(noun, "ch"):
		noun += "es"
	case strings.HasSuffix(noun, "try"):
		noun = strings.TrimSuffix(noun, "y") + "ies"
	default:
		noun += "s"
	}
	return strconv.Itoa(n) + " " + noun
}
