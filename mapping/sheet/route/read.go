package route

import (
	"fmt"
	"maps"
	"slices"
)

// ends are two rows and the wire that joins them there.
type ends struct{ a, b, wire int }

// reader numbers the rows of a problem and finds a channel for each wire.
type reader struct {
	s     *state
	row   map[string]int // row by name
	col   []Column       // of a row
	links [2][]ends      // of a channel
}

// newState reads a problem. Wires from the left column to the right one get a
// bare box in the middle to pass through. An error names what leads nowhere.
func newState(p Problem) (*state, error) {
	p.Boxes = slices.Clone(p.Boxes)
	r := &reader{s: &state{p: p}, row: map[string]int{}}
	for _, b := range p.Boxes {
		if err := r.number(b); err != nil {
			return nil, err
		}
	}
	if err := r.wires(); err != nil {
		return nil, err
	}
	for c := range r.links {
		r.nets(c)
	}
	s := r.s
	for i, b := range s.p.Boxes {
		s.column[b.Column] = append(s.column[b.Column], i)
		rows := make([]int, len(b.Rows))
		for k := range rows {
			rows[k] = k
		}
		s.rows = append(s.rows, rows)
	}
	s.y = make([]float64, len(r.col))
	s.place()
	return s, nil
}

// number gives the rows of a box their numbers.
func (r *reader) number(b Box) error {
	r.s.first = append(r.s.first, len(r.col))
	for _, x := range b.Rows {
		if _, twice := r.row[x.Name]; twice {
			return fmt.Errorf("two rows are named %q", x.Name)
		}
		if x.Height < 1 {
			return fmt.Errorf("row %q has no height", x.Name)
		}
		r.row[x.Name] = len(r.col)
		r.col = append(r.col, b.Column)
	}
	return nil
}

// wires puts each wire into a channel, those that cross the middle into both.
func (r *reader) wires() error {
	var middle []ends
	for i, w := range r.s.p.Wires {
		a, okA := r.row[w.From]
		b, okB := r.row[w.To]
		if !okA || !okB || a == b {
			return fmt.Errorf("the wire from %q to %q leads nowhere", w.From, w.To)
		}
		if r.col[a] > r.col[b] {
			a, b = b, a
		}
		switch {
		case r.col[a] == Left && r.col[b] == Right:
			via := Box{Name: fmt.Sprintf("via %d", i), Column: Centre, Bare: true,
				Rows: []Row{{Name: fmt.Sprintf("via %d", i), Height: 1}}}
			r.s.p.Boxes = append(r.s.p.Boxes, via)
			if err := r.number(via); err != nil {
				return err
			}
			v := len(r.col) - 1
			r.links[0] = append(r.links[0], ends{a, v, i})
			r.links[1] = append(r.links[1], ends{v, b, i})
		case r.col[a] == Centre && r.col[b] == Centre:
			middle = append(middle, ends{a, b, i})
		case r.col[b] == Right:
			r.links[1] = append(r.links[1], ends{a, b, i})
		default:
			r.links[0] = append(r.links[0], ends{a, b, i})
		}
	}
	for _, e := range middle {
		c := r.channel(e)
		r.links[c] = append(r.links[c], e)
	}
	return nil
}

// channel is where a wire within the middle goes: where one of its rows already
// has wires, so that it becomes part of that net; else where there are fewer.
func (r *reader) channel(e ends) int {
	uses := func(channel int) bool {
		return slices.ContainsFunc(r.links[channel], func(o ends) bool {
			return o.a == e.a || o.b == e.a || o.a == e.b || o.b == e.b
		})
	}
	left, right := uses(0), uses(1)
	if right && !left || left == right && len(r.links[1]) < len(r.links[0]) {
		return 1
	}
	return 0
}

// nets joins the wires of a channel that share rows.
func (r *reader) nets(channel int) {
	root := map[int]int{}
	var find func(int) int
	find = func(x int) int {
		if q, ok := root[x]; ok && q != x {
			return find(q)
		}
		return x
	}
	for _, e := range r.links[channel] {
		root[max(find(e.a), find(e.b))] = min(find(e.a), find(e.b))
	}
	groups := map[int][]ends{}
	for _, e := range r.links[channel] {
		groups[find(e.a)] = append(groups[find(e.a)], e)
	}
	s := r.s
	for _, k := range slices.Sorted(maps.Keys(groups)) {
		n := net{channel: channel}
		for _, e := range groups[k] {
			n.wires = append(n.wires, e.wire)
			for _, x := range []int{e.a, e.b} {
				if !slices.Contains(n.rows, x) {
					n.rows = append(n.rows, x)
				}
			}
		}
		slices.Sort(n.rows)
		for _, x := range n.rows {
			n.right = append(n.right, r.col[x] == Right || r.col[x] == Centre && channel == 0)
		}
		s.order[channel] = append(s.order[channel], len(s.nets))
		s.nets = append(s.nets, n)
	}
}
