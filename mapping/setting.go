package mapping

import (
	"maps"
	"slices"
)

// Setting is where every switch of a pod stands. A switch that is not named
// was not known when the setting was written down: it stood at rest.
type Setting map[SwitchID]PositionID

// Clone copies a setting.
func (s Setting) Clone() Setting { return maps.Clone(s) }

// With is the same setting with one switch moved.
func (s Setting) With(name SwitchID, p PositionID) Setting {
	c := make(Setting, len(s)+1)
	maps.Copy(c, s)
	c[name] = p
	return c
}

// At says where a switch stands: as named, else at its rest.
func (s Setting) At(sw Switch) PositionID {
	if p, ok := s[sw.Name]; ok {
		return p
	}
	return sw.Rest
}

// Full names the position of every switch of a pod.
func (s Setting) Full(p Pod) Setting {
	out := make(Setting, len(p.Switches))
	for _, sw := range p.Switches {
		out[sw.Name] = s.At(sw)
	}
	return out
}

// Term holds while one switch stands in any of the listed positions, which
// are kept in the lever's order.
type Term struct {
	Switch    SwitchID
	Positions []PositionID
}

// Condition holds when each of its terms holds; without terms it always does.
// Terms are kept in the pod's order of switches.
type Condition []Term

// Equal tells whether two conditions say the same in the same words.
func (c Condition) Equal(o Condition) bool {
	return slices.EqualFunc(c, o, func(x, y Term) bool {
		return x.Switch == y.Switch && slices.Equal(x.Positions, y.Positions)
	})
}

// Holds tells whether the condition holds in a setting of the pod.
func (c Condition) Holds(p Pod, s Setting) bool {
	for _, t := range c {
		sw, ok := p.Switch(t.Switch)
		if !ok {
			return false
		}
		at := s.At(sw)
		found := false
		for _, q := range t.Positions {
			found = found || q == at
		}
		if !found {
			return false
		}
	}
	return true
}
