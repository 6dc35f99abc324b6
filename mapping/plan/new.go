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
	pods = ownNames(withoutUnused(pods))
	key := keyContacts(pods)
	chosen := append(joinedInside(pods), chooseSides(pods)...)
	b := &builder{}
	for tied := [][2]string{}; ; {
		b = newBuilder(name, pods, tied)
		more := b.tiedFeeds()
		if len(more) == 0 {
			break
		}
		tied = append(tied, more...)
	}
	left = slices.Concat(key, b.leftOver(pods), chosen, nobodyKnows(pods))
	b.note(left)
	b.p = Fill(b.p)
	b.meant(pods)
	return b.p, left
}

// newBuilder lays a plan out. Feeds that are tied share a way.
func newBuilder(name string, pods []NewPod, tied [][2]string) *builder {
	b := &builder{p: Plan{Name: name, Revision: "A", Volts: 12, Temperature: 60, Insulation: 105, DropPercent: 5,
		Note:   "A first plan, made from the maps of the job. Lengths are guesses and loads typical ones: measure and mend.",
		Supply: Supply{Battery: "lead", MainFuseMM: 150, AlternatorWatts: 200, ChargeFuseMM: 150, ContactAmps: 10}},
		tied: tied, outs: map[string][]string{}, worked: map[string][]podEnd{}}
	b.p.Block.Module = "tray"
	if i := slices.IndexFunc(pods, func(x NewPod) bool { return x.does(killIn) != "" && x.does(killOut) != "" }); i >= 0 {
		b.killPod = pods[i].Name
	}
	b.modules(pods)
	b.supply(pods)
	for i := range pods {
		b.pod(&pods[i])
	}
	b.starts()
	b.outside()
	b.works(pods)
	b.p.dealColours()
	return b
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

// The two sides of a kill contact that lets the supply through, as the pinout calls them:
// DIN 72552 has 15 for both.
const (
	killIn  = "kill in"
	killOut = "kill out"
)

// job is the DIN 72552 number of an end, or that it is a horn's or a side of the kill
// contact; empty if there is none.
func (f Function) job() string {
	for _, side := range []string{killIn, killOut} {
		if strings.Contains(f.What, side+",") {
			return side
		}
	}
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
	outs    map[string][]string // a job -> where it comes out of the loom
	worked  map[string][]podEnd // a job -> the pod ends that bring it out
	sources []source
	behind  []podEnd    // ends that are to be fed behind the kill contact
	tied    [][2]string // points that have to hang on one way
	killPod string      // the pod whose kill contact the ignition hangs behind
	keyed   string      // the pod whose key works the ignition relay
}

// podEnd is an end of a pod, and the cavity that it comes to.
type podEnd struct {
	pod string
	end mapping.EndID
	at  string
}

// source is a point that the loom feeds, by what way. Pod and end are empty for a relay or a
// flasher.
type source struct {
	podEnd
	way    string // empty behind the kill contact
	killed bool
}

func (b *builder) wire(from, to, in, what string, length float64) {
	b.p.Wires = append(b.p.Wires, Wire{Name: "w" + itoa(len(b.p.Wires)+1), From: from, To: to, Length: length, In: in, What: what})
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
	i := slices.IndexFunc(pods, NewPod.keyed)
	if i < 0 {
		b.wire("main.out", "block.15", Loom, "feed 15", 0.3)
		return
	}
	b.keyed = pods[i].Name
	b.p.Relays = append(b.p.Relays, Relay{Name: "RI", ContactAmps: 30, Suppressed: true, What: "ignition relay"})
	b.wire("main.out", "RI.30", Loom, "feed", 0.3)
	b.wire("RI.87", "block.15", Loom, "feed 15", 0.3)
	b.wire("RI.85", "E1", Loom, "relay earth", 0.4)
}

// keyed tells whether both sides of a pod's ignition key are known.
func (x NewPod) keyed() bool { return x.Key != "" && x.end("15") != "" && x.end("30") != "" }

// end finds the end with a DIN number.
func (x NewPod) end(din string) mapping.EndID {
	return x.first(func(f Function) bool { return !f.Either && f.Din == din })
}

// does finds the end with a job that is settled.
func (x NewPod) does(job string) mapping.EndID {
	return x.first(func(f Function) bool { return !f.Either && f.job() == job })
}

func (x NewPod) first(is func(Function) bool) mapping.EndID {
	for _, e := range x.Desc.Ends {
		if is(x.Functions[e.ID]) {
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
	f, here := x.Functions[id], podEnd{x.Name, id, at}
	job := f.job()
	switch {
	case f.Either: // which of the two is fed is the builder's to choose
	case job == killIn && x.Name == b.killPod:
		b.feed(FromIgnition, what, here)
	case job == killOut && x.Name == b.killPod:
		b.out("1", here)
	case job == killIn || job == killOut: // of a second kill contact: beside the first, neither would stop the engine
	case x.Name == b.keyed && id == x.end("15"):
		b.wire(at, "RI.86", Loom, what, 0.9)
	case f.Din == "30":
		b.feed(FromBattery, what, here)
	case f.Din == "31":
		b.wire(at, "E1", Loom, what, 0.8)
	case job == "56a" || job == "56b" || job == "50" || job == horn:
		b.relay(job, here, what)
	case f.Din == "49a":
		b.flasher(here, what)
	case loadsOf(job) != nil:
		b.out(job, here)
	case slices.Equal(x.feeds(id), []string{"50"}):
		b.behind = append(b.behind, here)
	case x.feeds(id) != nil:
		b.feed(FromIgnition, what, here)
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

// feeds lists the jobs of the ends that some contact joins to one, those that feed a load.
func (x NewPod) feeds(id mapping.EndID) []string {
	var out []string
	for _, l := range x.Map.Links {
		other := l.B
		if l.B == id {
			other = l.A
		} else if l.A != id {
			continue
		}
		if f := x.Functions[other]; !f.Either && loadsOf(f.job()) != nil && !slices.Contains(out, f.job()) {
			out = append(out, f.job())
		}
	}
	return out
}
