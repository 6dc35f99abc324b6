package plan

import (
	"fmt"
	"slices"
	"strings"

	"bellout/mapping"
)

// Kinds of findings about grouping, earths, ends and what dies with what.
const (
	GroupLamps     = "headlamp-and-rear"
	GroupBrake     = "brake-and-indicators"
	GroupIgnition  = "ignition-not-alone"
	GroupAccessory = "accessory-not-alone"
	SharedEarth    = "shared-earth"
	OwnReturn      = "own-return"
	EarthNowhere   = "earth-nowhere"
	MainEarth      = "main-earth"
	Daisy          = "daisy-chain"
	LooseEnd       = "loose-end"
	BareEnd        = "bare-end"
	Unresolved     = "unresolved"
	Unproved       = "not-proved"
	DiesOutside    = "dies-outside"
	StaleMark      = "stale-mark"
)

func loomRules(p *Plan, f *facts) []Finding {
	var out []Finding
	add := func(kind, where, format string, args ...any) {
		out = append(out, Finding{Kind: kind, Where: where, Say: fmt.Sprintf(format, args...)})
	}
	groupRules(p, f, add)
	earthRules(p, f, add)
	chainRules(p, f, add)
	endRules(p, f, add)
	purposeRules(p, add)
	for _, w := range unplug(p, f.n, f) {
		for _, l := range w.Beyond {
			say := fmt.Sprintf("pulling plug %s kills %s, which is not in its module: give it feed and earth of its own, or mark it as meant", w.Where, l)
			if w.Kind == "fuse" {
				say = fmt.Sprintf("the fuse of %s kills %s, which it does not feed: feed its relay from its own way, or mark it as meant", w.Where, l)
			}
			add(DiesOutside, w.Kind+" "+w.Where+": "+l, "%s", say)
		}
	}
	return out
}

// groupRules are common practice: one blown fuse must not take away what is needed
// together.
func groupRules(p *Plan, f *facts, add adder) {
	for i, way := range p.Block.Ways {
		b := breaches(f.groupsOn(i))
		for _, k := range []string{GroupLamps, GroupBrake, GroupIgnition, GroupAccessory} {
			if b[k] {
				add(k, way.Name, "%s %s: move one of them to another way", way.Name, breachWords[k])
			}
		}
	}
}

var breachWords = map[string]string{
	GroupLamps:     "feeds both headlamp and rear lamp, and one blown fuse leaves the machine dark",
	GroupBrake:     "feeds the brake lamp and indicators, and one blown fuse leaves no signal at all",
	GroupIgnition:  "feeds the ignition along with something that can short at the roadside",
	GroupAccessory: "feeds an accessory along with something else, and accessories blow most",
}

func (f *facts) groupsOn(way int) []Group {
	var out []Group
	for li, l := range f.n.loads {
		if l.load >= 0 && f.ways[li]&(1<<way) != 0 {
			out = append(out, f.n.plan.Loads[l.load].GroupOf())
		}
	}
	return out
}

// breaches names the grouping rules that a set of loads on one fuse breaks.
func breaches(gs []Group) map[string]bool {
	has := func(g Group) bool { return slices.Contains(gs, g) }
	out := map[string]bool{
		GroupLamps: has(Headlamp) && has(Rear),
		GroupBrake: has(Brake) && has(Indicator),
	}
	for _, g := range gs {
		if g == "" { // a coil
			continue
		}
		switch g {
		case Ignition, Start, Motor:
		default:
			out[GroupIgnition] = out[GroupIgnition] || has(Ignition)
		}
		if g != Accessory {
			out[GroupAccessory] = out[GroupAccessory] || has(Accessory)
		}
	}
	return out
}

