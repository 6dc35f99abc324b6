package tui

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// scrub takes out of a drawn line whatever could move the cursor, hide or turn
// round text: names in a job file may have come from anywhere. Our own styles
// (the escape sequences that end in m) stay when styled is set; everything else
// that is not seen goes.
func scrub(s string, styled bool) string {
	if clean(s) {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); {
		if n := styleAt(s[i:]); n > 0 {
			if styled {
				b.WriteString(s[i : i+n])
			}
			i += n
			continue
		}
		r, n := utf8.DecodeRuneInString(s[i:])
		if !unseen(r) && !(r == utf8.RuneError && n == 1) {
			b.WriteRune(r)
		}
		i += n
	}
	return b.String()
}

// clean is the quick answer for a line of plain visible ASCII.
func clean(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// styleAt measures a style sequence at the beginning of s: ESC [ figures m.
func styleAt(s string) int {
	if !strings.HasPrefix(s, "\x1b[") {
		return 0
	}
	for i := 2; i < len(s) && i < 64; i++ {
		switch c := s[i]; {
		case c == 'm':
			return i + 1
		case c != ';' && c != ':' && (c < '0' || c > '9'):
			return 0
		}
	}
	return 0
}

// unseen tells a rune that is not drawn by itself: control, format (bidirectional
// marks, zero-width joiners), private use, line and paragraph separators.
func unseen(r rune) bool {
	return unicode.Is(unicode.Cc, r) || unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Co, r) ||
		unicode.Is(unicode.Zl, r) || unicode.Is(unicode.Zp, r) || unicode.Is(unicode.Variation_Selector, r)
}
