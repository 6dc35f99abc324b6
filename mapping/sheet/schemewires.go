package sheet

import (
	"fmt"
	"slices"
	"strings"

	"bellout/mapping/plan"
)

// supply makes the box of battery, main fuse and charging, with the terminals
// that wires touch.
func (b *builder) supply() {
	p := b.in.Plan
	what := map[string]string{
		"battery.+": "battery plus", "battery.-": "battery minus",
		"main.in": "main fuse, battery side", "main.out": "main fuse, bike side",
		"charge.in": "charging fuse, regulator side", "charge.out": "charging fuse, battery side",
		"alternator.+": "regulator plus", "alternator.-": "regulator minus",
	}
	x := schemeBox{name: "supply", title: "Supply", mid: true}
	fuse := "MAIN FUSE: NONE"
	if p.Supply.MainFuse > 0 {
		fuse = "main fuse " + number(p.Supply.MainFuse) + " A"
		if p.Supply.MainFuseMM > 0 {
			fuse += fmt.Sprintf(", %s mm of wire from the battery", number(p.Supply.MainFuseMM))
		}
	}
	x.head = append(x.head, strings.TrimSpace(p.Supply.Battery+" battery")+"; "+fuse)
	if p.Supply.AlternatorWatts > 0 {
		s := "alternator " + number(p.Supply.AlternatorWatts) + " W"
		if p.Supply.ChargeFuse > 0 {
			s += ", charging fuse " + number(p.Supply.ChargeFuse) + " A"
		}
		x.head = append(x.head, s)
	}
	for _, point := range []string{"alternator.+", "alternator.-", "charge.in", "charge.out", "battery.+", "battery.-", "main.in", "main.out"} {
		if b.touched(point) {
			x.rows = append(x.rows, schemeRow{point: point, label: point, what: what[point]})
		}
	}
	b.add(x)
}

func (b *builder) touched(point string) bool {
	return slices.ContainsFunc(b.in.Plan.Wires, func(w plan.Wire) bool {
		return (w.From == point || w.To == point) && !b.inside(w, point)
	})
}

// block makes the box of the fused ways.
func (b *builder) block() {
	x := schemeBox{name: "block", title: "Distribution block", mid: true}
	if m := b.in.Plan.Block.Module; m != "" && m != plan.Loom {
		x.head = append(x.head, "in "+m+comma(b.place(m)))
	}
	for _, f := range []struct{ point, what string }{{"block.30", "feed, always live"}, {"block.15", "feed, live with the key on"}} {
		if b.touched(f.point) {
			x.rows = append(x.rows, schemeRow{point: f.point, label: f.point, what: f.what})
		}
	}
	for _, w := range b.in.Plan.Block.Ways {
		fuse, colour := w.Fuse, ""
		if f, ok := plan.FuseOf(fuse); ok {
			colour = f.Colour
		}
		bus := "15"
		if w.Feed == plan.FromBattery {
			bus = "30, ALWAYS LIVE"
		}
		s := "NO FUSE"
		if fuse > 0 {
			s = strings.TrimSpace(number(fuse) + " A " + colour)
		}
		x.rows = append(x.rows, schemeRow{point: w.Name, label: w.Name, code: s, what: strings.TrimSpace(w.What + " [" + bus + "]")})
	}
	b.add(x)
}

// wire puts one wire of the plan where it is shown.
func (b *builder) wire(w plan.Wire) {
	from, to := b.inside(w, w.From), b.inside(w, w.To)
	dev := func(point string) string { d, _, _ := strings.Cut(point, "."); return d }
	switch {
	case b.earth[dev(w.From)] && b.earth[dev(w.To)]:
		return // told in the list of earth points
	case b.earth[dev(w.From)]:
		w.From, w.To = w.To, w.From
		from, to = to, from
	}
	if b.earth[dev(w.To)] {
		b.toEarth(w, from)
		return
	}
	if from && to {
		b.within(w)
		return
	}
	b.addSpec(b.row(w.From), w)
	b.addSpec(b.row(w.To), w)
	b.s.wires = append(b.s.wires, schemeWire{w.From, w.To})
}

