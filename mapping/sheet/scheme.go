package sheet

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"bellout/mapping/plan"
)

// scheme is the plan as boxes with rows and the wires of the trunk between
// them. What lies within a module is told in its rows.
type scheme struct {
	boxes []schemeBox
	wires []schemeWire
}

// schemeBox is a module's plug, a module without one, or a thing in the trunk.
type schemeBox struct {
	name  string
	title string
	head  []string
	foot  []string
	rows  []schemeRow
	mid   bool // belongs in the middle column
	any   bool // may stand in any column
	plain bool // drawn without its title: the rows say what it is
}

// schemeRow is a cavity or a terminal: where a wire lands.
type schemeRow struct {
	point  string // also its name in the drawing
	label  string // cavity or terminal
	code   string
	what   string
	inside string
	earth  string // earth point that it goes to, drawn as the earth sign
	mm2    float64
}

type schemeWire struct{ from, to string }

// builder has what is looked up again and again.
type builder struct {
	in      Input
	plugOf  map[string]plan.Plug
	moduleD map[string]string // device to module
	earth   map[string]bool
	splice  map[string]plan.Splice
	way     map[string]bool
	box     map[string]int // box by name
	// What the splices inside modules join, in the order of first mention.
	joins     map[[2]string][]string
	joinOrder [][2]string
	s         *scheme
}

func newScheme(in Input) *scheme {
	b := &builder{in: in, plugOf: map[string]plan.Plug{}, moduleD: map[string]string{}, earth: map[string]bool{},
		splice: map[string]plan.Splice{}, way: map[string]bool{}, box: map[string]int{}, joins: map[[2]string][]string{}, s: &scheme{}}
	p := in.Plan
	for _, x := range p.Plugs {
		b.plugOf[x.Name] = x
	}
	for _, x := range p.Pods {
		b.moduleD[x.Name] = x.Module
	}
	for _, x := range p.Loads {
		b.moduleD[x.Name] = x.Module
	}
	for _, x := range p.Relays {
		b.moduleD[x.Name] = x.Module
	}
	for _, x := range p.Parts {
		b.moduleD[x.Name] = x.Module
	}
	for _, x := range p.Earths {
		b.earth[x.Name] = true
	}
	for _, x := range p.Splices {
		b.splice[x.Name] = x
		b.moduleD[x.Name] = x.Module
	}
	for _, x := range p.Block.Ways {
		b.way[x.Name] = true
	}
	b.plugs()
	b.supply()
	b.block()
	for _, w := range p.Wires {
		b.wire(w)
	}
	b.feet()
	b.earthWords()
	b.s.boxes = slices.DeleteFunc(b.s.boxes, func(x schemeBox) bool { return len(x.rows) == 0 && len(x.foot) == 0 })
	return b.s
}

// module is where a point's device lies; "" for the trunk.
func (b *builder) module(point string) string {
	dev, _, _ := strings.Cut(point, ".")
	m := b.moduleD[dev]
	if m == plan.Loom {
		return ""
	}
	return m
}

// inside tells whether an end of a wire lies within the module of the wire:
// whatever is no earth point and no other module's plug.
func (b *builder) inside(w plan.Wire, point string) bool {
	if w.In == plan.Loom || w.In == "" {
		return false
	}
	dev, _, _ := strings.Cut(point, ".")
	if pl, ok := b.plugOf[dev]; ok {
		return pl.Module == w.In
	}
	m := b.module(point)
	return !b.earth[dev] && (m == w.In || m == "" && !b.fixed(dev))
}

// fixed names what stands in the middle of the page whatever touches it.
func (b *builder) fixed(dev string) bool {
	return b.way[dev] || dev == "battery" || dev == "main" || dev == "block"
}

func (b *builder) add(x schemeBox) int {
	if i, ok := b.box[x.name]; ok {
		return i
	}
	b.s.boxes = append(b.s.boxes, x)
	b.box[x.name] = len(b.s.boxes) - 1
	return len(b.s.boxes) - 1
}

// row finds the row of a point outside any module's inside, making box and row
// where they are not there yet.
func (b *builder) row(point string) *schemeRow {
	for i := range b.s.boxes {
		for k := range b.s.boxes[i].rows {
			if b.s.boxes[i].rows[k].point == point {
				return &b.s.boxes[i].rows[k]
			}
		}
	}
	dev, term, _ := strings.Cut(point, ".")
	var at int
	label := term
	what := ""
	switch pl, isPlug := b.plugOf[dev]; {
	case isPlug:
		at = b.box["plug "+pl.Name]
	case b.module(point) != "":
		m := b.module(point)
		at = b.boxOf(m)
		label = point
	case b.splice[dev].Name != "":
		// Splices at one place stand together, anywhere on the page: that
		// takes a quarter of the crossings out.
		at = b.add(schemeBox{name: "splices " + b.splice[dev].Place, title: "Splices in the trunk" + comma(b.splice[dev].Place), any: true, plain: true})
		label, what = dev, "splice"+comma(b.splice[dev].Place)
	default:
		at = b.add(schemeBox{name: "device " + dev, title: strings.TrimSpace(dev + "  " + b.about(dev)), any: true})
	}
	b.s.boxes[at].rows = append(b.s.boxes[at].rows, schemeRow{point: point, label: label, what: what})
	return &b.s.boxes[at].rows[len(b.s.boxes[at].rows)-1]
}