// earthRules takes out each earth wire of the loom in turn and sees whose
// loads lose their earth with it.
func earthRules(p *Plan, f *facts, add adder) {
	n := f.n
	for _, e := range p.Earths {
		if i, ok := n.at[e.Name]; !ok || n.node[i] != n.minus {
			add(EarthNowhere, e.Name, "earth %s does not reach battery minus: run a wire from the main stud to battery.-", e.Name)
		} else if e.Main && !n.wiredTo(i, n.at["battery.-"]) {
			add(MainEarth, e.Name, "main earth %s has no wire to battery.-, and all its current goes over frame and engine bolts: run a wire from %s to battery.-", e.Name, e.Name)
		}
	}
	for _, w := range p.Wires {
		a, _ := n.ends(w)
		if n.node[a] != n.minus || strings.Contains(w.From+" "+w.To, "battery.-") || w.In != Loom {
			continue
		}
		m := compile(p, without{"wire " + w.Name: true})
		modules := map[string]bool{}
		var names []string
		own, other := "", ""
		for li, l := range m.loads {
			was := n.loads[li] // points are numbered anew in m
			loses := n.node[was.minusP] == n.minus && m.node[l.minusP] != m.minus ||
				n.node[was.plusP] == n.minus && m.node[l.plusP] != m.minus
			if !loses {
				continue
			}
			module := "relay " + l.name
			if l.load >= 0 {
				module = p.Loads[l.load].Module
				switch g := p.Loads[l.load].GroupOf(); {
				case g == Headlamp || g == Ignition:
					own = l.name
				case f.fed[li]:
					other = l.name
				}
			}
			modules[module] = true
			names = append(names, l.name)
		}
		switch {
		case len(modules) > 1:
			add(SharedEarth, w.Name, "earth wire %s serves more than one module (%s): give each its own wire to the stud", w.Name, strings.Join(names, ", "))
		case own != "" && other != "":
			add(OwnReturn, w.Name, "earth wire %s serves %s along with %s: headlamp and ignition get their own return", w.Name, own, other)
		}
	}
}

// chainRules finds current that goes through the plug of a module that has
// nothing to do with it.
func chainRules(p *Plan, f *facts, add adder) {
	n := f.n
	for li, l := range n.loads {
		if f.best[li] == nil {
			continue
		}
		own := ""
		if l.load >= 0 {
			own = p.Loads[l.load].Module
		}
		path := f.path(li)
		for _, pl := range p.Plugs {
			if pl.Module == own {
				continue
			}
			var visits []int // where the path goes in and out of the module
			for i, at := range path {
				if strings.HasPrefix(at, pl.Name+".") {
					visits = append(visits, i)
				}
			}
			for k := 0; k < len(visits); k += 2 {
				last := len(path) - 1
				if k+1 < len(visits) {
					last = visits[k+1]
				}
				if !throughPod(p, path[visits[k]:last+1], pl.Module) {
					add(Daisy, pl.Name+": "+l.name, "the current of %s goes through plug %s (%s), where nothing switches it: run it past that plug", l.name, pl.Name, strings.Join(path, " "))
					break
				}
			}
		}
	}
}

// throughPod tells whether a path goes in at one end of a pod of the module
// and out at another.
func throughPod(p *Plan, path []string, module string) bool {
	for i := 1; i < len(path); i++ {
		a, _, _ := strings.Cut(path[i-1], ".")
		b, _, _ := strings.Cut(path[i], ".")
		if a == b && slices.ContainsFunc(p.Pods, func(x Pod) bool { return x.Name == a && x.Module == module }) {
			return true
		}
	}
	return false
}

// endRules looks at splices, pod ends left over and what the maps do not know.
func endRules(p *Plan, f *facts, add adder) {
	for _, s := range p.Splices {
		count := 0
		for _, w := range p.Wires {
			if w.From == s.Name || w.To == s.Name {
				count++
			}
		}
		if count < 2 {
			add(LooseEnd, s.Name, "splice %s joins %d wire(s): join two or more, or take it out", s.Name, count)
		}
	}
	hot := f.n.everLive()
	for _, pod := range p.Pods {
		for _, e := range pod.Desc.Ends {
			at := pod.Name + "." + string(e.ID)
			if e.Kind == mapping.Wire && !wired(p, at) && hot[f.n.node[f.n.at[at]]] {
				add(BareEnd, at, "end %s of pod %s is in no plan but live in some setting: insulate it by itself, and mark it as meant", e.ID, pod.Name)
			}
		}
		for _, l := range pod.Map.Unresolved {
			if pod.used(p, l.A) && pod.used(p, l.B) {
				add(Unresolved, fmt.Sprintf("%s %s-%s", pod.Name, l.A, l.B), "nobody knows yet whether %s and %s of pod %s are joined: take more readings before building on it", l.A, l.B, pod.Name)
			}
		}
		for _, l := range pod.Map.Links {
			if l.Grade < mapping.Likely && pod.used(p, l.A) && pod.used(p, l.B) {
				add(Unproved, fmt.Sprintf("%s %s-%s", pod.Name, l.A, l.B), "the contact between %s and %s of pod %s is %s: read it again before building on it", l.A, l.B, pod.Name, l.Grade)
			}
		}
	}
}

// used tells whether an end of a pod is wired, or is its metal at earth.
func (pod Pod) used(p *Plan, id mapping.EndID) bool {
	return wired(p, pod.Name+"."+string(id)) || pod.metal(id) && pod.BodyTo != ""
}

// metal tells whether an end is the pod's own metal.
func (pod Pod) metal(id mapping.EndID) bool {
	e, ok := pod.Desc.End(id)
	return ok && e.Kind == mapping.Body
}
