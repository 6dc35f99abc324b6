package tui

import (
	"fmt"
	"io"

	"github.com/charmbracelet/lipgloss"

	"bellout/mapping"
)

// theme is a set of styles, made once. Each of them only underlines what words
// and marks already say: without colours nothing is lost.
type theme struct {
	r      *lipgloss.Renderer
	strong lipgloss.Style // what to do
	key    lipgloss.Style // a key to press
	change lipgloss.Style // what moved since the last instruction
	good   lipgloss.Style
	look   lipgloss.Style // look at me
	wires  bool           // swatches are drawn
	glyphs mapping.Glyphs
}

// newTheme makes the styles for a background: "dark", "light" or "none". The
// terminal is not asked (it may not answer); NO_COLOR is honoured by the
// renderer. There is no grey on black: plain text keeps the terminal's own
// colours.
func newTheme(name string, out io.Writer) (theme, error) {
	if f, ok := out.(*steadyFile); ok {
		out = f.File // the renderer wants a plain file to see that it is a terminal
	}
	r := lipgloss.NewRenderer(out)
	r.SetHasDarkBackground(name != "light")
	s := r.NewStyle()
	t := theme{
		r: r, strong: s.Bold(true), key: s.Bold(true), change: s.Bold(true).Reverse(true),
		good: s.Bold(true), look: s.Bold(true).Reverse(true),
		glyphs: mapping.UnicodeGlyphs(),
	}
	switch name {
	case "", "dark":
		t.key = t.key.Foreground(lipgloss.Color("14"))
		t.good = t.good.Foreground(lipgloss.Color("10"))
		t.look = s.Bold(true).Foreground(lipgloss.Color("0")).Background(lipgloss.Color("11"))
		t.wires = true
	case "light":
		t.key = t.key.Foreground(lipgloss.Color("4"))
		t.good = t.good.Foreground(lipgloss.Color("2"))
		t.look = s.Bold(true).Foreground(lipgloss.Color("15")).Background(lipgloss.Color("1"))
		t.wires = true
	case "none":
	default:
		return t, fmt.Errorf("theme %q is none of dark, light, none", name)
	}
	return t, nil
}

// wireInk gives each colour of IEC 60757 a tint for its swatch. The standard
// gives names only; the tints are our own.
func wireInk(c mapping.Colour) lipgloss.Color {
	switch c {
	case "BK":
		return "#202020"
	case "BN":
		return "#7a4a21"
	case "RD":
		return "#d02020"
	case "OG":
		return "#f08010"
	case "YE":
		return "#f0e020"
	case "GN":
		return "#209030"
	case "BU":
		return "#2050d0"
	case "VT":
		return "#8030b0"
	case "GY":
		return "#909090"
	case "WH":
		return "#f4f4f4"
	case "PK":
		return "#f090b0"
	case "GD":
		return "#c0a030"
	case "TQ":
		return "#30c0c0"
	case "SR":
		return "#c8c8d0"
	}
	return ""
}

// swatch draws a wire as it lies on the bench: its base with the tracer along
// the middle, between two bars so that black shows on black and white on
// white. Always the same width; the letters beside it say the same.
func (t theme) swatch(e mapping.End) string {
	const wide = 6
	if !t.wires || t.r.ColorProfile() == noColours || e.Base == "" {
		return ""
	}
	base := t.r.NewStyle().Background(wireInk(e.Base))
	s := base.Render("      "[:wide])
	if e.Tracer != "" {
		stripe := t.r.NewStyle().Background(wireInk(e.Tracer))
		s = base.Render("  ") + stripe.Render("  ") + base.Render("  ")
	}
	return "▕" + s + "▏"
}
