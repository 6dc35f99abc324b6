package mapping

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// Display is what the display of a meter shows: ohms, volts, or over range.
type Display struct {
	Mode  Mode // Ohms or Diode as the unit says, Beep where there is none
	Value float64
	Over  bool
}

// ErrMegaOrMilli refuses a small m before ohms: a meter shows M for megohm, a hand
// writes m for either, and the one is a thousand million times the other.
var ErrMegaOrMilli = errors.New("may be megohm or milliohm")

// mostShown is more than any meter shows.
const mostShown = 1e9

// displayUnits are in the order in which they are tried: one may end in another.
var displayUnits = []struct {
	suffix string
	scale  float64
	mode   Mode
}{
	{"mohm", 1e6, Ohms}, {"kohm", 1e3, Ohms}, {"ohms", 1, Ohms}, {"ohm", 1, Ohms},
	{"kω", 1e3, Ohms}, {"mω", 1e6, Ohms}, {"ω", 1, Ohms},
	{"r", 1, Ohms}, {"k", 1e3, Ohms}, {"m", 1e6, Ohms},
	{"mv", 1e-3, Diode}, {"v", 1, Diode},
}

// ParseDisplay reads what a meter shows: 0.4, 38r, 4.7k, 1.5M, 0.62V, OL. Only the
// M of megohm has to be a capital.
func ParseDisplay(text string) (Display, error) {
	const figures = "0123456789."
	text = strings.TrimSpace(text)
	number, d, scale := strings.ToLower(text), Display{}, 1.0
	switch number {
	case "ol", "o.l", "o.l.", "0l":
		return Display{Over: true}, nil
	}
	for _, u := range displayUnits {
		if cut, ok := strings.CutSuffix(number, u.suffix); ok {
			number, d.Mode, scale = strings.TrimSpace(cut), u.mode, u.scale
			break
		}
	}
	v, err := strconv.ParseFloat(number, 64)
	if err != nil || strings.Trim(number, figures) != "" || v*scale > mostShown {
		return Display{}, fmt.Errorf("%q is nothing that a meter shows: type it as 0.4, 38r, 4.7k, 1.5M, OL or 0.62V", Clean(text, MaxName))
	}
	if scale == 1e6 && strings.HasPrefix(strings.TrimSpace(strings.TrimLeft(text, figures)), "m") {
		return Display{}, fmt.Errorf("%q %w: type %sM, or %s", Clean(text, MaxName), ErrMegaOrMilli, number, strconv.FormatFloat(v/1000, 'f', -1, 64))
	}
	d.Value = v * scale
	return d, nil
}
