package tui

import (
	"strings"

	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"bellout/mapping"
)

const noColours = termenv.Ascii

// fit cuts a line to w cells; what is cut is said to be cut by the mark at its
// end.
func fit(s string, w int) string {
	if w <= 0 {
		return ""
	}
	if ansi.StringWidth(s) <= w {
		return s
	}
	return ansi.Truncate(s, w, "…")
}

// more is a line that goes on out of sight, and says so.
func more(s string, w int) string {
	if w <= 0 {
		return ""
	}
	return ansi.Truncate(s, w-1, "") + "…"
}

// pad fits a line and fills it to w cells.
func pad(s string, w int) string {
	s = fit(s, w)
	if n := w - ansi.StringWidth(s); n > 0 {
		s += strings.Repeat(" ", n)
	}
	return s
}

// wrap breaks a text into lines of at most w cells, at spaces where it can.
func wrap(s string, w int) []string {
	if w <= 0 {
		return nil
	}
	return strings.Split(ansi.Wrap(s, w, " "), "\n")
}

// Wrapped breaks a text at words into lines of at most w cells. The first begins
// with head, the others with as many spaces.
func Wrapped(head, text string, w int) []string { return indent(head, text, w) }

// indent wraps with a hanging indent: the first line begins with head, the
// others with as many spaces.
func indent(head, s string, w int) []string {
	n := ansi.StringWidth(head)
	if w-n < 8 {
		return wrap(head+s, w)
	}
	lines := wrap(s, w-n)
	for i := range lines {
		if i == 0 {
			lines[i] = head + lines[i]
		} else {
			lines[i] = strings.Repeat(" ", n) + lines[i]
		}
	}
	return lines
}

// apart puts two texts at the two edges of a line; the left one gives way.
func apart(left, right string, w int) string {
	r := ansi.StringWidth(right)
	if r >= w {
		return fit(right, w)
	}
	if ansi.StringWidth(left)+r+1 > w {
		left = fit(left, w-r-1)
	}
	return left + strings.Repeat(" ", max(w-r-ansi.StringWidth(left), 0)) + right
}

// window shows h of the lines from offset on, says how many are hidden at
// either side, and returns the offset that it could use.
func window(lines []string, offset, h, w int) ([]string, int) {
	if h <= 0 {
		return nil, 0
	}
	if len(lines) <= h {
		return lines, 0
	}
	offset = max(0, min(offset, len(lines)-h))
	out := append([]string(nil), lines[offset:offset+h]...)
	if h < 3 {
		return out, offset
	}
	if offset > 0 {
		out[0] = fit("  ▲ "+mapping.Count(offset+1, "more line"), w)
	}
	if hidden := len(lines) - offset - h; hidden > 0 {
		out[h-1] = fit("  ▼ "+mapping.Count(hidden+1, "more line"), w)
	}
	return out, offset
}

// around is the offset that keeps line at in the middle of h lines.
func around(at, h int) int { return max(0, at-h/2) }

// frame makes exactly h lines of at most w cells.
func frame(lines []string, w, h int) []string {
	out := make([]string, h)
	for i := range out {
		if i < len(lines) {
			out[i] = fit(lines[i], w)
		}
	}
	if len(lines) > h && h > 0 {
		out[h-1] = fit("  ▼ "+mapping.Count(len(lines)-h+1, "more line"), w)
	}
	return out
}

// large draws a short flag in letters three lines high, so that it is read
// from the far side of the bench. It is false for what the letters lack.
func large(s string) ([]string, bool) {
	rows := make([]string, 3)
	for _, r := range strings.ToUpper(s) {
		dots, ok := letterDots[r]
		if !ok {
			return nil, false
		}
		for i := range rows {
			if rows[i] != "" {
				rows[i] += " "
			}
			for c := range 3 {
				up := dots[6*i+c] == '#'
				down := i < 2 && dots[6*i+3+c] == '#'
				rows[i] += halfBlock(up, down)
			}
		}
	}
	return rows, s != ""
}

func halfBlock(up, down bool) string {
	switch {
	case up && down:
		return "█"
	case up:
		return "▀"
	case down:
		return "▄"
	}
	return " "
}

// letterDots are capitals and digits of three by five dots, row by row.
var letterDots = map[rune]string{
	'0': "####.##.##.####", '1': ".#.##..#..#.###", '2': "###..#####..###", '3': "###..####..####",
	'4': "#.##.####..#..#", '5': "####..###..####", '6': "####..####.####", '7': "###..#.#..#..#.",
	'8': "####.#####.####", '9': "####.####..####", 'A': ".#.#.#####.##.#", 'B': "##.#.###.#.###.",
	'C': ".###..#..#...##", 'D': "##.#.##.##.###.", 'E': "####..##.#..###", 'F': "####..##.#..#..",
	'G': ".###..#.##.#.##", 'H': "#.##.#####.##.#", 'I': "###.#..#..#.###", 'J': "..#..#..##.#.#.",
	'K': "#.##.###.#.##.#", 'L': "#..#..#..#..###", 'M': "#.#####.##.##.#", 'N': "##.#.##.##.##.#",
	'O': ".#.#.##.##.#.#.", 'P': "##.#.###.#..#..", 'Q': ".#.#.##.##.#.##", 'R': "##.#.###.#.##.#",
	'S': ".###...#...###.", 'T': "###.#..#..#..#.", 'U': "#.##.##.##.####", 'V': "#.##.##.##.#.#.",
	'W': "#.##.##.#####.#", 'X': "#.##.#.#.#.##.#", 'Y': "#.##.#.#..#..#.", 'Z': "###..#.#.#..###",
	' ': "...............", '+': "....#.###.#....", '-': "......###......", '.': ".............#.", '_': "............###", '/': "..#..#.#.#..#..",
}
