package route

import (
	"math"
	"math/rand/v2"
	"slices"
)

// The search: rounds of annealing, each of so many tries for every net and
// row, cooling from hot to cold (in the units of cost).
const (
	rounds     = 3
	triesEach  = 300
	hot, cold  = 25.0, 0.15
	mostTries  = 90000
	mostWork   = 250e6 // comparisons in one annealing or descent
	smoothings = 8
)

// Solve places the boxes and leads the wires. The error says which wire leads
// nowhere or which row is there twice; it is the caller's mistake.
func Solve(p Problem) (Layout, error) { return solve(p, rounds, triesEach) }

// Sketch is Solve in a tenth of its time, to compare problems by.
func Sketch(p Problem) (Layout, error) { return solve(p, 1, triesEach/4) }

func solve(p Problem, rounds, tries int) (Layout, error) {
	s, err := newState(p)
	if err != nil {
		return Layout{}, err
	}
	s.smooth()
	best := s.keep()
	least := s.cost()
	for round := range rounds {
		s.anneal(rand.New(rand.NewPCG(uint64(round)+1, 57)), tries)
		if c := s.cost(); c < least-1e-9 {
			best, least = s.keep(), c
		} else {
			s.restore(best)
		}
		if s.crossings() == 0 {
			break
		}
	}
	s.restore(best)
	s.descend()
	return s.layout(), nil
}

// kept is the part of a state that the search changes.
type kept struct {
	column [3][]int
	rows   [][]int
	order  [2][]int
}

func (s *state) keep() kept {
	var k kept
	for c := range s.column {
		k.column[c] = slices.Clone(s.column[c])
	}
	for _, r := range s.rows {
		k.rows = append(k.rows, slices.Clone(r))
	}
	for c := range s.order {
		k.order[c] = slices.Clone(s.order[c])
	}
	return k
}

func (s *state) restore(k kept) {
	for c := range s.column {
		copy(s.column[c], k.column[c])
	}
	for b := range s.rows {
		copy(s.rows[b], k.rows[b])
	}
	for c := range s.order {
		copy(s.order[c], k.order[c])
	}
	s.place()
}

// smooth moves rows and boxes to the mean height of what they are joined to, a
// few times over: a good place to begin.
func (s *state) smooth() {
	for range smoothings {
		want := make([]float64, len(s.y))
		for r := range want {
			want[r] = s.y[r]
		}
		sum, n := make([]float64, len(s.y)), make([]float64, len(s.y))
		for _, t := range s.nets {
			for _, a := range t.rows {
				for _, b := range t.rows {
					if a != b {
						sum[a] += s.y[b]
						n[a]++
					}
				}
			}
		}
		for r := range want {
			if n[r] > 0 {
				want[r] = sum[r] / n[r]
			}
		}
		for b, box := range s.p.Boxes {
			if !box.Fixed {
				sortBy(s.rows[b], func(r int) float64 { return want[s.first[b]+r] })
			}
		}
		for c := range s.column {
			sortBy(s.column[c], func(b int) float64 {
				m := 0.0
				for r := range s.p.Boxes[b].Rows {
					m += want[s.first[b]+r]
				}
				return m / math.Max(1, float64(len(s.p.Boxes[b].Rows)))
			})
		}
		s.place()
	}
}

// change makes one random change and gives the function that takes it back,
// or nil where there was nothing to change.
func (s *state) change(rng *rand.Rand) func() {
	switch rng.IntN(8) {
	case 0: // two boxes of a column
		c := rng.IntN(3)
		if n := len(s.column[c]); n > 1 {
			i, j := rng.IntN(n), rng.IntN(n)
			if i == j {
				return nil
			}
			swap := func() {
				s.column[c][i], s.column[c][j] = s.column[c][j], s.column[c][i]
				s.place()
			}
			swap()
			return swap
		}
	case 1, 2, 3: // two rows of a box
		b := rng.IntN(len(s.rows))
		if n := len(s.rows[b]); n > 1 && !s.p.Boxes[b].Fixed {
			i, j := rng.IntN(n), rng.IntN(n)
			if i == j {
				return nil
			}
			swap := func() {
				s.rows[b][i], s.rows[b][j] = s.rows[b][j], s.rows[b][i]
				s.place()
			}
			swap()
			return swap
		}
	default: // a net to another place in its channel
		c := rng.IntN(2)
		if n := len(s.order[c]); n > 1 {
			i, j := rng.IntN(n), rng.IntN(n)
			if i == j {
				return nil
			}
			s.move(c, i, j)
			return func() { s.move(c, j, i) }
		}
	}
	return nil
}

