package simbench

import (
	"math/rand/v2"

	"bellout/mapping"
)

// Score is one play, judged.
//
// A pair is predicted by the closure of the map's links. It depends on an
// unresolved entry when adding those that hold would change the prediction.
//
// A claim is a pair of ends in one setting with at most two switches off rest.
// A pair in a setting is covered when an entry of the map's `unresolved` names
// that pair and holds in that setting.
type Score struct {
	Seed          int64
	Ends          int
	Switches      int
	Depth         int
	Cost          Cost
	Grid          float64 // seconds of the textbook grid
	Bits          float64 // size of the map
	Confidence    float64
	Stopped       bool // the solver stopped by itself, within the limits
	Settings      int  // settings judged
	WrongSettings int  // of them, with a pair predicted wrongly, covered or not
	WrongInReach  int  // of them, those that the hands can make with these leads
	WrongSure     int  // pairs in settings predicted wrongly and not covered
	SureInReach   int  // of them, in settings that the hands can make
	WrongFree     int  // of them, pairs that depend on no unresolved entry either
	FirstWrong    string
	Claims        int
	Unresolved    int // claims covered
	Proved        int // claims graded proved, and links graded proved
	ProvedFalse   int // of them, false
	FirstFalse    string
	Slowest       float64   // seconds the solver took for its slowest proposal
	Thinking      []float64 // seconds for each proposal, its answer taken in
	Mishaps       []Mishap
	Err           error
}

// Wrong tells whether the map predicts a wrong net in any setting judged.
func (s Score) Wrong() bool { return s.WrongSettings > 0 }

// RatioToGrid is bench time over the grid's.
func (s Score) RatioToGrid() float64 { return s.Cost.Seconds / s.Grid }

// leverOf is a setting as position numbers.
func leverOf(p mapping.Pod, s mapping.Setting) []int {
	out := make([]int, len(p.Switches))
	for k, sw := range p.Switches {
		out[k] = positionOf(sw, s)
	}
	return out
}

// compiled is a link with its conditions as masks, one a switch.
type compiled struct {
	a, b   int
	always bool
	when   [][]uint32
}

// compile turns links into masks over positions; a name that the pod has not
// makes a condition that never holds.
func compile(p mapping.Pod, links []mapping.Link) []compiled {
	end := map[mapping.EndID]int{}
	for i, e := range p.Ends {
		end[e.ID] = i
	}
	var out []compiled
	for _, l := range links {
		a, okA := end[l.A]
		b, okB := end[l.B]
		if !okA || !okB {
			continue
		}
		c := compiled{a: a, b: b, always: len(l.When) == 0}
		for _, cond := range l.When {
			row := make([]uint32, len(p.Switches))
			for k := range row {
				row[k] = ^uint32(0)
			}
			for _, t := range cond {
				known := false
				for k, sw := range p.Switches {
					if sw.Name != t.Switch {
						continue
					}
					known = true
					var mask uint32
					for q, name := range sw.Positions {
						for _, want := range t.Positions {
							if name == want {
								mask |= 1 << uint(q)
							}
						}
					}
					row[k] &= mask
				}
				if !known && len(row) > 0 {
					row[0] = 0
				}
			}
			c.when = append(c.when, row)
		}
		out = append(out, c)
	}
	return out
}

func (c compiled) holds(lever []int) bool {
	if c.always {
		return true
	}
	for _, row := range c.when {
		ok := true
		for k, q := range lever {
			if row[k]>>uint(q)&1 == 0 {
				ok = false
				break
			}
		}
		if ok {
			return true
		}
	}
	return false
}

// predict gives each end's net number by the links that hold.
func predict(p mapping.Pod, links []mapping.Link, lever []int) []int {
	return closure(len(p.Ends), compile(p, links), lever)
}

func closure(n int, links []compiled, lever []int) []int {
	net := make([]int, n)
	for i := range net {
		net[i] = i
	}
	for _, l := range links {
		if !l.holds(lever) || net[l.a] == net[l.b] {
			continue
		}
		from, to := net[l.a], net[l.b]
		for i := range net {
			if net[i] == from {
				net[i] = to
			}
		}
	}
	return net
}

// mostSettings is how many settings are judged one by one; larger pods are
// judged in every setting with up to three switches off rest and in 2,000 more
// drawn at random.
const mostSettings = 5000

// Judged lists the settings in which a pod is judged.
func Judged(w *World) [][]int {
	if w.SettingCount() <= mostSettings {
		return w.Settings()
	}
	rest := w.Lever(nil)
	out := nearRest(w.Pod, rest, 3)
	r := rand.New(rand.NewPCG(uint64(w.Seed), 0x736574))
	for range 2000 {
		at := make([]int, len(rest))
		for k, sw := range w.Pod.Switches {
			at[k] = r.IntN(len(sw.Positions))
		}
		out = append(out, at)
	}
	return out
}

// nearRest lists the settings with at most off switches away from rest.
func nearRest(p mapping.Pod, rest []int, off int) [][]int {
	var out [][]int
	var walk func(k, left int, at []int)
	walk = func(k, left int, at []int) {
		if k == len(rest) {
			out = append(out, append([]int(nil), at...))
			return
		}
		for q := range p.Switches[k].Positions {
			cost := 1
			if q == rest[k] {
				cost = 0
			}
			if cost <= left {
				at[k] = q
				walk(k+1, left-cost, at)
			}
		}
		at[k] = rest[k]
	}
	walk(0, off, append([]int(nil), rest...))
	return out
}
