package route

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
	"time"
)

// random makes a problem of n wires between boxes of a size.
func random(seed uint64, boxes, rows, wires int) Problem {
	rng := rand.New(rand.NewPCG(seed, 3))
	p := Problem{Gap: 2}
	var names []string
	for b := range boxes {
		box := Box{Name: fmt.Sprint("b", b), Column: Column(b % 3), Head: 2, Foot: 1, Fixed: b%4 == 0}
		for r := range rows {
			name := fmt.Sprintf("%d.%d", b, r)
			box.Rows = append(box.Rows, Row{name, 1 + rng.IntN(2)})
			names = append(names, name)
		}
		p.Boxes = append(p.Boxes, box)
	}
	for range wires {
		a, b := rng.IntN(len(names)), rng.IntN(len(names))
		if a != b {
			p.Wires = append(p.Wires, Wire{names[a], names[b]})
		}
	}
	return p
}

type segment struct {
	x1, y1, x2, y2 float64
	net            int
}

// segments draws a layout with columns 100 wide and tracks a unit apart, from
// nothing but what Layout says.
func segments(l Layout) (segs []segment, boxes [][4]float64) {
	const wide = 100.0
	x := [3]float64{0, wide + float64(l.Tracks[0]) + 1, 2*wide + float64(l.Tracks[0]+l.Tracks[1]) + 2}
	for _, b := range l.Boxes {
		if b.Bare {
			segs = append(segs, segment{x[1], b.RowY[0], x[1] + wide, b.RowY[0], -1 - len(segs)})
			continue
		}
		boxes = append(boxes, [4]float64{x[b.Column], b.Top, x[b.Column] + wide, b.Top + b.Height})
	}
	for i, n := range l.Nets {
		left := x[n.Channel] + wide
		at := left + float64(n.Track) + 1
		right := x[n.Channel+1]
		top, bottom := n.Span()
		segs = append(segs, segment{at, top, at, bottom, i})
		for _, p := range n.Pins {
			if p.Right {
				segs = append(segs, segment{at, p.Y, right, p.Y, i})
			} else {
				segs = append(segs, segment{left, p.Y, at, p.Y, i})
			}
		}
	}
	return segs, boxes
}

// TestGeometry: whatever the problem, no segment enters a box, no two nets
// overlap along a line, and the crossings are those that were counted.
func TestGeometry(t *testing.T) {
	for seed := range uint64(12) {
		p := random(seed, 4+int(seed)%7, 5, 10+4*int(seed)%24)
		l, err := Solve(p)
		if err != nil {
			t.Fatal(err)
		}
		segs, boxes := segments(l)
		crossings := 0
		for i, a := range segs {
			for _, b := range boxes {
				if min(a.x1, a.x2) < b[2]-1e-9 && max(a.x1, a.x2) > b[0]+1e-9 && min(a.y1, a.y2) < b[3] && max(a.y1, a.y2) > b[1] {
					t.Fatalf("seed %d: segment %+v runs through box %v", seed, a, b)
				}
			}
			for _, b := range segs[:i] {
				if a.net == b.net {
					continue
				}
				va, vb := a.x1 == a.x2, b.x1 == b.x2
				switch {
				case va && vb && a.x1 == b.x1 && min(a.y1, a.y2) < max(b.y1, b.y2) && min(b.y1, b.y2) < max(a.y1, a.y2),
					!va && !vb && math.Abs(a.y1-b.y1) < 0.4 && min(a.x1, a.x2) < max(b.x1, b.x2) && min(b.x1, b.x2) < max(a.x1, a.x2):
					t.Fatalf("seed %d: %+v lies on %+v", seed, a, b)
				case va != vb:
					v, h := a, b
					if vb {
						v, h = b, a
					}
					if v.x1 > min(h.x1, h.x2) && v.x1 < max(h.x1, h.x2) && h.y1 > min(v.y1, v.y2) && h.y1 < max(v.y1, v.y2) {
						crossings++
					}
				}
			}
		}
		if crossings != l.Crossings {
			t.Errorf("seed %d: %d crossings drawn, %d counted", seed, crossings, l.Crossings)
		}
		// Every wire's two rows hang together through the nets.
		for i, w := range p.Wires {
			if !joined(l, i, w) {
				t.Errorf("seed %d: wire %v is not led", seed, w)
			}
		}
	}
}

func joined(l Layout, i int, w Wire) bool {
	reach := map[string]bool{w.From: true}
	for range 3 {
		for _, n := range l.Nets {
			mine := false
			for _, k := range n.Wires {
				mine = mine || k == i
			}
			hit := false
			for _, p := range n.Pins {
				hit = hit || reach[p.Row]
			}
			if mine && hit {
				for _, p := range n.Pins {
					reach[p.Row] = true
				}
			}
		}
	}
	return reach[w.To]
}

