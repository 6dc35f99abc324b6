package sheet

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"bellout/mapping/plan"
	"bellout/mapping/sheet/ink"
)

func checkDrawing(t *testing.T, name string, d *drawing) {
	t.Helper()
	for _, f := range faultsOf(d) {
		t.Errorf("%s: %s", name, f)
	}
}

// faultsOf looks at a diagram as a ruler would: it knows rectangles and lines,
// not how they came about.
func faultsOf(d *drawing) (faults []string) {
	fault := func(format string, args ...any) { faults = append(faults, fmt.Sprintf(format, args...)) }
	in := func(l ink.Line, r ink.Rect) bool {
		return math.Min(l.X1, l.X2) < r.X+r.W-0.05 && math.Max(l.X1, l.X2) > r.X+0.05 &&
			math.Min(l.Y1, l.Y2) < r.Y+r.H-0.05 && math.Max(l.Y1, l.Y2) > r.Y+0.05
	}
	apart := func(a, b ink.Rect) bool {
		return a.X+a.W <= b.X+0.05 || b.X+b.W <= a.X+0.05 || a.Y+a.H <= b.Y+0.05 || b.Y+b.H <= a.Y+0.05
	}
	for i, net := range d.wires {
		for _, l := range net {
			if l.X1 != l.X2 && l.Y1 != l.Y2 {
				fault("a wire runs askew: %+v", l)
			}
			for _, b := range d.boxes {
				if in(l, b) {
					fault("net %d %+v runs through a box %+v", i, l, b)
				}
			}
			for _, b := range d.labels {
				if in(l, b) {
					fault("net %d %+v runs through a label %+v", i, l, b)
				}
			}
		}
	}
	// No two wires side by side closer than a copy can show, none on another;
	// the crossings are those that are counted.
	crossings := 0
	for i := range d.wires {
		for j := range i {
			for _, a := range d.wires[i] {
				for _, b := range d.wires[j] {
					va, vb := a.X1 == a.X2, b.X1 == b.X2
					switch {
					case va && vb:
						if math.Abs(a.X1-b.X1) < leastTrack-0.01 && overlap(a.Y1, a.Y2, b.Y1, b.Y2) {
							fault("%+v and %+v lie together", a, b)
						}
					case !va && !vb:
						if math.Abs(a.Y1-b.Y1) < leastTrack-0.01 && overlap(a.X1, a.X2, b.X1, b.X2) {
							fault("%+v and %+v lie together", a, b)
						}
					case va && crosses(a, b), vb && crosses(b, a):
						crossings++
					}
				}
			}
		}
	}
	if crossings != d.crossings {
		fault("%d crossings drawn, %d counted", crossings, d.crossings)
	}
	for i, a := range d.boxes {
		for _, b := range d.boxes[:i] {
			if !apart(a, b) {
				fault("boxes overlap: %+v %+v", a, b)
			}
		}
		for _, l := range d.labels {
			if !apart(a, l) {
				fault("label %+v lies in box %+v", l, a)
			}
		}
	}
	for i, a := range d.labels {
		for _, b := range d.labels[:i] {
			if !apart(a, b) {
				fault("labels overlap: %+v %+v", a, b)
			}
		}
	}
	for i, f := range d.fits {
		text, box := f[0], f[1]
		if text.X < box.X-0.05 || text.X+text.W > box.X+box.W+0.05 || text.Y < box.Y-0.6 || text.Y+text.H > box.Y+box.H+0.6 {
			fault("text %+v leaves its box %+v", text, box)
		}
		for _, g := range d.fits[:i] {
			if g[1] == box && !apart(shrink(text), shrink(g[0])) {
				fault("texts overlap in one box: %+v %+v", text, g[0])
			}
		}
	}
	for _, m := range d.page.Marks {
		if x, ok := m.(ink.Text); ok {
			if x.Size < SmallestText {
				fault("%q is %.1f pt high", x.S, x.Size)
			}
			b := x.Box()
			if b.X < 0 || b.Y < 0 || b.X+b.W > d.page.W || b.Y+b.H > d.page.H {
				fault("%q leaves the page", x.S)
			}
		}
	}
	return faults
}

// shrink takes the room for accents and descenders off a text's rectangle:
// lines of text stand closer than that.
func shrink(r ink.Rect) ink.Rect {
	return ink.Rect{X: r.X + 0.2, Y: r.Y + 0.15*r.H, W: r.W - 0.4, H: 0.7 * r.H}
}

func overlap(a, b, c, d float64) bool {
	return math.Min(a, b) < math.Max(c, d)-0.01 && math.Min(c, d) < math.Max(a, b)-0.01
}

