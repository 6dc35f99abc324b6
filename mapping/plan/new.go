package plan

import (
	"fmt"
	"slices"
	"strings"

	"bellout/mapping"
)

// NewPod is a pod of a job as a first plan is made from it. PodFile and MapFile
// name where its description and map are written; Functions is what the job
// calls its ends, with DIN 72552 numbers where there are any.
type NewPod struct {
	Name      string
	Module    string
	PodFile   string
	MapFile   string
	Desc      mapping.Pod
	Map       mapping.Map
	Ohms      []Measured
	Functions map[mapping.EndID]Function
	Key       string   // the switch that is the ignition key
	KeyOff    []string // its positions in which the machine is off
}

// Function is what an end is for.
type Function struct {
	What string
	Din  string
}

// New makes a first plan of a job: a module, plug and wires for every pod; for
// every end whose function is known, the loads, relays and feeds that usually
// go with it (common practice); ways, earths and supply. Lengths are guesses
// and loads are typical ones: both want the builder's eye. Fuses and sizes are
// worked out.
func New(name string, pods []NewPod) Plan {
	b := &builder{p: Plan{Name: name, Revision: "A", Volts: 12, Temperature: 60, Insulation: 105, DropPercent: 5,
		Note:   "A first plan, made from the maps of the job. Lengths are guesses and loads typical ones: measure and mend.",
		Supply: Supply{Battery: "lead", MainFuseMM: 150, AlternatorWatts: 200, ChargeFuseMM: 150, ContactAmps: 10}}}
	b.p.Block.Module = "tray"
	b.modules(pods)
	b.supply(pods)
	for i := range pods {
		b.pod(&pods[i])
	}
	b.outside()
	return Fill(b.p)
}

// load ends by DIN 72552 number, and what usually hangs on them.
var usual = []struct {
	din   string
	loads []usualLoad
}{
	{"L", []usualLoad{{"left front", "front", "indicator 10 W"}, {"left rear", "rear", "indicator 10 W"}}},
	{"R", []usualLoad{{"right front", "front", "indicator 10 W"}, {"right rear", "rear", "indicator 10 W"}}},
	{"56a", []usualLoad{{"headlamp main", "front", "headlamp main halogen"}}},
	{"56b", []usualLoad{{"headlamp dip", "front", "headlamp dip halogen"}}},
	{"58", []usualLoad{{"tail", "rear", "tail lamp"}, {"position", "front", "position lamp"}}},
	{"57", []usualLoad{{"position", "front", "position lamp"}}},
	{"54", []usualLoad{{"brake", "rear", "brake lamp"}}},
	{"71", []usualLoad{{"horn", "front", "horn"}}},
	{"50", []usualLoad{{"starter", "engine", "starter motor"}}},
	{"1", []usualLoad{{"ignition", "engine", "ignition coil"}}},
}

type usualLoad struct{ name, module, kind string }

type builder struct {
	p       Plan
	outs    map[string][]string // load's function -> where it comes out of the loom
	cavity  map[string]int      // next free cavity of a plug
	colours int
}

func (b *builder) wire(from, to, in, what string, length float64) {
	code := mapping.Colours()
	k := b.colours % (len(code) * len(code))
	b.colours++
	base, tracer := string(code[k%len(code)]), string(code[(k/len(code)+k)%len(code)])
	if base == tracer {
		tracer = ""
	}
	b.p.Wires = append(b.p.Wires, Wire{Name: "w" + itoa(len(b.p.Wires)+1), From: from, To: to, Colour: base, Tracer: tracer, Length: length, In: in, What: what})
}

func (b *builder) modules(pods []NewPod) {
	add := func(name, place string) {
		if name != Loom && !slices.ContainsFunc(b.p.Modules, func(m Module) bool { return m.Name == name }) {
			b.p.Modules = append(b.p.Modules, Module{name, place})
		}
	}
	for i := range pods {
		if pods[i].Module == "" {
			pods[i].Module = pods[i].Name
		}
		add(pods[i].Module, "headstock")
	}
	add("front", "headlamp")
	add("rear", "rear mudguard")
	add("engine", "engine")
	add("charging", "regulator")
	add("tray", "under the seat")
}

