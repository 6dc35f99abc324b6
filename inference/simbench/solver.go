package simbench

import "bellout/mapping"

// Solver is how an engine is met: it proposes sweeps, takes readings and says
// what it concludes. Next is false when it wants to stop. One goroutine uses a
// solver at a time.
type Solver interface {
	Next(bench mapping.Bench) (mapping.Sweep, bool)
	Add(readings ...mapping.Reading)
	Map() mapping.Map
	Verdict(s mapping.Setting, a, b mapping.EndID) (joined bool, grade mapping.Grade)
	Confidence() float64
}

// Naive is the textbook grid taken at its word: every pair, one switch at a
// time, each reading believed. It proves that the scoring works.
type Naive struct {
	pod    mapping.Pod
	todo   []mapping.Sweep
	closed map[naiveCell]bool
}

// naiveCell is a pair with one switch (-1: none) in one position.
type naiveCell struct{ a, b, sw, pos int }

// NewNaive begins the grid of a pod.
func NewNaive(p mapping.Pod) *Naive {
	return &Naive{pod: p, todo: Grid(p), closed: map[naiveCell]bool{}}
}

// Next gives the next pair of the grid.
func (n *Naive) Next(mapping.Bench) (mapping.Sweep, bool) {
	if len(n.todo) == 0 {
		return mapping.Sweep{}, false
	}
	s := n.todo[0]
	n.todo = n.todo[1:]
	return s, true
}

// Add believes each reading.
func (n *Naive) Add(readings ...mapping.Reading) {
	for _, r := range readings {
		if len(r.Red) != 1 || len(r.Black) != 1 || r.Control {
			continue
		}
		c := naiveCell{a: n.at(r.Black[0]), b: n.at(r.Red[0]), sw: -1}
		for k, sw := range n.pod.Switches {
			if q := positionOf(sw, r.Setting); q != positionOf(sw, nil) {
				c.sw, c.pos = k, q
			}
		}
		n.closed[c] = r.Outcome == mapping.Sounded
	}
}

func (n *Naive) at(id mapping.EndID) int {
	for i, e := range n.pod.Ends {
		if e.ID == id {
			return i
		}
	}
	return -1
}

// Map reads the links off the table: a pair joined at rest holds while no
// switch that opens it is moved, any other pair while a switch that joins it
// stands in a joining position.
func (n *Naive) Map() mapping.Map {
	var m mapping.Map
	for i := range n.pod.Ends {
		for j := i + 1; j < len(n.pod.Ends); j++ {
			rest := n.closed[naiveCell{a: i, b: j, sw: -1}]
			l := mapping.Link{A: n.pod.Ends[i].ID, B: n.pod.Ends[j].ID, Grade: mapping.Likely}
			var all mapping.Condition
			for k, sw := range n.pod.Switches {
				var on []mapping.PositionID
				for q, name := range sw.Positions {
					if q == positionOf(sw, nil) {
						if rest {
							on = append(on, name)
						}
					} else if n.closed[naiveCell{i, j, k, q}] {
						on = append(on, name)
					}
				}
				term := mapping.Term{Switch: sw.Name, Positions: on}
				switch {
				case rest && len(on) < len(sw.Positions):
					all = append(all, term)
				case !rest && len(on) > 0:
					l.When = append(l.When, mapping.Condition{term})
				}
			}
			if rest {
				if len(all) > 0 {
					l.When = []mapping.Condition{all}
				}
				m.Links = append(m.Links, l)
			} else if len(l.When) > 0 {
				m.Links = append(m.Links, l)
			}
		}
	}
	return m
}

// Verdict says what the map predicts, as likely.
func (n *Naive) Verdict(s mapping.Setting, a, b mapping.EndID) (bool, mapping.Grade) {
	nets := predict(n.pod, n.Map().Links, leverOf(n.pod, s))
	return nets[n.at(a)] == nets[n.at(b)], mapping.Likely
}

// Confidence of a grid taken at its word is nothing to speak of.
func (n *Naive) Confidence() float64 { return 0.5 }
