package plan

import (
	"strings"

	"bellout/mapping"
)

// network is a plan as points and what joins them. Points that are joined for
// good are contracted into one node, so that a setting costs only its
// contacts.
type network struct {
	plan  *Plan
	names []string       // points
	at    map[string]int // point by name
	node  []int          // point -> contracted node
	nodes int

	edges    []edge // wires, plugs, fuses that are in, body contacts
	contacts []contact
	gates    []gateEdge
	diodes   []pair
	ways     []wayEdge
	loads    []loadEdge // loads, relay coils, resistors
	switches []netSwitch

	plus, minus int // nodes of the battery's lugs
}

type pair struct {
	a, b int
	name string
}

type edge struct {
	a, b int // points
	via  string
	wire int // index of the plan's wire, -1
	ohms float64
}

type term struct {
	sw   int
	mask uint32
}

type contact struct {
	pa, pb, a, b int // points, nodes
	pod, link    int
	when         [][]term
	ohms         float64
}

type gateKind int

const (
	makes  gateKind = iota // relay 30-87
	breaks                 // relay 30-87a
	blinks                 // flasher 49-49a
)

// gateEdge is a join that holds or not by what is fed elsewhere.
type gateEdge struct {
	pa, pb, a, b int
	kind         gateKind
	c1, c2       int // coil nodes; c1 the flasher's 31, -1 if it has none
	name         string
}

type wayEdge struct {
	bus, out int // nodes
	busP     int // points
	outP     int
	way      int
}

type loadEdge struct {
	plus, minus   int // nodes
	plusP, minusP int
	load          int // index of the plan's load, -1 for coils and resistors
	name          string
	ohms          float64
	led           bool
	stops         bool    // runs unless its plus is at earth, and is never to be fed
	nominal       float64 // amps
	lasts         Duty
	group         Group
}

type netSwitch struct {
	pod  int
	name string // "left.dip"
	sw   mapping.Switch
	rest int
}

// without names what is taken out for a what-if: "plug PL", "wire w12".
type without map[string]bool

func (n *network) point(name string) int {
	if i, ok := n.at[name]; ok {
		return i
	}
	n.at[name] = len(n.names)
	n.names = append(n.names, name)
	return len(n.names) - 1
}

// moduleSide marks the point of a cavity on the module's half.
const moduleSide = "~"

// shown is a point as a person reads it.
func shown(point string) string { return strings.TrimSuffix(point, moduleSide) }

// landing is the point that a wire's end touches: for a cavity it depends on
// the half.
func landing(p *Plan, w Wire, end string) string {
	name, _, _ := strings.Cut(end, ".")
	if w.In == Loom || w.In == "" {
		return end
	}
	for _, pl := range p.Plugs {
		if pl.Name == name && pl.Module == w.In {
			return end + moduleSide
		}
	}
	return end
}

// ends are the points that a wire's ends touch.
func (n *network) ends(w Wire) (from, to int) {
	return n.at[landing(n.plan, w, w.From)], n.at[landing(n.plan, w, w.To)]
}

// addCoil adds what is no load of the plan but draws current. A coil of more
// than half an amp is a starter relay's, and works for a moment.
func (n *network) addCoil(plus, minus int, name string, ohms float64) {
	l := loadEdge{plusP: plus, minusP: minus, load: -1, name: name, ohms: ohms, nominal: n.plan.Volts / max(ohms, 1e-6), lasts: Steady}
	if l.nominal > 0.5 {
		l.lasts = Peak
	}
	n.loads = append(n.loads, l)
}

func compile(p *Plan, out without) *network {
	n := &network{plan: p, at: map[string]int{}}
	n.point("battery.+")
	n.point("battery.-")
	n.addSupply(out)
	n.addWires(out)
	n.addPods()
	n.addRest()
	n.contract()
	return n
}

func (n *network) join(a, b, via string, wire int, ohms float64) {
	n.edges = append(n.edges, edge{n.point(a), n.point(b), via, wire, ohms})
}

const (
	fuseOhms    = 0.003 // blade fuse and its holder
	cavityOhms  = 0.003 // a crimped and mated terminal pair
	contactOhms = 0.02  // a pod contact that nobody measured
	frameOhms   = 0.002
)

