package page

import (
	"fmt"
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/gomonobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Font is one of the embedded fonts.
type Font int

// The fonts.
const (
	Regular Font = iota
	Bold
	Mono
	MonoBold
)

// fontUnits is the size at which glyphs are measured.
const fontUnits = 2048

// face is a parsed font; parsing is done once, when first needed.
type face struct {
	name string
	ttf  []byte
	load func() (*sfnt.Font, error)
	adv  func() []int32 // advance + 1 of each character below tabled, 0: none
}

// tabled is the first character whose width is looked up in the font itself;
// every sign that the pages use lies below it.
const tabled = 0x2600

var faces = [...]face{
	newFace("regular", goregular.TTF),
	newFace("bold", gobold.TTF),
	newFace("mono", gomono.TTF),
	newFace("monobold", gomonobold.TTF),
}

func newFace(name string, ttf []byte) face {
	load := sync.OnceValues(func() (*sfnt.Font, error) { return sfnt.Parse(ttf) })
	return face{name, ttf, load, sync.OnceValue(func() []int32 {
		p, err := load()
		if err != nil {
			panic(fmt.Sprintf("page: the embedded font %s is broken: %v", name, err))
		}
		table := make([]int32, tabled)
		for r := range rune(tabled) {
			table[r] = advance(p, r)
		}
		return table
	})}
}

// advance is 1 more than a character's width in units of the font, 0 for a
// character that the font lacks.
func advance(p *sfnt.Font, r rune) int32 {
	var b sfnt.Buffer
	i, err := p.GlyphIndex(&b, r)
	if err != nil || i == 0 {
		return 0
	}
	a, err := p.GlyphAdvance(&b, i, fixed.I(fontUnits), font.HintingNone)
	if err != nil {
		return 0
	}
	return int32(a) + 1
}

// advance gives the same from the table, where the table reaches.
func (f Font) advance(r rune) int32 {
	if r >= 0 && r < tabled {
		return f.face().adv()[r]
	}
	p, err := f.face().load()
	if err != nil {
		return 0
	}
	return advance(p, r)
}

func (f Font) face() face {
	if f < 0 || int(f) >= len(faces) {
		f = Regular
	}
	return faces[f]
}

// Has tells whether the font can draw a character.
func (f Font) Has(r rune) bool { return f.advance(r) > 0 }

// Printable replaces each character that the font lacks by its code in
// brackets, and lists them, so that a warning can be given.
func Printable(f Font, text string) (string, []rune) {
	var b strings.Builder
	var missing []rune
	for _, r := range text {
		if f.Has(r) {
			b.WriteRune(r)
			continue
		}
		missing = append(missing, r)
		fmt.Fprintf(&b, "[U+%04X]", r)
	}
	return b.String(), missing
}

// Ems is how wide a text is at size 1, without kerning.
func Ems(f Font, text string) float64 {
	total := int64(0)
	for _, r := range text {
		if a := f.advance(r); a > 0 {
			total += int64(a - 1)
		}
	}
	return float64(total) / 64 / fontUnits
}

// Width is how wide a text is in millimetres at a size in points.
func Width(f Font, size float64, text string) float64 {
	return Ems(f, text) * size * MillimetresPerPoint
}

// Fit cuts a text to a width in millimetres; what was cut shows as "…".
func Fit(f Font, size, width float64, text string) string {
	text, _ = Printable(f, text)
	if Width(f, size, text) <= width {
		return text
	}
	r := []rune(text)
	for n := len(r) - 1; n >= 0; n-- {
		s := strings.TrimRight(string(r[:n]), " ") + "…"
		if Width(f, size, s) <= width {
			return s
		}
	}
	return ""
}

// FitMiddle cuts a text that is too wide in its middle: names often differ at their end only.
func FitMiddle(f Font, size, width float64, text string) string {
	text, _ = Printable(f, text)
	if Width(f, size, text) <= width {
		return text
	}
	r := []rune(text)
	for n := len(r) - 1; n >= 0; n-- {
		s := strings.TrimRight(string(r[:n-n/2]), " ") + "…" + strings.TrimLeft(string(r[len(r)-n/2:]), " ")
		if Width(f, size, s) <= width {
			return s
		}
	}
	return ""
}

// Wrap breaks a text into lines of at most a width in millimetres, at spaces
// where there are any; a single word that is too wide is broken.
func Wrap(f Font, size, width float64, text string) []string {
	text, _ = Printable(f, text)
	return Break(text, func(s string) bool { return Width(f, size, s) <= width })
}

// Break is Wrap by any measure: what fits on a line.
func Break(text string, fits func(string) bool) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		joined := word
		if line != "" {
			joined = line + " " + word
		}
		if fits(joined) {
			line = joined
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for r := []rune(word); len(r) > 1 && !fits(string(r)); r = []rune(word) {
			n := len(r) - 1
			for n > 1 && !fits(string(r[:n])) {
				n--
			}
			lines = append(lines, string(r[:n]))
			word = string(r[n:])
		}
		line = word
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