func crosses(v, h ink.Line) bool {
	return v.X1 > math.Min(h.X1, h.X2)+0.01 && v.X1 < math.Max(h.X1, h.X2)-0.01 &&
		h.Y1 > math.Min(v.Y1, v.Y2)+0.01 && h.Y1 < math.Max(v.Y1, v.Y2)-0.01
}

// TestDiagram draws the example job: on A3, with few crossings.
func TestDiagram(t *testing.T) {
	in := heron(t).tidy()
	d, err := newDrawing(in)
	if err != nil {
		t.Fatal(err)
	}
	checkDrawing(t, "example", d)
	s := newScheme(in)
	t.Logf("%s: %d wires of the plan, %d of the trunk in %d nets, %d crossings; smallest text %.1f pt, %.1f pt at 60 %%",
		d.paper, len(in.Plan.Wires), len(s.wires), len(d.wires), d.crossings, SmallestText, 0.6*SmallestText)
	if d.paper != "A3" {
		t.Errorf("it takes %s", d.paper)
	}
	// Few: about one for each wire of the trunk, on a real machine.
	if d.crossings > len(s.wires)*3/4 {
		t.Errorf("%d crossings of %d wires", d.crossings, len(s.wires))
	}
	// At 60 % the letters keep the 4.5 pt of small print.
	if 0.6*SmallestText < 4.5-1e-9 {
		t.Errorf("%.2f pt at 60 %%", 0.6*SmallestText)
	}
}

// TestEveryWireIsShown: each wire of the plan is drawn or told on the diagram,
// by both its points.
func TestEveryWireIsShown(t *testing.T) {
	in := heron(t).tidy()
	s := newScheme(in)
	drawn := map[schemeWire]bool{}
	for _, w := range s.wires {
		drawn[w] = true
	}
	words := " " + strings.NewReplacer(",", " ", ";", " ", "\n", " ").Replace(strings.Join(wordsOfScheme(s), " ")+" "+strings.Join(earthLines(in), " ")) + " "
	for _, w := range in.Plan.Wires {
		if drawn[schemeWire{w.From, w.To}] {
			continue
		}
		for _, p := range []string{w.From, w.To} {
			if !strings.Contains(words, " "+p+" ") {
				t.Errorf("wire %s: nothing is said of %s", w.Name, p)
			}
		}
	}
	for _, x := range s.boxes {
		for _, r := range x.rows {
			if r.code == "" && r.inside == "" && r.what == "" {
				t.Errorf("%s: nothing is said of %s", x.title, r.point)
			}
		}
	}
}

func wordsOfScheme(s *scheme) []string {
	var out []string
	for _, x := range s.boxes {
		out = append(out, x.title)
		out = append(out, x.head...)
		out = append(out, x.foot...)
		for _, r := range x.rows {
			out = append(out, r.point, r.label, r.code, r.what, r.inside, r.earth)
		}
	}
	return out
}

// madePlan is a plan of any size made by chance: it need not make sense, only
// be drawn well.
func madePlan(seed uint64, modules, cavities, loads int) Input {
	rng := rand.New(rand.NewPCG(seed, 8))
	p := plan.Plan{Name: fmt.Sprint("made ", seed), Date: "1 May", Revision: "A", By: "nobody"}
	p.Earths = []plan.Earth{{Name: "E1", Main: true, Place: "stud"}}
	for i := range 4 {
		p.Block.Ways = append(p.Block.Ways, plan.Way{Name: fmt.Sprintf("W%d", i+1), Fuse: 10, Feed: plan.FromIgnition, What: "things"})
	}
	p.Relays = []plan.Relay{{Name: "R1", What: "something"}}
	p.Splices = []plan.Splice{{Name: "S1", Place: "here"}, {Name: "S2"}}
	wire := func(from, to, in string) {
		p.Wires = append(p.Wires, plan.Wire{Name: fmt.Sprintf("w%d", len(p.Wires)+1), From: from, To: to, In: in,
			MM2: []float64{0.5, 1, 2.5}[rng.IntN(3)], Colour: "BU", Tracer: []string{"", "WH"}[rng.IntN(2)], Length: 1})
	}
	points := []string{"W1", "W2", "W3", "W4", "S1", "S2", "R1.30", "R1.87", "R1.86", "battery.+", "main.out"}
	wire("R1.85", "E1", plan.Loom)
	wire("battery.-", "E1", plan.Loom)
	for m := range modules {
		name, plug := fmt.Sprintf("part %c", 'a'+m), fmt.Sprintf("P%c", 'A'+m)
		p.Modules = append(p.Modules, plan.Module{Name: name, Place: "somewhere on the machine"})
		p.Plugs = append(p.Plugs, plan.Plug{Name: plug, Module: name, Housing: "a housing", Cavities: cavities, Rows: 2,
			Face: plan.WireEntry, Shrouded: plan.LoomHalf, Terminal: "2.8 mm sealed"})
		for l := range loads {
			p.Loads = append(p.Loads, plan.Load{Name: fmt.Sprintf("thing %d%d", m, l), Module: name, Kind: "warning lamp"})
		}
		for c := 1; c <= cavities; c++ {
			if rng.IntN(6) == 0 {
				continue
			}
			at := fmt.Sprintf("%s.%d", plug, c)
			if loads > 0 {
				wire(at, fmt.Sprintf("thing %d%d.%s", m, rng.IntN(loads), []string{"+", "-"}[rng.IntN(2)]), name)
			}
			if rng.IntN(5) == 0 {
				wire(at, "E1", plan.Loom)
			} else {
				wire(at, points[rng.IntN(len(points))], plan.Loom)
				points = append(points, at)
			}
		}
	}
	in := Input{Plan: p}
	for _, pl := range p.Plugs {
		for c := 1; c <= pl.Cavities; c++ {
			r := plan.PlugRow{Plug: pl.Name, Cavity: c, What: "a function", Role: "spare"}
			for _, w := range p.Wires {
				if at := fmt.Sprintf("%s.%d", pl.Name, c); w.From == at || w.To == at {
					r.LoomWire, r.Role = w.Name, "signal"
				}
			}
			in.Rows = append(in.Rows, r)
		}
	}
	return in
}