// TestSameDrawing: the same problem, the same layout.
func TestSameDrawing(t *testing.T) {
	p := random(5, 8, 6, 30)
	a, _ := Solve(p)
	b, _ := Solve(p)
	if !reflect.DeepEqual(a, b) {
		t.Error("two layouts of one problem differ")
	}
}

// TestUntangles: shuffled pairs that can be drawn with no crossing are.
func TestUntangles(t *testing.T) {
	for seed := range uint64(6) {
		rng := rand.New(rand.NewPCG(seed, 1))
		p := Problem{Gap: 1}
		for c := range 3 {
			b := Box{Name: fmt.Sprint(c), Column: Column(c), Head: 1}
			for _, r := range rng.Perm(8) {
				b.Rows = append(b.Rows, Row{fmt.Sprintf("%d.%d", c, r), 1})
			}
			p.Boxes = append(p.Boxes, b)
		}
		for r := range 8 {
			p.Wires = append(p.Wires, Wire{fmt.Sprintf("0.%d", r), fmt.Sprintf("1.%d", r)}, Wire{fmt.Sprintf("1.%d", r), fmt.Sprintf("2.%d", r)})
		}
		l, err := Solve(p)
		if err != nil {
			t.Fatal(err)
		}
		if l.Crossings != 0 {
			t.Errorf("seed %d: %d crossings left in a drawing that needs none", seed, l.Crossings)
		}
	}
}

// TestCrossingsAgainstExhaustion: with fixed rows and few nets, the best order
// of tracks is found.
func TestCrossingsAgainstExhaustion(t *testing.T) {
	for seed := range uint64(8) {
		p := random(seed+40, 2, 6, 6)
		for i := range p.Boxes {
			p.Boxes[i].Column, p.Boxes[i].Fixed = Column(i), true
		}
		l, err := Solve(p)
		if err != nil {
			t.Fatal(err)
		}
		s, _ := newState(p)
		s.restore(keptOf(s, l))
		least := math.MaxInt
		var try func(k int)
		try = func(k int) {
			if k == len(s.order[0]) {
				least = min(least, s.crossings())
				return
			}
			for i := k; i < len(s.order[0]); i++ {
				s.order[0][k], s.order[0][i] = s.order[0][i], s.order[0][k]
				try(k + 1)
				s.order[0][k], s.order[0][i] = s.order[0][i], s.order[0][k]
			}
		}
		try(0)
		if l.Crossings != least {
			t.Errorf("seed %d: %d crossings, %d are possible", seed, l.Crossings, least)
		}
	}
}

// keptOf takes over the order of boxes from a layout.
func keptOf(s *state, l Layout) kept {
	k := s.keep()
	n := map[Column]int{}
	for _, b := range l.Boxes {
		for i := range s.p.Boxes {
			if s.p.Boxes[i].Name == b.Name {
				k.column[b.Column][n[b.Column]] = i
				n[b.Column]++
			}
		}
	}
	return k
}

func TestMistakes(t *testing.T) {
	for name, p := range map[string]Problem{
		"nowhere":  {Boxes: []Box{{Rows: []Row{{"a", 1}}}}, Wires: []Wire{{"a", "b"}}},
		"to self":  {Boxes: []Box{{Rows: []Row{{"a", 1}}}}, Wires: []Wire{{"a", "a"}}},
		"twice":    {Boxes: []Box{{Rows: []Row{{"a", 1}, {"a", 1}}}}},
		"no depth": {Boxes: []Box{{Rows: []Row{{"a", 0}}}}},
	} {
		if _, err := Solve(p); err == nil {
			t.Errorf("%s: was taken", name)
		}
	}
	if _, err := Solve(Problem{}); err != nil {
		t.Errorf("an empty drawing: %v", err)
	}
}

func TestBigIsQuick(t *testing.T) {
	begun := time.Now()
	l, err := Solve(random(9, 15, 8, 70))
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("70 wires: %d crossings, %v tracks, %v", l.Crossings, l.Tracks, time.Since(begun))
	if d := time.Since(begun); d > 10*time.Second {
		t.Errorf("took %v", d)
	}
	if testing.Short() {
		return
	}
	begun = time.Now()
	if l, err = Solve(random(9, 45, 20, 500)); err != nil {
		t.Fatal(err)
	}
	t.Logf("500 wires: %d crossings, %v tracks, %v", l.Crossings, l.Tracks, time.Since(begun))
	if d := time.Since(begun); d > 30*time.Second {
		t.Errorf("took %v", d)
	}
}
