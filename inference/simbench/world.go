package simbench

import (
	"fmt"
	"math"
	"strings"

	"bellout/mapping"
)

// Contact is one piece of metal: it joins points A and B while switch Switch
// stands in a position of Mask (bit k: position k). Switch -1 is a join that is
// always there. Points below the number of ends are ends, the others hidden
// junctions with no wire brought out.
type Contact struct {
	A, B   int
	Switch int
	Mask   uint32
}

// World is an invented pod together with what it really is.
type World struct {
	Pod      mapping.Pod
	Seed     int64
	Points   int       // ends and hidden junctions
	Contacts []Contact // the network itself
	Depth    int       // the most switches in series in one contact chain
	Kind     string    // how that chain is made, for printing
	Truth    []string  // one line a contact, for printing

	endAt map[mapping.EndID]int
}

// index fills the look-up tables after the pod is complete.
func (w *World) index() {
	w.endAt = make(map[mapping.EndID]int, len(w.Pod.Ends))
	for i, e := range w.Pod.Ends {
		w.endAt[e.ID] = i
	}
}

// Lever turns a setting into one position number a switch, in the pod's order.
func (w *World) Lever(s mapping.Setting) []int {
	out := make([]int, len(w.Pod.Switches))
	for k, sw := range w.Pod.Switches {
		out[k] = positionOf(sw, s)
	}
	return out
}

// positionOf is the number of the position in which a switch stands: as named,
// else at rest.
func positionOf(sw mapping.Switch, s mapping.Setting) int {
	name, ok := s[sw.Name]
	if !ok {
		name = sw.Rest
	}
	for i, p := range sw.Positions {
		if p == name {
			return i
		}
	}
	panic(fmt.Sprintf("simbench: switch %q has no position %q", sw.Name, name))
}

// NetsAt gives the net number of every end with the switches in the given
// positions; two ends are joined when their numbers are equal.
func (w *World) NetsAt(lever []int) []int {
	parent := make([]int, w.Points)
	for i := range parent {
		parent[i] = i
	}
	find := func(x int) int {
		for parent[x] != x {
			parent[x] = parent[parent[x]]
			x = parent[x]
		}
		return x
	}
	for _, c := range w.Contacts {
		if c.Switch < 0 || c.Mask>>uint(lever[c.Switch])&1 == 1 {
			parent[find(c.A)] = find(c.B)
		}
	}
	out := make([]int, len(w.Pod.Ends))
	for i := range out {
		out[i] = find(i)
	}
	return out
}

// Joined is the truth: do two ends share a net in this setting?
func (w *World) Joined(s mapping.Setting, a, b mapping.EndID) bool {
	nets := w.NetsAt(w.Lever(s))
	return nets[w.endAt[a]] == nets[w.endAt[b]]
}

// touching is the truth for bunches: does any red end share a net with any
// black end?
func (w *World) touching(lever []int, red, black []mapping.EndID) bool {
	nets := w.NetsAt(lever)
	for _, a := range red {
		for _, b := range black {
			if nets[w.endAt[a]] == nets[w.endAt[b]] {
				return true
			}
		}
	}
	return false
}

// SettingCount is the number of settings, capped at one million.
func (w *World) SettingCount() int { return settingCount(w.Pod) }

func settingCount(p mapping.Pod) int {
	n := 1
	for _, sw := range p.Switches {
		n *= len(sw.Positions)
		if n > 1_000_000 {
			return 1_000_000
		}
	}
	return n
}

// Settings lists every setting as position numbers, the first switch slowest.
func (w *World) Settings() [][]int {
	out := [][]int{{}}
	for _, sw := range w.Pod.Switches {
		var next [][]int
		for _, head := range out {
			for q := range sw.Positions {
				next = append(next, append(append([]int(nil), head...), q))
			}
		}
		out = next
	}
	return out
}

// Setting names the positions given by number.
func (w *World) Setting(lever []int) mapping.Setting {
	s := make(mapping.Setting, len(lever))
	for k, sw := range w.Pod.Switches {
		s[sw.Name] = sw.Positions[lever[k]]
	}
	return s
}

// Bits is the size of the map: log2 of C(M, k), where M is the pairs of ends
// times one more than the positions of all switches, and k counts fixed links
// and, for each contact, the positions in which it is closed.
func (w *World) Bits() float64 {
	n := len(w.Pod.Ends)
	positions := 0
	for _, sw := range w.Pod.Switches {
		positions += len(sw.Positions)
	}
	m := float64(n*(n-1)/2) * float64(1+positions)
	k := 0.0
	for _, c := range w.Contacts {
		if c.Switch < 0 {
			k++
			continue
		}
		for mask := c.Mask; mask != 0; mask &= mask - 1 {
			k++
		}
	}
	k = min(k, m)
	lg := func(x float64) float64 { v, _ := math.Lgamma(x + 1); return v }
	return (lg(m) - lg(k) - lg(m-k)) / math.Ln2
}

// pointName names an end by its flag, a hidden junction by # and a letter.
func (w *World) pointName(p int) string {
	if p < len(w.Pod.Ends) {
		return string(w.Pod.Ends[p].ID)
	}
	return "#" + string(rune('a'+p-len(w.Pod.Ends)))
}

// describe writes the truth down, one line a contact.
func (w *World) describe() {
	w.Truth = nil
	for _, c := range w.Contacts {
		join := w.pointName(c.A) + "+" + w.pointName(c.B)
		if c.Switch < 0 {
			w.Truth = append(w.Truth, "always: "+join)
			continue
		}
		sw := w.Pod.Switches[c.Switch]
		var at []string
		for q, p := range sw.Positions {
			if c.Mask>>uint(q)&1 == 1 {
				at = append(at, string(p))
			}
		}
		w.Truth = append(w.Truth, fmt.Sprintf("%s %s: %s", sw.Name, strings.Join(at, "/"), join))
	}
}

// String prints a world so that it can be read and rebuilt by hand.
func (w *World) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s seed %d, %d ends, depth %d %s\n", w.Pod.Name, w.Seed, len(w.Pod.Ends), w.Depth, w.Kind)
	for _, sw := range w.Pod.Switches {
		kind := "latching"
		if sw.Momentary {
			kind = "momentary"
		}
		fmt.Fprintf(&b, "  sw %s %s rest=%s %v legend=%q\n", sw.Name, kind, sw.Rest, sw.Positions, sw.Legend)
	}
	for _, line := range w.Truth {
		fmt.Fprintf(&b, "  %s\n", line)
	}
	return b.String()
}
