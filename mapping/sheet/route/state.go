package route

import (
	"cmp"
	"fmt"
	"slices"
	"sort"
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

// newState reads a problem. Wires from the left column to the right one get a
// bare box in the middle to pass through. An error names what leads nowhere.
func newState(p Problem) (*state, error) {
	p.Boxes = slices.Clone(p.Boxes)
	s := &state{p: p}
	row := map[string]int{}
	var col []Column
	number := func(b Box) error {
		s.first = append(s.first, len(col))
		for _, r := range b.Rows {
			if _, twice := row[r.Name]; twice {
				return fmt.Errorf("two rows are named %q", r.Name)
			}
			if r.Height < 1 {
				return fmt.Errorf("row %q has no height", r.Name)
			}
			row[r.Name] = len(col)
			col = append(col, b.Column)
		}
		return nil
	}
	for _, b := range p.Boxes {
		if err := number(b); err != nil {
			return nil, err
		}
	}
	// ends are two rows and the wire that joins them there.
	type ends struct{ a, b, wire int }
	var links [2][]ends
	var middle []ends
	for i, w := range p.Wires {
		a, okA := row[w.From]
		b, okB := row[w.To]
		if !okA || !okB || a == b {
			return nil, fmt.Errorf("the wire from %q to %q leads nowhere", w.From, w.To)
		}
		if col[a] > col[b] {
			a, b = b, a
		}
		switch {
		case col[a] == Left && col[b] == Right:
			via := Box{Name: fmt.Sprintf("via %d", i), Column: Centre, Bare: true,
				Rows: []Row{{Name: fmt.Sprintf("via %d", i), Height: 1}}}
			s.p.Boxes = append(s.p.Boxes, via)
			if err := number(via); err != nil {
				return nil, err
			}
			v := len(col) - 1
			links[0] = append(links[0], ends{a, v, i})
			links[1] = append(links[1], ends{v, b, i})
		case col[a] == Centre && col[b] == Centre:
			middle = append(middle, ends{a, b, i})
		case col[b] == Right:
			links[1] = append(links[1], ends{a, b, i})
		default:
			links[0] = append(links[0], ends{a, b, i})
		}
	}
	// A wire within the middle goes where one of its rows already has wires,
	// so that it becomes part of that net; else where there are fewer.
	uses := func(channel, r int) bool {
		return slices.ContainsFunc(links[channel], func(e ends) bool { return e.a == r || e.b == r })
	}
	for _, e := range middle {
		c := 0
		l, r := uses(0, e.a) || uses(0, e.b), uses(1, e.a) || uses(1, e.b)
		if r && !l || l == r && len(links[1]) < len(links[0]) {
			c = 1
		}
		links[c] = append(links[c], e)
	}
	for c, es := range links {
		groups := map[int][]ends{}
		root := map[int]int{}
		var find func(int) int
		find = func(x int) int {
			if q, ok := root[x]; ok && q != x {
				return find(q)
			}
			return x
		}
		for _, e := range es {
			root[max(find(e.a), find(e.b))] = min(find(e.a), find(e.b))
		}
		for _, e := range es {
			groups[find(e.a)] = append(groups[find(e.a)], e)
		}
		keys := make([]int, 0, len(groups))
		for k := range groups {
			keys = append(keys, k)
		}
		sort.Ints(keys)
		for _, k := range keys {
			n := net{channel: c}
			for _, e := range groups[k] {
				n.wires = append(n.wires, e.wire)
				for _, r := range []int{e.a, e.b} {
					if !slices.Contains(n.rows, r) {
						n.rows = append(n.rows, r)
					}
				}
			}
			slices.Sort(n.rows)
			for _, r := range n.rows {
				n.right = append(n.right, col[r] == Right || col[r] == Centre && c == 0)
			}
			s.order[c] = append(s.order[c], len(s.nets))
			s.nets = append(s.nets, n)
		}
	}
	for i, b := range s.p.Boxes {
		s.column[b.Column] = append(s.column[b.Column], i)
		rows := make([]int, len(b.Rows))
		for k := range rows {
			rows[k] = k
		}
		s.rows = append(s.rows, rows)
	}
	s.y = make([]float64, len(col))
	s.place()
	return s, nil
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
