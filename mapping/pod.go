package mapping

import (
	"fmt"
	"slices"
)

// EndID names an end as its flag or cavity does: "3", "A7", "BODY".
type EndID string

// SwitchID is the name of a switch, "dip".
type SwitchID string

// PositionID is the name of one position of a switch, "low".
type PositionID string

// EndKind says what a probe touches at an end.
type EndKind int

// The kinds of ends.
const (
	Wire EndKind = iota
	Body
)

// String gives the word used in a pod description.
func (k EndKind) String() string {
	if k == Body {
		return "body"
	}
	return "wire"
}

// Colour is one colour letter code of IEC 60757, upper case ("BU"), or empty
// where nobody has said.
type Colour string

// End is what a probe can touch. Base and tracer are kept apart, since the
// joined code of IEC 60757 loses which is which.
type End struct {
	ID     EndID
	Kind   EndKind
	Base   Colour
	Tracer Colour
	Cavity string
}

// Switch is what moves. Rest is where it stands untouched; a momentary switch
// springs back there. Positions are in the order in which the lever meets them.
type Switch struct {
	Name      SwitchID
	Positions []PositionID
	Rest      PositionID
	Momentary bool
	Legend    string
}

// Index gives the place of a position in the lever's order, or -1.
func (s Switch) Index(p PositionID) int { return slices.Index(s.Positions, p) }

// Pod is anything with ends to find out.
type Pod struct {
	Name     string
	Ends     []End
	Switches []Switch
}

// End finds an end by its name.
func (p Pod) End(id EndID) (End, bool) {
	for _, e := range p.Ends {
		if e.ID == id {
			return e, true
		}
	}
	return End{}, false
}

// Switch finds a switch by its name.
func (p Pod) Switch(name SwitchID) (Switch, bool) {
	for _, s := range p.Switches {
		if s.Name == name {
			return s, true
		}
	}
	return Switch{}, false
}

// Rest is the setting in which every switch stands untouched.
func (p Pod) Rest() Setting {
	s := make(Setting, len(p.Switches))
	for _, sw := range p.Switches {
		s[sw.Name] = sw.Rest
	}
	return s
}

// What one pod may have: twice the largest pod that the trade knows. A set of
// ends, and a set of positions of all switches together, each fit in a word of
// 64 bits, in which the engine keeps them.
const (
	MaxEnds         = 48
	MaxSwitches     = 16
	MaxPositions    = 8  // of one switch
	MaxAllPositions = 64 // of all switches together
)

// Validate says in one sentence what is wrong with a pod and what to do, or
// returns nil.
func (p Pod) Validate() error {
	if err := p.validateForm(); err != nil {
		return err
	}
	for _, e := range p.Ends {
		for _, c := range []Colour{e.Base, e.Tracer} {
			if c != "" && c.Order() == 0 {
				return fmt.Errorf("end %q has the colour %q, which is no code of IEC 60757: use %s", Clean(string(e.ID), MaxName), Clean(string(c), MaxName), codeList())
			}
		}
	}
	return nil
}

// validateForm looks at everything but colours: nothing is computed from those.
func (p Pod) validateForm() error {
	if len(p.Ends) < 2 {
		return fmt.Errorf("pod %q has %d end(s): name at least two", p.Name, len(p.Ends))
	}
	if len(p.Ends) > MaxEnds {
		return fmt.Errorf("pod %q has %d ends: split it, %d is the most", p.Name, len(p.Ends), MaxEnds)
	}
	if len(p.Switches) > MaxSwitches {
		return fmt.Errorf("pod %q has %d switches: split it, %d is the most", p.Name, len(p.Switches), MaxSwitches)
	}
	seen := map[EndID]bool{}
	for _, e := range p.Ends {
		if e.ID == "" {
			return fmt.Errorf("pod %q has an end with no name: give each end the number on its flag", p.Name)
		}
		if seen[e.ID] {
			return fmt.Errorf("pod %q has two ends named %q: give each its own flag", p.Name, e.ID)
		}
		seen[e.ID] = true
	}
	names := map[SwitchID]bool{}
	positions := 0
	for _, s := range p.Switches {
		if s.Name == "" {
			return fmt.Errorf("pod %q has a switch with no name: call it what its legend shows", p.Name)
		}
		if names[s.Name] {
			return fmt.Errorf("pod %q has two switches named %q: rename one", p.Name, s.Name)
		}
		names[s.Name] = true
		if err := s.Validate(); err != nil {
			return err
		}
		positions += len(s.Positions)
	}
	if positions > MaxAllPositions {
		return fmt.Errorf("pod %q has %d positions in all: split it, %d for all its switches together is the most", p.Name, positions, MaxAllPositions)
	}
	return nil
}

// Validate says in one sentence what is wrong with a switch and what to do, or
// returns nil.
func (s Switch) Validate() error {
	if len(s.Positions) < 2 {
		return fmt.Errorf("switch %q has %d position(s): name at least two, rest included", s.Name, len(s.Positions))
	}
	if len(s.Positions) > MaxPositions {
		return fmt.Errorf("switch %q has %d positions: %d is the most", s.Name, len(s.Positions), MaxPositions)
	}
	seen := map[PositionID]bool{}
	for _, q := range s.Positions {
		if q == "" {
			return fmt.Errorf("switch %q has a position with no name: name it", s.Name)
		}
		if seen[q] {
			return fmt.Errorf("switch %q has two positions named %q: rename one", s.Name, q)
		}
		seen[q] = true
	}
	if !seen[s.Rest] {
		return fmt.Errorf("switch %q rests at %q, which is none of its positions: name one of them", s.Name, s.Rest)
	}
	return nil
}