// TestDiagramsOfAnySize: whatever the plan, the geometry holds, and the sheet
// grows with it.
func TestDiagramsOfAnySize(t *testing.T) {
	papers := map[string]bool{}
	sizes := [][3]int{{2, 3, 1}, {3, 6, 2}, {5, 8, 3}, {6, 9, 3}, {1, 2, 0}, {12, 10, 3}}
	if testing.Short() {
		sizes = sizes[:5]
	}
	for seed, c := range sizes {
		d, err := newDrawing(madePlan(uint64(seed), c[0], c[1], c[2]).tidy())
		if err != nil {
			t.Fatal(err)
		}
		checkDrawing(t, fmt.Sprint("made ", seed), d)
		papers[d.paper] = true
		t.Logf("%d plugs of %d: %s, %d nets, %d crossings", c[0], c[1], d.paper, len(d.wires), d.crossings)
	}
	if !papers["A4"] || !papers["A3"] {
		t.Errorf("sheets used: %v", papers)
	}
}

// TestRulerSeesFaults: the checks above find what is planted.
func TestRulerSeesFaults(t *testing.T) {
	fresh := func() *drawing {
		d, err := newDrawing(madePlan(1, 3, 6, 2).tidy())
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	if f := faultsOf(fresh()); len(f) > 0 {
		t.Fatal(f)
	}
	for want, plant := range map[string]func(d *drawing){
		"through a box": func(d *drawing) {
			b := d.boxes[2]
			d.wires = append(d.wires, []ink.Line{{X1: b.X - 3, Y1: b.Y + 5, X2: b.X + 9, Y2: b.Y + 5}})
		},
		"through a label": func(d *drawing) {
			b := d.labels[0]
			d.wires[0] = append(d.wires[0], ink.Line{X1: b.X + 2, Y1: b.Y - 30, X2: b.X + 2, Y2: b.Y + 30})
		},
		"askew":         func(d *drawing) { d.wires[0][0].Y1 += 3 },
		"lie together":  func(d *drawing) { d.wires[0] = append(d.wires[0], d.wires[1]...) },
		"counted":       func(d *drawing) { d.crossings++ },
		"boxes overlap": func(d *drawing) { d.boxes[3].Y = d.boxes[4].Y - 2; d.boxes[3].X = d.boxes[4].X },
		"leaves its box": func(d *drawing) {
			d.fits[5][0].W += 400
		},
		"texts overlap": func(d *drawing) { d.fits = append(d.fits, d.fits[6]) },
		"pt high":       func(d *drawing) { d.page.Add(ink.Text{X: 50, Y: 50, Size: 6, S: "small"}) },
		"leaves the page": func(d *drawing) {
			d.page.Add(ink.Text{X: d.page.W - 3, Y: 50, Size: 9, S: "over the edge"})
		},
	} {
		d := fresh()
		plant(d)
		if !strings.Contains(strings.Join(faultsOf(d), "\n"), want) {
			t.Errorf("a planted %q was not seen", want)
		}
	}
}

// TestEmptyPlan draws what there is of nothing.
func TestEmptyPlan(t *testing.T) {
	in := Input{}
	if _, err := PDF(in); err != nil {
		t.Error(err)
	}
	if _, err := HTML(in); err != nil {
		t.Error(err)
	}
	if len(Text(in)) == 0 {
		t.Error("no text")
	}
}
