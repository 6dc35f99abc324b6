package ink

import (
	"fmt"
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// face is the table of widths of one weight, of size 1.
type face map[rune]float64

// The characters that a face is asked for; the font has none above.
const firstRune, lastRune = ' ', 0x2fff

// faces reads the tables from the embedded font once; they never change.
var faces = sync.OnceValue(func() [2]face {
	return [2]face{readFace(goregular.TTF), readFace(gobold.TTF)}
})

func readFace(data []byte) face {
	f, err := sfnt.Parse(data)
	if err != nil {
		panic("the embedded font is damaged: " + err.Error())
	}
	out := face{}
	var buf sfnt.Buffer
	units := f.UnitsPerEm()
	for r := rune(firstRune); r <= lastRune; r++ {
		i, err := f.GlyphIndex(&buf, r)
		if err != nil || i == 0 {
			continue
		}
		if a, err := f.GlyphAdvance(&buf, i, fixed.I(int(units)), font.HintingNone); err == nil {
			out[r] = float64(a) / 64 / float64(units)
		}
	}
	return out
}

func faceOf(bold bool) face {
	if bold {
		return faces()[1]
	}
	return faces()[0]
}

// Width is how wide a text is, in points.
func Width(s string, size float64, bold bool) float64 {
	f := faceOf(bold)
	sum := 0.0
	for _, r := range s {
		sum += f[r]
	}
	return sum * size
}

// Printable writes characters that the font lacks as U+ and their number, and
// tells whether there were any: the font would draw an empty box.
func Printable(s string) (string, bool) {
	var b strings.Builder
	missing := false
	for _, r := range s {
		_, plain := faceOf(false)[r]
		_, bold := faceOf(true)[r]
		if plain && bold {
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
// within a word where it must.
func Wrap(s string, size float64, bold bool, width float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		try := word
		if line != "" {
			try = line + " " + word
		}
		if Width(try, size, bold) <= width {
			line = try
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for line = word; Width(line, size, bold) > width && len([]rune(line)) > 1; {
			rs := []rune(line)
			n := len(rs) - 1
			for n > 1 && Width(string(rs[:n]), size, bold) > width {
				n--
			}
			lines = append(lines, string(rs[:n]))
			line = string(rs[n:])
		}
	}
	if line != "" || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}