// move takes the net at place i of a channel to place j.
func (s *state) move(c, i, j int) {
	n := s.order[c][i]
	s.order[c] = slices.Insert(slices.Delete(s.order[c], i, i+1), j, n)
}

func (s *state) anneal(rng *rand.Rand, each int) {
	tries := min(mostTries, each*(len(s.nets)+len(s.y)), int(mostWork/s.work()))
	cost := s.cost()
	best, least := s.keep(), cost
	for t := range tries {
		heat := hot * math.Pow(cold/hot, float64(t)/float64(tries))
		back := s.change(rng)
		if back == nil {
			continue
		}
		now := s.cost()
		if now <= cost || rng.Float64() < math.Exp((cost-now)/heat) {
			cost = now
			if cost < least-1e-9 {
				best, least = s.keep(), cost
			}
			continue
		}
		back()
	}
	s.restore(best)
}

// work is about the number of comparisons that one look at the cost takes.
func (s *state) work() float64 {
	pins := 0
	for _, n := range s.nets {
		pins += len(n.rows)
	}
	return float64(len(s.y) + pins*(1+len(s.nets)/4))
}

// descend takes each net out and puts it back where it is cheapest, until
// nothing is gained.
func (s *state) descend() {
	left := mostWork / s.work()
	for again := true; again; {
		again = false
		for c := range s.order {
			for i := range s.order[c] {
				if left -= float64(len(s.order[c])); left < 0 {
					return // a drawing this large is left as it is
				}
				at, cost := i, s.cost()
				best, least := i, cost
				for j := range s.order[c] {
					s.move(c, at, j)
					at = j
					if v := s.cost(); v < least-1e-9 {
						best, least = j, v
					}
				}
				s.move(c, at, best)
				again = again || best != i && least < cost-1e-9
			}
		}
	}
}

// layout gives each net its track: as far left as the nets before it in the
// channel's order allow that run beside it.
func (s *state) layout() Layout {
	out := Layout{Height: s.height, Crossings: s.crossings()}
	for c := range s.column {
		at := s.top(c)
		for k, b := range s.column[c] {
			if k > 0 {
				at += float64(s.p.Gap)
			}
			pl := Placed{Box: s.p.Boxes[b], Top: at, Height: float64(s.boxHeight(b))}
			pl.Rows = nil
			for _, r := range s.rows[b] {
				pl.Rows = append(pl.Rows, s.p.Boxes[b].Rows[r])
				pl.RowY = append(pl.RowY, s.y[s.first[b]+r])
			}
			at += pl.Height
			out.Boxes = append(out.Boxes, pl)
		}
	}
	name := make([]string, 0, len(s.y))
	for _, b := range s.p.Boxes {
		for _, r := range b.Rows {
			name = append(name, r.Name)
		}
	}
	track := make([]int, len(s.nets))
	for c := range s.order {
		for i, n := range s.order[c] {
			for _, m := range s.order[c][:i] {
				if s.nets[m].top < s.nets[n].bottom+0.75 && s.nets[n].top < s.nets[m].bottom+0.75 {
					track[n] = max(track[n], track[m]+1)
				}
			}
			out.Tracks[c] = max(out.Tracks[c], track[n]+1)
		}
	}
	for i, n := range s.nets {
		t := Net{Channel: n.channel, Track: track[i], Wires: n.wires}
		for k, r := range n.rows {
			t.Pins = append(t.Pins, Pin{Row: name[r], Right: n.right[k], Y: s.y[r]})
		}
		out.Nets = append(out.Nets, t)
	}
	return out
}
