package plan

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"

	"bellout/mapping"
)

// check notes every mistake that makes a plan meaningless. What makes sense
// but is wrong as a harness is Check's business.
func (r *reader) check(p *Plan) {
	if p.Name == "" {
		r.at(1, `the plan has no name: write name = "..." on its first line`)
	}
	switch p.Volts {
	case 6, 12, 24, 48:
	default:
		r.on("volts", "the voltage is %s: give the nominal voltage of the battery, 6, 12, 24 or 48", trim(p.Volts))
	}
	r.numbers("", reflect.ValueOf(*p))
	r.sizes(p)
	r.names(p)
	r.words(p)
	r.references(p)
	r.wires(p)
}

// numbers refuses what no number of a plan may be.
func (r *reader) numbers(place string, v reflect.Value) {
	t := v.Type()
	for i := range v.NumField() {
		tag := t.Field(i).Tag.Get("toml")
		if tag == "-" {
			continue
		}
		at, f := join(place, tag), v.Field(i)
		switch f.Kind() {
		case reflect.Float64:
			r.number(at, tag, f.Float())
		case reflect.Int:
			if f.Int() < 0 || f.Int() > 1000 {
				r.on(at, "%s is %d: give a whole number from 1 to 64", tag, f.Int())
			}
		case reflect.Struct:
			r.numbers(at, f)
		case reflect.Slice:
			if f.Type().Elem().Kind() == reflect.Struct {
				for k := range f.Len() {
					r.numbers(fmt.Sprintf("%s[%d]", at, k), f.Index(k))
				}
			}
		}
	}
}

func (r *reader) number(at, tag string, x float64) {
	units := map[string]string{"length": "metres", "mm2": "mm2", "wire_mm2": "mm2", "fuse": "amps", "watts": "watts", "amps": "amps", "ohms": "ohms"}
	unit := units[tag]
	if unit == "" {
		unit = "a figure"
	}
	switch {
	case math.IsNaN(x) || math.IsInf(x, 0):
		r.on(at, "%s is no number: give %s", tag, unit)
	case tag == "temperature" && (x < -40 || x > 180):
		r.on(at, "the temperature is %s: give degrees Celsius from -40 to 180", trim(x))
	case tag != "temperature" && x < 0:
		r.on(at, "%s is %s, which is negative: give %s above 0", tag, trim(x), unit)
	case x > 1e6 || tag == "length" && x > 100 || (tag == "mm2" || tag == "wire_mm2") && x > 120:
		r.on(at, "%s is %s, more than any machine has: give %s", tag, trim(x), unit)
	}
}

// most of what a plan may have; twice the largest machine known, and what the
// sets of the checker hold.
const (
	maxWays     = 64
	maxSwitches = 256
	maxWires    = 1000
	maxThings   = 300
)

func (r *reader) sizes(p *Plan) {
	switches := 0
	for _, pod := range p.Pods {
		switches += len(pod.Desc.Switches)
	}
	for _, c := range []struct {
		what, place string
		n, most     int
	}{
		{"ways", "block", len(p.Block.Ways), maxWays}, {"switches", "pod", switches, maxSwitches},
		{"wires", "wire", len(p.Wires), maxWires}, {"loads", "load", len(p.Loads), maxThings},
		{"plugs", "plug", len(p.Plugs), maxThings}, {"pods", "pod", len(p.Pods), maxThings},
		{"relays", "relay", len(p.Relays), maxThings}, {"parts", "part", len(p.Parts), maxThings},
	} {
		if c.n > c.most {
			r.on(c.place, "the plan has %d %s and %d is the most: split it in two", c.n, c.what, c.most)
		}
	}
	for i, pl := range p.Plugs {
		place := fmt.Sprintf("plug[%d]", i)
		if pl.Cavities < 1 || pl.Cavities > 64 {
			r.on(place+".cavities", "plug %q has %d cavities: give a whole number from 1 to 64", pl.Name, pl.Cavities)
		}
		if pl.Rows > pl.Cavities {
			r.on(place+".rows", "plug %q has more rows than cavities: mend rows", pl.Name)
		}
	}
}

// named is everything that has points or is spoken of by name.
func named(p *Plan) []struct{ name, what, place string } {
	var out []struct{ name, what, place string }
	add := func(name, what, place string, i int) {
		out = append(out, struct{ name, what, place string }{name, what, fmt.Sprintf("%s[%d]", place, i)})
	}
	for i, x := range p.Block.Ways {
		add(x.Name, "way", "block.way", i)
	}
	for i, x := range p.Pods {
		add(x.Name, "pod", "pod", i)
	}
	for i, x := range p.Loads {
		add(x.Name, "load", "load", i)
	}
	for i, x := range p.Relays {
		add(x.Name, "relay", "relay", i)
	}
	for i, x := range p.Parts {
		add(x.Name, "part", "part", i)
	}
	for i, x := range p.Earths {
		add(x.Name, "earth", "earth", i)
	}
	for i, x := range p.Splices {
		add(x.Name, "splice", "splice", i)
	}
	for i, x := range p.Plugs {
		add(x.Name, "plug", "plug", i)
	}
	return out
}

func (r *reader) names(p *Plan) {
	taken := map[string]string{}
	for _, fixed := range []string{"battery", "main", "charge", "alternator", "block", "frame"} {
		taken[fixed] = "a fixed part of every plan"
	}
	for _, x := range named(p) {
		r.name(x.name, x.what, x.place, taken)
	}
	modules := map[string]string{Loom: "the trunk"}
	for i, m := range p.Modules {
		r.name(m.Name, "module", fmt.Sprintf("module[%d]", i), modules)
	}
	wires := map[string]string{}
	for i, w := range p.Wires {
		r.name(w.Name, "wire", fmt.Sprintf("wire[%d]", i), wires)
	}
}

