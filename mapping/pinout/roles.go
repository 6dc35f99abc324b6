package pinout

import (
	"slices"
	"strings"
	"unicode"

	"bellout/mapping"
)

// role is what a switch is for, as far as its name or legend says.
type role int

const (
	noRole role = iota
	keyRole
	killRole
	lightsRole
	turnRole
	dipRole
	hazardRole
	flashRole
	hornRole
	startRole
	brakeRole
	clutchRole
)

// rank orders roles by how much they choose: a key or a kill switch lets
// through what others choose.
func (r role) rank() int {
	switch r {
	case noRole:
		return 1
	case keyRole, killRole:
		return 0
	case lightsRole:
		return 1
	case turnRole, dipRole, hazardRole:
		return 2
	}
	return 3
}

// roleWords are the words by which the trade names switches (common practice).
// The first role that fits a name wins, so that "engine start" is a start and
// "headlight dip" a dip switch.
var roleWords = []struct {
	role  role
	words []string
}{
	{hazardRole, []string{"hazard", "hazards"}},
	{hornRole, []string{"horn", "hooter", "trumpet"}},
	{startRole, []string{"start", "starter", "crank"}},
	{brakeRole, []string{"brake"}},
	{clutchRole, []string{"clutch"}},
	{killRole, []string{"kill", "engine", "cutoff", "stop"}},
	{flashRole, []string{"flash", "pass", "passing", "flasher"}},
	{dipRole, []string{"dip", "dipper", "dimmer", "beam", "hilo"}},
	{turnRole, []string{"turn", "indicator", "indicators", "blinker", "blinkers", "signal", "signals", "winkers"}},
	{keyRole, []string{"key", "ignition", "barrel", "ign"}},
	{lightsRole, []string{"light", "lights", "lamp", "lamps", "headlight", "headlamp", "lighting"}},
}

func roleOf(sw mapping.Switch) role {
	for _, text := range []string{string(sw.Name), sw.Legend} {
		w := words(text)
		if slices.Contains(w, "stop") && (slices.Contains(w, "lamp") || slices.Contains(w, "light")) {
			return brakeRole // in some mouths the brake lamp is the stop lamp
		}
		for _, r := range roleWords {
			for _, x := range r.words {
				if slices.Contains(w, x) {
					return r.role
				}
			}
		}
	}
	return noRole
}

func words(text string) []string {
	return strings.FieldsFunc(strings.ToLower(mapping.Clean(text, mapping.MaxText)), func(r rune) bool { return !unicode.IsLetter(r) })
}

// What positions are called.
var (
	leftWords  = []string{"left", "l"}
	rightWords = []string{"right", "r"}
	mainWords  = []string{"main", "high", "hi", "full"}
	lowWords   = []string{"low", "lo", "dip", "dipped"}
	parkWords  = []string{"park", "parking", "p", "side", "tail", "position", "pos"}
	headWords  = []string{"on", "head", "headlight", "headlamp", "h", "lights"}
	runWords   = []string{"run", "on"}
	offWords   = []string{"off", "stop", "lock"}
)

// says tells whether any of the positions is called by one of the words.
func says(at []mapping.PositionID, list []string) bool {
	for _, q := range at {
		for _, w := range words(string(q)) {
			if slices.Contains(list, w) {
				return true
			}
		}
	}
	return false
}