// onFrame is the frame as a point, and what joins an earth to it.
const onFrame = "frame"

func (n *network) addSupply(out without) {
	p := n.plan
	n.join("main.in", "main.out", "main fuse", -1, fuseOhms)
	n.join("charge.in", "charge.out", "charging fuse", -1, fuseOhms)
	for _, e := range p.Earths {
		if e.Main || e.OnFrame {
			n.join(e.Name, onFrame, onFrame, -1, frameOhms)
		}
	}
	for _, pl := range p.Plugs {
		if out["plug "+pl.Name] {
			continue
		}
		for c := 1; c <= pl.Cavities; c++ {
			at := pl.Name + "." + itoa(c)
			n.join(at, at+moduleSide, "plug "+pl.Name, -1, cavityOhms)
		}
	}
}

func (n *network) addWires(out without) {
	p := n.plan
	for i, w := range p.Wires {
		if out["wire "+w.Name] {
			continue
		}
		n.join(landing(p, w, w.From), landing(p, w, w.To), w.Name, i, p.wireOhms(w))
	}
}

// wireOhms is a wire's resistance in the harness's warmth. One without a size, which only Fill
// looks at, counts as 1 mm2 until it has one.
func (p *Plan) wireOhms(w Wire) float64 {
	mm := w.MM2
	if mm <= 0 {
		mm = 1
	}
	return max(anySize(mm).OhmsPerKM/1000*w.Length*WarmFactor(p.Temperature), 1e-4)
}

// resize gives the wires the resistance of the sizes that the plan has now.
func (n *network) resize() {
	for i, e := range n.edges {
		if e.wire >= 0 {
			n.edges[i].ohms = n.plan.wireOhms(n.plan.Wires[e.wire])
		}
	}
}

func (n *network) addPods() {
	for pi, pod := range n.plan.Pods {
		first := len(n.switches)
		for _, sw := range pod.Desc.Switches {
			n.switches = append(n.switches, netSwitch{pi, pod.Name + "." + string(sw.Name), sw, max(sw.Index(sw.Rest), 0)})
		}
		for _, e := range pod.Desc.Ends {
			at := pod.Name + "." + string(e.ID)
			n.point(at)
			if e.Kind == mapping.Body && pod.BodyTo != "" {
				n.join(at, pod.BodyTo, pod.Name+" body", -1, frameOhms)
			}
		}
		for li, l := range pod.Map.Links {
			a, b := pod.Name+"."+string(l.A), pod.Name+"."+string(l.B)
			ohms := pod.ohms(l)
			c := contact{pa: n.point(a), pb: n.point(b), pod: pi, link: li, ohms: ohms}
			always := len(l.When) == 0
			for _, cond := range l.When {
				var ts []term
				for _, t := range cond {
					ts = append(ts, term{n.findSwitch(first, string(t.Switch)), maskOf(pod.Desc, t)})
				}
				always = always || len(ts) == 0
				c.when = append(c.when, ts)
			}
			if always {
				n.join(a, b, "inside "+pod.Name, -1, ohms)
				continue
			}
			n.contacts = append(n.contacts, c)
		}
	}
}

func (n *network) findSwitch(from int, name string) int {
	for i := from; i < len(n.switches); i++ {
		if string(n.switches[i].sw.Name) == name {
			return i
		}
	}
	return -1
}

func maskOf(p mapping.Pod, t mapping.Term) uint32 {
	sw, _ := p.Switch(t.Switch)
	var m uint32
	for _, q := range t.Positions {
		if i := sw.Index(q); i >= 0 {
			m |= 1 << i
		}
	}
	return m
}

// ohms is what was measured between a link's ends.
func (p Pod) ohms(l mapping.Link) float64 {
	for _, m := range p.Ohms {
		if len(m.Between) == 2 && (m.Between[0] == string(l.A) && m.Between[1] == string(l.B) ||
			m.Between[0] == string(l.B) && m.Between[1] == string(l.A)) {
			return max(m.Ohms, 1e-4)
		}
	}
	return contactOhms
}