func (r *reader) name(name, what, place string, taken map[string]string) {
	at := place + ".name"
	switch {
	case name == "":
		r.on(place, "this %s has no name: give it one", what)
	case strings.ContainsAny(name, ".,=|~"):
		r.on(at, "%s %q has one of . , = | ~ in its name: take it out", what, name)
	case taken[name] != "":
		r.on(at, "the name %q is used twice, it is already %s: give each its own", name, taken[name])
	default:
		taken[name] = "a " + what
		if line := r.lines.of(place); line > 1 {
			taken[name] += fmt.Sprintf(" on line %d", line)
		}
	}
}

// oneOf notes a word that is none of those allowed.
func (r *reader) oneOf(place, what, have string, allowed ...string) {
	if slices.Contains(allowed, have) {
		return
	}
	var show []string
	for _, a := range allowed {
		if a != "" {
			show = append(show, a)
		}
	}
	r.on(place, "%s is %q: write one of %s", what, have, strings.Join(show, ", "))
}

func (r *reader) rating(place string, x float64) {
	if _, ok := FuseOf(x); ok || x <= 0 {
		return
	}
	under, over := 0.0, 0.0
	for _, f := range Fuses() {
		if f.Rating < x {
			under = f.Rating
		}
		if f.Rating > x && over == 0 {
			over = f.Rating
		}
	}
	say := trim(under) + " A or " + trim(over) + " A"
	if over == 0 {
		say = trim(under) + " A"
	}
	if under == 0 {
		say = trim(over) + " A"
	}
	r.on(place, "there is no blade fuse of %s A (ISO 8820-3): take %s", trim(x), say)
}

func (r *reader) words(p *Plan) {
	if p.Supply.Battery == "none" {
		r.on("supply.battery", "a plan without a battery cannot be followed: leave battery out, and draw one where the capacitor is")
	} else {
		r.oneOf("supply.battery", "the battery", p.Supply.Battery, "", "lead", "lithium")
	}
	r.rating("supply.main_fuse", p.Supply.MainFuse)
	r.rating("supply.charge_fuse", p.Supply.ChargeFuse)
	for i, w := range p.Block.Ways {
		place := fmt.Sprintf("block.way[%d]", i)
		r.rating(place+".fuse", w.Fuse)
		r.oneOf(place+".feed", "the feed", string(w.Feed), string(FromIgnition), string(FromBattery))
	}
	for i, l := range p.Loads {
		place := fmt.Sprintf("load[%d]", i)
		r.oneOf(place+".duty", "the duty", string(l.Duty), "", string(Steady), string(Brief), string(Peak))
		if _, ok := KindOf(l.Kind); !ok && l.Kind != "" {
			r.on(place+".kind", "there is no kind %q in the library: take one of %s, or give watts", l.Kind, kindNames())
		} else if l.Kind == "" && l.Watts == 0 && l.Amps == 0 {
			r.on(place, "load %q has neither watts, amps nor kind: give one", l.Name)
		}
	}
	for i, x := range p.Parts {
		place := fmt.Sprintf("part[%d]", i)
		r.oneOf(place+".kind", "the kind of part", x.Kind, "diode", "resistor", "flasher", "link")
		if x.Kind == "resistor" && x.Ohms == 0 {
			r.on(place, "resistor %q has no ohms: give them", x.Name)
		}
	}
	for i, x := range p.Plugs {
		place := fmt.Sprintf("plug[%d]", i)
		r.oneOf(place+".face", "the face", string(x.Face), string(WireEntry), string(Mating))
		r.oneOf(place+".shrouded", "the shrouded half", string(x.Shrouded), string(LoomHalf), string(ModuleHalf), string(NoHalf), string(BothHalves))
		r.oneOf(place+".loom_kind", "the loom half", x.LoomKind, "", "plug", "socket")
		seen := map[int]bool{}
		for k, c := range x.Fill {
			at := fmt.Sprintf("%s.fill[%d]", place, k)
			if c.Number < 1 || c.Number > x.Cavities {
				r.on(at, "plug %q has no cavity %d: it has 1 to %d", x.Name, c.Number, x.Cavities)
			} else if seen[c.Number] {
				r.on(at, "cavity %d of plug %q is filled twice: keep one line", c.Number, x.Name)
			}
			seen[c.Number] = true
		}
	}
	for i, w := range p.Wires {
		for _, c := range [][2]string{{"colour", w.Colour}, {"tracer", w.Tracer}} {
			if code := c[1]; code != "" && mapping.Colour(code).Order() == 0 {
				r.on(fmt.Sprintf("wire[%d].%s", i, c[0]), "%q is no colour of IEC 60757: write two letters, such as BU, and the tracer by itself", code)
			}
		}
	}
	for i, b := range p.Bypasses {
		if b.Interlock == "" || b.How == "" {
			r.on(fmt.Sprintf("bypass[%d]", i), "a bypass needs interlock and how: name the switch that is gone around, and where its wires are joined")
		}
	}
	for i, e := range p.Expected {
		if e.Kind == "" || e.Where == "" || e.Why == "" {
			r.on(fmt.Sprintf("expected[%d]", i), "an expected finding needs kind, where and why: copy kind and where from the finding and say why it is meant")
		}
	}
}

func kindNames() string {
	var out []string
	for _, k := range Kinds() {
		out = append(out, k.Name)
	}
	return strings.Join(out, ", ")
}