func (b *builder) supply(pods []NewPod) {
	b.p.Earths = []Earth{{Name: "E1", Place: "main stud, bare metal", Main: true}}
	b.wire("battery.+", "main.in", Loom, "battery plus", 0.15)
	b.wire("E1", "battery.-", Loom, "main earth", 0.4)
	b.wire("main.out", "block.30", Loom, "feed 30", 0.3)
	b.wire("alternator.+", "charge.in", Loom, "charge plus", 1)
	b.wire("charge.out", "battery.+", Loom, "charge plus", 0.15)
	b.wire("alternator.-", "battery.-", Loom, "charge earth", 1)
	keyed := slices.ContainsFunc(pods, func(x NewPod) bool { return x.Key != "" && x.end("15") != "" && x.end("30") != "" })
	if !keyed {
		b.wire("main.out", "block.15", Loom, "feed 15", 0.3)
		return
	}
	b.p.Relays = append(b.p.Relays, Relay{Name: "RI", ContactAmps: 30, Suppressed: true, What: "ignition relay"})
	b.wire("main.out", "RI.30", Loom, "feed", 0.3)
	b.wire("RI.87", "block.15", Loom, "feed 15", 0.3)
	b.wire("RI.85", "E1", Loom, "relay earth", 0.4)
}

// end finds the end with a DIN number.
func (x NewPod) end(din string) mapping.EndID {
	for _, e := range x.Desc.Ends {
		if x.Functions[e.ID].Din == din {
			return e.ID
		}
	}
	return ""
}

// pod adds a pod with its plug, and what its ends lead to.
func (b *builder) pod(x *NewPod) {
	pod := Pod{Name: x.Name, Module: x.Module, PodFile: x.PodFile, MapFile: x.MapFile, Ohms: x.Ohms, WireMM2: 0.5, Key: x.Key, KeyOff: x.KeyOff, Desc: x.Desc, Map: x.Map}
	if x.PodFile == "" || x.MapFile == "" {
		pod.PodFile, pod.MapFile = "", ""
		pod.fromDesc()
	}
	plug := Plug{Name: "P" + itoa(len(b.p.Plugs)+1), Module: x.Module, Rows: 1, Face: WireEntry, Shrouded: LoomHalf, Place: "headstock"}
	for _, e := range x.Desc.Ends {
		f := x.Functions[e.ID]
		if e.Kind == mapping.Body {
			pod.BodyTo = "E1"
			continue
		}
		if f.What == "" && f.Din == "" {
			continue
		}
		n := len(plug.Fill) + 1
		what := f.What
		if what == "" {
			what = f.Din
		}
		plug.Fill = append(plug.Fill, Cavity{Number: n, What: what, Din: f.Din, Old: e.Cavity})
		at := fmt.Sprintf("%s.%d", plug.Name, n)
		b.p.Wires = append(b.p.Wires, Wire{Name: "w" + itoa(len(b.p.Wires)+1), From: x.Name + "." + string(e.ID), To: at, MM2: 0.5,
			Colour: string(e.Base), Tracer: string(e.Tracer), Length: 0.3, In: x.Module, What: what})
		b.lead(x, e.ID, at, what)
	}
	b.p.Pods = append(b.p.Pods, pod)
	b.size(&plug, len(plug.Fill))
	b.p.Plugs = append(b.p.Plugs, plug)
}

// size gives a plug one or two spare cavities and a number of ways that no
// other plug has.
func (b *builder) size(plug *Plug, used int) {
	plug.Cavities = max(used, 1) + 1
	for slices.ContainsFunc(b.p.Plugs, func(o Plug) bool { return o.Cavities == plug.Cavities }) {
		plug.Cavities++
	}
	plug.Housing = fmt.Sprintf("%d-way", plug.Cavities)
}

