package plan

import (
	"fmt"
	"slices"
	"strings"

	"bellout/mapping"
)

// NewPod is a pod of a job as a first plan is made from it. PodFile and MapFile
// name where its description and map are written; Functions is what the job
// calls its ends, with DIN 72552 numbers where there are any. Insulate are the
// ends that the builder has decided to insulate, Leave those that stay uncut on the old
// plug.
type NewPod struct {
	Name      string
	Module    string
	PodFile   string
	MapFile   string
	Desc      mapping.Pod
	Map       mapping.Map
	Ohms      []Measured
	Functions map[mapping.EndID]Function
	Insulate  []mapping.EndID
	Leave     []mapping.EndID
	Key       string   // the switch that is the ignition key
	KeyOff    []string // its positions in which the machine is off
}

// Function is what an end is for. Either says that it is one of two that can
// change places: New chooses where it knows what hangs on them, and says so.
type Function struct {
	What   string
	Din    string
	Either bool
}

// New makes a first plan of a job: a module, plug and wires for every pod; for
// every end whose function is known, the loads, relays and feeds that usually
// go with it (common practice); ways, earths and supply. Lengths are guesses
// and loads are typical ones: both want the builder's eye. Fuses and sizes are
// worked out. What is left to the builder is said in sentences, and in the
// plan's note: ends insulated, and functions with a cavity that leads nowhere.
func New(name string, pods []NewPod) (p Plan, left []string) {
	b := &builder{p: Plan{Name: name, Revision: "A", Volts: 12, Temperature: 60, Insulation: 105, DropPercent: 5,
		Note:   "A first plan, made from the maps of the job. Lengths are guesses and loads typical ones: measure and mend.",
		Supply: Supply{Battery: "lead", MainFuseMM: 150, AlternatorWatts: 200, ChargeFuseMM: 150, ContactAmps: 10}}}
	b.p.Block.Module = "tray"
	pods = withoutUnused(pods)
	chosen := chooseSides(pods)
	b.modules(pods)
	b.supply(pods)
	for i := range pods {
		b.pod(&pods[i])
	}
	b.outside()
	left = append(b.leftOver(pods), chosen...)
	b.note(left)
	b.p = Fill(b.p)
	b.meant(pods)
	return b.p, left
}

// usual is what ends usually lead to, by their job (see Function.job).
var usual = []struct {
	job   string
	loads []usualLoad
}{
	{"L", []usualLoad{{"left front", "front", "indicator 10 W"}, {"left rear", "rear", "indicator 10 W"}}},
	{"R", []usualLoad{{"right front", "front", "indicator 10 W"}, {"right rear", "rear", "indicator 10 W"}}},
	{"56a", []usualLoad{{"headlamp main", "front", "headlamp main halogen"}}},
	{"56b", []usualLoad{{"headlamp dip", "front", "headlamp dip halogen"}}},
	{"58", []usualLoad{{"tail", "rear", "tail lamp"}, {"position", "front", "position lamp"}}},
	{"57", []usualLoad{{"position", "front", "position lamp"}}},
	{"54", []usualLoad{{"brake", "rear", "brake lamp"}}},
	{horn, []usualLoad{{"horn", "front", "horn"}}},
	{"50", []usualLoad{{"starter", "engine", "starter motor"}}},
	{"1", []usualLoad{{"ignition", "engine", "ignition coil"}}},
}

// horn is the job of an end that sounds one: no terminal of DIN 72552 is a plain horn's
// (71 is for tone sequences).
const horn = "horn"

// job is the DIN 72552 number of an end, or that it is a horn's; empty if there is none.
func (f Function) job() string {
	if what, _, _ := strings.Cut(f.What, ","); f.Din == "71" || f.Din == "" && what == horn {
		return horn
	}
	return f.Din
}

// dinOf is the number that stands on paper for a job.
func dinOf(job string) string {
	if job == horn {
		return ""
	}
	return job
}

type usualLoad struct{ name, module, kind string }

type builder struct {
	p       Plan
	outs    map[string][]string // load's function -> where it comes out of the loom
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
	job := f.job()
	switch {
	case f.Either: // which of the two is fed is the builder's to choose
	case f.Din == "15" && x.Key != "" && len(b.p.Relays) > 0 && b.p.Relays[0].Name == "RI":
		b.wire(at, "RI.86", Loom, what, 0.9)
	case f.Din == "30":
		b.wire(b.way(FromBattery, what), at, Loom, what, 0.9)
	case f.Din == "31":
		b.wire(at, "E1", Loom, what, 0.8)
	case job == "56a" || job == "56b" || job == "50" || job == horn:
		b.relay(job, at, what)
	case f.Din == "49a":
		b.p.Parts = append(b.p.Parts, Part{Name: "FL", Kind: "flasher"})
		b.wire(b.way(FromIgnition, "indicators"), "FL.49", Loom, "49", 0.3)
		b.wire("FL.49a", at, Loom, what, 1)
	case loadsOf(job) != nil:
		b.out(job, at)
	case x.feeds(id):
		b.wire(b.way(FromIgnition, what), at, Loom, what, 1)
	}
}

func loadsOf(job string) []usualLoad {
	for _, u := range usual {
		if u.job == job {
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
		if f := x.Functions[other]; !f.Either && loadsOf(f.job()) != nil {
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
