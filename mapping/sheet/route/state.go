package route

import (
	"cmp"
	"slices"
)

// state is a drawing in the making: everything by number.
type state struct {
	p      Problem
	column [3][]int // boxes of a column, from the top
	rows   [][]int  // rows of a box, from the top, as numbers of its own rows
	first  []int    // number of a box's first row among all rows
	y      []float64
	nets   []net
	order  [2][]int // nets of a channel, from its left side
	height float64
	spans  []span // used by crossings
}

// net is a net by row numbers; right tells for each on which side it leaves.
type net struct {
	channel int
	rows    []int
	right   []bool
	wires   []int
	top     float64
	bottom  float64
}

// tall is the height of a column in units.
func (s *state) tall(c int) int {
	h := 0
	for k, b := range s.column[c] {
		if k > 0 {
			h += s.p.Gap
		}
		h += s.boxHeight(b)
	}
	return h
}

func (s *state) boxHeight(b int) int {
	x := s.p.Boxes[b]
	h := x.Head + x.Foot
	for _, r := range x.Rows {
		h += r.Height
	}
	return h
}

// top is where a column begins: the shorter ones stand in the middle.
func (s *state) top(c int) float64 {
	most := 0
	for k := range s.column {
		most = max(most, s.tall(k))
	}
	t := float64((most - s.tall(c)) / 2)
	if Column(c) == Centre {
		t += 0.5
	}
	return t
}

// place reckons the height of every row and the span of every net.
func (s *state) place() {
	s.height = 0
	for c := range s.column {
		at := s.top(c)
		for k, b := range s.column[c] {
			if k > 0 {
				at += float64(s.p.Gap)
			}
			at += float64(s.p.Boxes[b].Head)
			for _, r := range s.rows[b] {
				s.y[s.first[b]+r] = at + 0.5
				at += float64(s.p.Boxes[b].Rows[r].Height)
			}
			at += float64(s.p.Boxes[b].Foot)
		}
		s.height = max(s.height, at)
	}
	for i := range s.nets {
		n := &s.nets[i]
		n.top, n.bottom = s.y[n.rows[0]], s.y[n.rows[0]]
		for _, r := range n.rows[1:] {
			n.top, n.bottom = min(n.top, s.y[r]), max(n.bottom, s.y[r])
		}
	}
}

// crossings counts where a branch of one net passes the track of another: a
// branch to the right passes the tracks that come after its own, one to the
// left those before.
func (s *state) crossings() int {
	count := 0
	for _, order := range s.order {
		s.spans = s.spans[:0]
		for _, n := range order {
			s.spans = append(s.spans, span{s.nets[n].top, s.nets[n].bottom})
		}
		for i, n := range order {
			a := &s.nets[n]
			for k, r := range a.rows {
				y := s.y[r]
				passed := s.spans[:i]
				if a.right[k] {
					passed = s.spans[i+1:]
				}
				for _, b := range passed {
					if y > b.top && y < b.bottom {
						count++
					}
				}
			}
		}
	}
	return count
}

// span is the stretch of a track that a net takes up.
type span struct{ top, bottom float64 }

// cost weighs crossings far above length of wire.
func (s *state) cost() float64 {
	length := 0.0
	for i := range s.nets {
		length += s.nets[i].bottom - s.nets[i].top
	}
	return 10*float64(s.crossings()) + 0.05*length
}

// sortBy orders items by a value, keeping equals as they are.
func sortBy(items []int, value func(int) float64) {
	slices.SortStableFunc(items, func(a, b int) int { return cmp.Compare(value(a), value(b)) })
}