// lead wires the loom's side of a pod's end.
func (b *builder) lead(x *NewPod, id mapping.EndID, at, what string) {
	f := x.Functions[id]
	switch {
	case f.Din == "15" && x.Key != "" && len(b.p.Relays) > 0 && b.p.Relays[0].Name == "RI":
		b.wire(at, "RI.86", Loom, what, 0.9)
	case f.Din == "30":
		b.wire(b.way(FromBattery, what), at, Loom, what, 0.9)
	case f.Din == "31":
		b.wire(at, "E1", Loom, what, 0.8)
	case f.Din == "56a" || f.Din == "56b" || f.Din == "50" || f.Din == "71":
		b.relay(f.Din, at, what)
	case f.Din == "49a":
		b.p.Parts = append(b.p.Parts, Part{Name: "FL", Kind: "flasher"})
		b.wire(b.way(FromIgnition, "indicators"), "FL.49", Loom, "49", 0.3)
		b.wire("FL.49a", at, Loom, what, 1)
	case loadsOf(f.Din) != nil:
		b.out(f.Din, at)
	case x.feeds(id):
		b.wire(b.way(FromIgnition, what), at, Loom, what, 1)
	}
}

func loadsOf(din string) []usualLoad {
	for _, u := range usual {
		if u.din == din {
			return u.loads
		}
	}
	return nil
}

// feeds tells whether some contact joins an end to one that feeds a load.
func (x NewPod) feeds(id mapping.EndID) bool {
	for _, l := range x.Map.Links {
		other := l.B
		if l.B == id {
			other = l.A
		} else if l.A != id {
			continue
		}
		if f := x.Functions[other]; loadsOf(f.Din) != nil {
			return true
		}
	}
	return false
}

func (b *builder) way(feed Feed, what string) string {
	name := "W" + itoa(len(b.p.Block.Ways)+1)
	b.p.Block.Ways = append(b.p.Block.Ways, Way{Name: name, Feed: feed, What: what})
	return name
}

// relay lets a pod's end work a coil, and feeds the load from a way or, for
// the starter, from the battery.
func (b *builder) relay(din, at, what string) {
	name := map[string]string{"56a": "RM", "56b": "RD", "50": "RS", "71": "RH"}[din]
	if slices.ContainsFunc(b.p.Relays, func(r Relay) bool { return r.Name == name }) {
		b.wire(at, name+".86", Loom, what, 1)
		return
	}
	r := Relay{Name: name, ContactAmps: 30, Suppressed: true, What: what}
	if din == "50" {
		r.ContactAmps, r.CoilOhms = 150, 12
	}
	b.p.Relays = append(b.p.Relays, r)
	b.wire(at, name+".86", Loom, what, 1)
	b.wire(name+".85", "E1", Loom, "relay earth", 0.4)
	if din == "50" {
		b.wire("battery.+", name+".30", Loom, "starter cable", 0.2)
		b.wire(name+".87", "starter.+", Loom, "starter cable", 0.6)
		b.wire("starter.-", "battery.-", Loom, "starter earth", 0.6)
		b.p.Loads = append(b.p.Loads, Load{Name: "starter", Module: "engine", Kind: "starter motor"})
		return
	}
	b.wire(b.way(FromIgnition, what), name+".30", Loom, what+" feed", 0.3)
	b.out(din, name+".87")
}

func (b *builder) out(din, at string) {
	if b.outs == nil {
		b.outs = map[string][]string{}
	}
	b.outs[din] = append(b.outs[din], at)
}

// outside adds the modules that pods do not bring: their plugs, loads, earths.
func (b *builder) outside() {
	for _, module := range []string{"front", "rear", "engine"} {
		b.module(module)
	}
}

