// Package standards holds what published standards say about the parts of a
// vehicle's wiring: the terminal numbers of DIN 72552 and the names of contact
// forms. Only facts, each with its source; nothing in it is measured.
package standards

import (
	"fmt"
	"slices"
	"strings"

	"bellout/mapping"
)

// TerminalKind says what a terminal is to the circuit.
type TerminalKind int

// The kinds of terminals: a positive supply; the way back to battery negative;
// the end that several outputs share; what goes to a consumer; one that stops
// the engine; a contact of a bare switch or relay; a relay's coil; a signal.
const (
	Feed TerminalKind = iota
	Return
	Common
	Load
	Kill
	Contact
	Coil
	Signal
)

var kindWords = [...]string{"feed", "return", "common", "load", "kill", "contact", "coil", "signal"}

// String gives the word of the reference table.
func (k TerminalKind) String() string {
	if k < 0 || int(k) >= len(kindWords) {
		return fmt.Sprintf("TerminalKind(%d)", int(k))
	}
	return kindWords[k]
}

// Terminal is one terminal number of DIN 72552.
type Terminal struct {
	Number  string
	Meaning string
	Kind    TerminalKind
	Older   []string // designations that it replaced
}

// Terminals lists the whole table, in the standard's order.
func Terminals() []Terminal { return slices.Clone(terminals) }

// FindTerminal looks a number up exactly as written.
func FindTerminal(number string) (Terminal, bool) {
	i := slices.IndexFunc(terminals, func(t Terminal) bool { return t.Number == number })
	if i < 0 {
		return Terminal{}, false
	}
	return terminals[i], true
}

// ParseTerminal reads what somebody types for a terminal: the number in any
// letter case. An older designation, or a number that the standard does not
// have, is answered in one sentence that says what to write.
func ParseTerminal(typed string) (Terminal, error) {
	s := mapping.Clean(typed, mapping.MaxName)
	if t, ok := FindTerminal(s); ok {
		return t, nil
	}
	for _, t := range terminals {
		if strings.EqualFold(t.Number, s) {
			return t, nil
		}
	}
	var now []string
	for _, t := range terminals {
		if slices.ContainsFunc(t.Older, func(o string) bool { return strings.EqualFold(o, s) }) {
			now = append(now, fmt.Sprintf("%s (%s)", t.Number, t.Meaning))
		}
	}
	if len(now) > 0 && s != "" {
		return Terminal{}, fmt.Errorf("%q is an older designation: write %s", s, strings.Join(now, " or "))
	}
	return Terminal{}, fmt.Errorf("%q is no terminal of DIN 72552: write one such as 56a, or leave it empty", s)
}