// title begins a name with a capital; an accent is more than one byte.
func title(s string) string {
	_, n := utf8.DecodeRuneInString(s)
	return strings.ToUpper(s[:n]) + s[n:]
}

// place says where a module is, "" if nobody said.
func (b *builder) place(module string) string {
	for _, m := range b.in.Plan.Modules {
		if m.Name == module {
			return m.Place
		}
	}
	return ""
}

func comma(s string) string {
	if s == "" {
		return ""
	}
	return ", " + s
}

// boxOf is the first box of a module, made where there is none.
func (b *builder) boxOf(module string) int {
	for _, pl := range b.in.Plan.Plugs {
		if pl.Module == module {
			return b.box["plug "+pl.Name]
		}
	}
	return b.add(schemeBox{name: "module " + module, title: title(module) + comma(b.place(module))})
}

// about says what a device of the trunk is.
func (b *builder) about(dev string) string {
	for _, r := range b.in.Plan.Relays {
		if r.Name == dev {
			return strings.TrimSuffix("relay, "+r.What, ", ")
		}
	}
	for _, r := range b.in.Plan.Parts {
		if r.Name == dev {
			s := r.Kind
			if r.Ohms > 0 {
				s += " " + number(r.Ohms) + " ohm"
			}
			if r.Amps > 0 {
				s += ", " + number(r.Amps) + " A"
			}
			return s
		}
	}
	for _, l := range b.in.Plan.Loads {
		if l.Name == dev {
			return b.loadLine(l)
		}
	}
	return ""
}

// plugs makes a box for every plug, with a row for every cavity in use.
func (b *builder) plugs() {
	for _, pl := range b.in.Plan.Plugs {
		x := schemeBox{name: "plug " + pl.Name, title: title(pl.Module) + "  plug " + pl.Name + comma(b.place(pl.Module))}
		live := "live half, shrouded: " + string(pl.Shrouded)
		if pl.Shrouded == plan.NoHalf || pl.Shrouded == "" {
			live = "no shrouded half"
		}
		if pl.LoomKind != "" {
			live += "; loom half: " + pl.LoomKind
		}
		x.head = append(x.head, fmt.Sprintf("%s, %d cavities; %s", orOpen(pl.Housing), pl.Cavities, live),
			"loom half seen from its "+string(pl.Face)+" face: "+faceLine(pl))
		var spare, blank []string
		for _, c := range b.cavities(pl) {
			switch {
			case c.LoomWire == "" && c.ModuleWire == "" && c.Role == "blank":
				blank = append(blank, fmt.Sprint(c.Cavity))
			case c.LoomWire == "" && c.ModuleWire == "":
				spare = append(spare, fmt.Sprint(c.Cavity))
			default:
				what := c.What
				if c.Din != "" && !strings.Contains(" "+what+" ", " "+c.Din+" ") {
					what = strings.TrimSpace(what + " (" + c.Din + ")")
				}
				if c.Way != "" {
					what += " " + c.Way
				}
				x.rows = append(x.rows, schemeRow{point: fmt.Sprintf("%s.%d", pl.Name, c.Cavity), label: fmt.Sprint(c.Cavity), what: what})
			}
		}
		line := ""
		if len(spare) > 0 {
			line = "spare: " + strings.Join(spare, " ")
		}
		if len(blank) > 0 {
			line += "  blanked: " + strings.Join(blank, " ")
		}
		if line != "" {
			x.foot = append(x.foot, strings.TrimSpace(line))
		}
		b.add(x)
	}
}

func orOpen(s string) string {
	if s == "" {
		return "housing open"
	}
	return s
}

// cavities are a plug's rows, from what package plan made of it.
func (b *builder) cavities(pl plan.Plug) []plan.PlugRow {
	var out []plan.PlugRow
	for _, r := range b.in.Rows {
		if r.Plug == pl.Name {
			out = append(out, r)
		}
	}
	slices.SortStableFunc(out, func(x, y plan.PlugRow) int { return x.Cavity - y.Cavity })
	return out
}

// faceLine is the plug's face in a line: rows from the top, a bar between.
func faceLine(pl plan.Plug) string {
	rows := max(1, pl.Rows)
	per := (pl.Cavities + rows - 1) / rows
	var out strings.Builder
	for n := 1; n <= pl.Cavities; n++ {
		switch {
		case n == 1:
		case (n-1)%per == 0:
			out.WriteString(" | ")
		default:
			out.WriteString(" ")
		}
		fmt.Fprint(&out, n)
	}
	return out.String()
}