func (b *builder) module(module string) {
	plug := Plug{Name: "P" + itoa(len(b.p.Plugs)+1), Module: module, Rows: 1, Face: WireEntry, Shrouded: LoomHalf, Place: module}
	cavity := func(what, din string) string {
		plug.Fill = append(plug.Fill, Cavity{Number: len(plug.Fill) + 1, What: what, Din: din})
		return fmt.Sprintf("%s.%d", plug.Name, len(plug.Fill))
	}
	var earthed, own []string
	for _, u := range usual {
		from := b.outs[u.din]
		if len(from) == 0 || u.din == "50" {
			continue
		}
		for _, l := range u.loads {
			if l.module != module || slices.ContainsFunc(b.p.Loads, func(x Load) bool { return x.Name == l.name }) {
				continue
			}
			src := b.splice(u.din, from)
			what := b.whatAt(src, u.din)
			at := cavity(what, u.din)
			b.p.Loads = append(b.p.Loads, Load{Name: l.name, Module: module, Kind: l.kind})
			b.wire(src, at, Loom, what, 1)
			b.wire(at, l.name+".+", module, what, 0.3)
			if k, _ := KindOf(l.kind); k.Group == Headlamp || k.Group == Ignition {
				own = append(own, l.name)
			} else {
				earthed = append(earthed, l.name)
			}
		}
	}
	if len(plug.Fill) == 0 {
		return
	}
	plug.Fill = append(plug.Fill, Cavity{Number: len(plug.Fill) + 1, What: "free, between feeds and earths", Blank: true})
	for i, set := range [][]string{own, earthed} {
		if len(set) == 0 {
			continue
		}
		what := []string{"own earth", "earth"}[i]
		at := cavity(what, "31")
		join := at
		if len(set) > 1 {
			join = fmt.Sprintf("%s%d", strings.ToUpper(module[:1]), i+1)
			b.p.Splices = append(b.p.Splices, Splice{Name: join, Place: module, Module: module})
			b.wire(join, at, module, what, 0.2)
		}
		for _, name := range set {
			b.wire(name+".-", join, module, what, 0.3)
		}
		b.wire(at, "E1", Loom, what, 0.9)
	}
	b.size(&plug, len(plug.Fill))
	b.p.Plugs = append(b.p.Plugs, plug)
}

// splice joins all the places that a function comes out at, once.
func (b *builder) splice(din string, from []string) string {
	name := "S" + din
	if slices.ContainsFunc(b.p.Splices, func(s Splice) bool { return s.Name == name }) {
		return name
	}
	total := 0
	for _, l := range loadsOf(din) {
		if l.module != "" {
			total++
		}
	}
	if len(from) == 1 && total == 1 {
		return from[0]
	}
	b.p.Splices = append(b.p.Splices, Splice{Name: name, Place: "steering head"})
	for _, f := range from {
		b.wire(f, name, Loom, b.whatAt(f, din), 0.2)
	}
	return name
}

// whatAt is what the fill of a cavity calls it, else the DIN number.
func (b *builder) whatAt(point, din string) string {
	name, cavity, _ := strings.Cut(point, ".")
	for _, pl := range b.p.Plugs {
		if pl.Name != name {
			continue
		}
		for _, c := range pl.Fill {
			if itoa(c.Number) == cavity {
				return c.What
			}
		}
	}
	return din
}

// fromDesc writes a pod's table into the plan itself.
func (p *Pod) fromDesc() {
	for _, e := range p.Desc.Ends {
		id := string(e.ID)
		p.Ends = append(p.Ends, id)
	}
	for _, s := range p.Desc.Switches {
		in := InlineSwitch{Name: string(s.Name), Rest: string(s.Rest), Momentary: s.Momentary}
		for _, q := range s.Positions {
			in.Positions = append(in.Positions, string(q))
		}
		p.Switches = append(p.Switches, in)
	}
	for _, l := range p.Map.Links {
		alts := l.When
		if len(alts) == 0 {
			alts = []mapping.Condition{nil}
		}
		for _, c := range alts {
			one := mapping.Link{A: l.A, B: l.B}
			text := ""
			if len(c) > 0 {
				one.When = []mapping.Condition{c}
				text = whenText(*p, one)
			}
			p.Contacts = append(p.Contacts, InlineContact{Join: []string{string(l.A), string(l.B)}, When: text, Grade: l.Grade.String()})
		}
	}
}
