package sheet

import (
	"math/rand/v2"
	"slices"

	"bellout/mapping/sheet/route"
)

// Weights of the search for columns: a wire that must pass through the middle,
// a unit of height of the tallest column.
const (
	acrossWeight = 2.5
	heightWeight = 0.6
	sidesStarts  = 80
)

// sides proposes columns for the boxes, the best first, at most so many:
// modules left or right, devices of the trunk anywhere, the rest in the middle;
// few wires from the far left to the far right, columns of a height. Height
// gives a box's height in a column.
func (s *scheme) sides(height func(x schemeBox, c route.Column) int, most int) [][]route.Column {
	q := newSideSearch(s, height)
	type found struct {
		cols []route.Column
		cost float64
	}
	var all []found
	rng := rand.New(rand.NewPCG(11, 4))
	for range sidesStarts {
		cols := make([]route.Column, len(s.boxes))
		for i, x := range s.boxes {
			cols[i] = route.Centre
			if !x.mid {
				cols[i] = route.Column(2 * rng.IntN(2))
			}
		}
		q.improve(cols)
		if !slices.ContainsFunc(all, func(f found) bool { return slices.Equal(f.cols, cols) }) {
			all = append(all, found{cols, q.cost(cols)})
		}
	}
	slices.SortStableFunc(all, func(a, b found) int {
		if a.cost != b.cost {
			return int(1e6*a.cost) - int(1e6*b.cost)
		}
		return slices.Compare(a.cols, b.cols)
	})
	var out [][]route.Column
	for _, f := range all[:min(most, len(all))] {
		out = append(out, f.cols)
	}
	return out
}

// sideSearch prices columns and makes them better step by step.
type sideSearch struct {
	s    *scheme
	at   map[string]int // box by the name of its rows
	free []int          // boxes that are not bound to the middle
	tall [][3]int       // height of a box in each column
}

func newSideSearch(s *scheme, height func(x schemeBox, c route.Column) int) *sideSearch {
	q := &sideSearch{s: s, at: map[string]int{}, tall: make([][3]int, len(s.boxes))}
	for i, x := range s.boxes {
		for _, r := range x.rows {
			q.at[r.point] = i
		}
		if !x.mid {
			q.free = append(q.free, i)
		}
		for c := range q.tall[i] {
			q.tall[i][c] = height(x, route.Column(c))
		}
	}
	return q
}

func (q *sideSearch) cost(cols []route.Column) float64 {
	v := 0.0
	var h [3]int
	for i, c := range cols {
		h[c] += q.tall[i][c]
	}
	for _, w := range q.s.wires {
		a, b := cols[q.at[w.from]], cols[q.at[w.to]]
		if a != b && a != route.Centre && b != route.Centre {
			v += acrossWeight
		}
	}
	return v + heightWeight*float64(max(h[0], h[1], h[2]))
}

// improve moves a box, or swaps two, for as long as one such step makes it better.
func (q *sideSearch) improve(cols []route.Column) {
	boxes := q.s.boxes
	for again := true; again; {
		again = false
		now := q.cost(cols)
		try := func(change, back func()) {
			change()
			if c := q.cost(cols); c < now-1e-9 {
				now, again = c, true
			} else {
				back()
			}
		}
		for _, i := range q.free {
			for _, c := range []route.Column{route.Left, route.Centre, route.Right} {
				old := cols[i]
				if c == old || c == route.Centre && !boxes[i].any {
					continue
				}
				try(func() { cols[i] = c }, func() { cols[i] = old })
			}
			for _, j := range q.free {
				if cols[i] == cols[j] || cols[i] == route.Centre && !boxes[j].any || cols[j] == route.Centre && !boxes[i].any {
					continue
				}
				swap := func() { cols[i], cols[j] = cols[j], cols[i] }
				try(swap, swap)
			}
		}
	}
}