// toEarth shows a wire to an earth point by the earth sign at its row, or, from
// a load inside a module, by words.
func (b *builder) toEarth(w plan.Wire, inside bool) {
	dev, _, _ := strings.Cut(w.From, ".")
	if _, isPlug := b.plugOf[dev]; inside && !isPlug {
		b.footOf(w.In, w.From+" to "+w.To+" "+spec(w))
		return
	}
	if inside {
		r := b.row(w.From)
		r.inside = join(r.inside, w.To+" "+spec(w))
		return
	}
	r := b.row(w.From)
	b.addSpec(r, w)
	r.earth = join(r.earth, w.To)
}

// earthWords puts an earth point into words at rows that have other wires too:
// the sign would stand in their way.
func (b *builder) earthWords() {
	busy := map[string]bool{}
	for _, w := range b.s.wires {
		busy[w.from], busy[w.to] = true, true
	}
	for i := range b.s.boxes {
		for k := range b.s.boxes[i].rows {
			if r := &b.s.boxes[i].rows[k]; r.earth != "" && busy[r.point] {
				r.inside, r.earth = join(r.inside, "to "+r.earth), ""
			}
		}
	}
}

func join(a, b string) string {
	if a == "" {
		return b
	}
	return a + ", " + b
}

// addSpec writes the wire's name (that of its flag), colour and size into its
// row. A way's row has its fuse there, a splice's its place: their
// wires are told at their other ends.
func (b *builder) addSpec(r *schemeRow, w plan.Wire) {
	r.mm2 = max(r.mm2, w.MM2)
	if b.way[r.point] || b.splice[r.point].Name != "" {
		return
	}
	r.code = join(r.code, strings.TrimSpace(w.Name+" "+spec(w)))
}

// within tells a wire inside a module: at the row of its cavity, else as part
// of what its splice joins, else in the foot.
func (b *builder) within(w plan.Wire) {
	told := false
	for _, e := range [][2]string{{w.From, w.To}, {w.To, w.From}} {
		dev, _, _ := strings.Cut(e[0], ".")
		if _, ok := b.plugOf[dev]; ok {
			r := b.row(e[0])
			s := e[1]
			if !strings.HasSuffix(r.code, " "+spec(w)) {
				s += " " + spec(w)
			}
			r.inside = join(r.inside, s)
			told = true
		}
	}
	for _, e := range [][2]string{{w.From, w.To}, {w.To, w.From}} {
		if b.splice[e[0]].Name != "" {
			k := [2]string{w.In, e[0]}
			if b.joins[k] == nil {
				b.joinOrder = append(b.joinOrder, k)
			}
			b.joins[k] = append(b.joins[k], e[1])
			told = true
		}
	}
	if !told {
		b.footOf(w.In, w.From+" to "+w.To+" "+spec(w))
	}
}

// footOf adds a line to the first box of a module.
func (b *builder) footOf(module, line string) {
	at := b.boxOf(module)
	b.s.boxes[at].foot = append(b.s.boxes[at].foot, line)
}

// feet tells each module's loads and pods.
func (b *builder) feet() {
	p := b.in.Plan
	for _, k := range b.joinOrder {
		b.footOf(k[0], k[1]+" joins "+strings.Join(b.joins[k], ", "))
	}
	for _, m := range p.Modules {
		var loads []string
		for _, l := range p.Loads {
			if l.Module == m.Name {
				loads = append(loads, b.loadLine(l))
			}
		}
		if len(loads) > 0 {
			b.footOf(m.Name, "Loads: "+strings.Join(loads, "; "))
		}
	}
	for _, x := range p.Pods {
		if x.Module == "" || x.Module == plan.Loom || x.MadeFrom == "" && x.BodyTo == "" {
			continue
		}
		s := "pod " + x.Name
		if x.MadeFrom != "" {
			s += ": " + x.MadeFrom
		}
		if x.BodyTo != "" {
			s += ", body at " + x.BodyTo
		}
		b.footOf(x.Module, s)
	}
	for _, r := range p.Relays {
		if b.module(r.Name) != "" {
			b.footOf(r.Module, strings.TrimSuffix("relay "+r.Name+", "+r.What, ", "))
		}
	}
}

// loadLine is a load in words: "horn 2.5 A W7", its amps and the way it is on.
func (b *builder) loadLine(l plan.Load) string {
	s := l.Name
	for _, w := range b.in.Worked.Loads {
		if w.Name == l.Name {
			s = strings.TrimSpace(s + " " + amps(w.Amps) + " " + w.Way)
		}
	}
	return s
}
