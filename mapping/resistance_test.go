package mapping

import "testing"

func TestResistance(t *testing.T) {
	third := 0.1 // three times of it is 0.30000000000000004
	for ohms, want := range map[float64]string{
		0: "0 ohm", 0.3: "0.3 ohm", 37.7: "37.7 ohm", 120: "120 ohm", 999.9: "999.9 ohm", 1000: "1 kohm",
		4700: "4.7 kohm", 4687.2: "4.6872 kohm", 12345678: "12.345678 Mohm", 2e6: "2 Mohm", 1e13: "10000000 Mohm",
		third * 3: "0.3 ohm", 0.00001: "0.00001 ohm",
	} {
		if got := Resistance(ohms); got != want {
			t.Errorf("%v: %q, want %q", ohms, got, want)
		}
	}
}
