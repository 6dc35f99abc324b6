package mapping

import (
	"errors"
	"strings"
	"testing"
)

func TestParseDisplay(t *testing.T) {
	for text, want := range map[string]Display{
		"0.4": {Value: 0.4}, "38": {Value: 38}, ".5": {Value: 0.5}, " 12 ": {Value: 12},
		"38r": {Mode: Ohms, Value: 38}, "38 ohm": {Mode: Ohms, Value: 38}, "38ohms": {Mode: Ohms, Value: 38}, "38Ω": {Mode: Ohms, Value: 38},
		"4.7k": {Mode: Ohms, Value: 4700}, "4.7 K": {Mode: Ohms, Value: 4700}, "4.7kohm": {Mode: Ohms, Value: 4700}, "4.7kΩ": {Mode: Ohms, Value: 4700},
		"2M": {Mode: Ohms, Value: 2e6}, "1.5 Mohm": {Mode: Ohms, Value: 1.5e6}, "2MΩ": {Mode: Ohms, Value: 2e6}, "2MOHM": {Mode: Ohms, Value: 2e6},
		"0.62V": {Mode: Diode, Value: 0.62}, "620mV": {Mode: Diode, Value: 0.62}, "0.62v": {Mode: Diode, Value: 0.62},
		"OL": {Over: true}, "o.l": {Over: true}, "0L": {Over: true},
	} {
		if got, err := ParseDisplay(text); err != nil || got != want {
			t.Errorf("%q: %+v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", " ", "k", "M", "V", "many", "-1", "1e3", "0x10", "Inf", "NaN", "1.2.3", "5000M", "12 34", "ȺM", "\x1b[31m"} {
		got, err := ParseDisplay(text)
		if err == nil || !strings.Contains(err.Error(), "nothing that a meter shows") {
			t.Errorf("%q: %+v, %v", text, got, err)
		}
	}
}

// A small m before ohms is taken for neither of the two that it may mean.
func TestMegaOrMilli(t *testing.T) {
	for text, want := range map[string]string{
		"2m": `"2m" may be megohm or milliohm: type 2M, or 0.002`, "300 mohm": `"300 mohm" may be megohm or milliohm: type 300M, or 0.3`, "1.5mΩ": "type 1.5M, or 0.0015", "2mOHM": "0.002",
	} {
		_, err := ParseDisplay(text)
		if !errors.Is(err, ErrMegaOrMilli) || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v", text, err)
		}
	}
}
