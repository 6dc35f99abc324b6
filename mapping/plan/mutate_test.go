package plan

import (
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"bellout/mapping"
)

// planted is a sound plan with one fault in it: kind and where say what Check
// has to find.
type planted struct {
	kind, where string
	plan        Plan
}

// fresh copies a plan so that a fault does not reach the sound one.
func fresh(p Plan) Plan {
	p.Wires = slices.Clone(p.Wires)
	p.Plugs = slices.Clone(p.Plugs)
	for i := range p.Plugs {
		p.Plugs[i].Fill = slices.Clone(p.Plugs[i].Fill)
	}
	p.Loads = slices.Clone(p.Loads)
	p.Pods = slices.Clone(p.Pods)
	for i := range p.Pods {
		p.Pods[i].Ohms = slices.Clone(p.Pods[i].Ohms)
		p.Pods[i].Map.Links = slices.Clone(p.Pods[i].Map.Links)
	}
	p.Block.Ways = slices.Clone(p.Block.Ways)
	p.Relays = slices.Clone(p.Relays)
	p.Parts = slices.Clone(p.Parts)
	p.Splices = slices.Clone(p.Splices)
	p.Expected = slices.Clone(p.Expected)
	return p
}

func (p *Plan) link(from, to, in string) {
	p.Wires = append(p.Wires, Wire{Name: fmt.Sprint("x", len(p.Wires)), From: from, To: to, MM2: 1, Length: 0.3, In: in})
}

func (p *Plan) drop(keep func(Wire) bool) {
	p.Wires = slices.DeleteFunc(p.Wires, func(w Wire) bool { return !keep(w) })
}

func (p *Plan) rename(from, to string) {
	for i := range p.Wires {
		if p.Wires[i].From == from {
			p.Wires[i].From = to
		}
		if p.Wires[i].To == from {
			p.Wires[i].To = to
		}
	}
}

func (p *Plan) swap(a, b string) {
	p.rename(a, "held")
	p.rename(b, a)
	p.rename("held", b)
}

// plant makes every fault in every place where it can be.
func plant(sound Plan) []planted {
	var out []planted
	add := func(kind, where string, change func(p *Plan)) {
		p := fresh(sound)
		change(&p)
		out = append(out, planted{kind, where, p})
	}
	n := compile(&sound, nil)
	f := gather(n)
	w := work(&sound, solveAll(f))
	pods := map[string]bool{}
	for _, pod := range sound.Pods {
		pods[pod.Name] = true
	}

	for i, way := range sound.Block.Ways {
		add(FuseOverWire, way.Name, func(p *Plan) { p.Block.Ways[i].Fuse = 30 })
		add(NoFuse, way.Name, func(p *Plan) { p.Block.Ways[i].Fuse = 0 })
		if w.Ways[i].Peak > 1 {
			add(FuseSmall, way.Name, func(p *Plan) { p.Block.Ways[i].Fuse = 1 })
		}
		add(ShortToGnd, way.Name, func(p *Plan) { p.link(way.Name, "E1", Loom) })
		if way.Feed == FromIgnition {
			add(Bypassed, way.Name, func(p *Plan) { p.link(way.Name, "block.15", Loom) })
		}
		if way.Feed == FromIgnition && way.Name != "W3" { // W3 works through a relay that the key works
			add(FedKeyOff, "", func(p *Plan) { p.Block.Ways[i].Feed = FromBattery })
		}
		if i > 0 {
			other := sound.Block.Ways[i-1].Name
			add(TiedWays, way.Name, func(p *Plan) { p.link(way.Name, other, Loom) })
		}
	}
	// a second way brought to the far side of a contact: tied in one position
	for _, pod := range sound.Pods {
		for _, l := range pod.Map.Links {
			b := (&prooflist{p: &sound}).cavityFor(pod.Name + "." + string(l.B))
			a := (&prooflist{p: &sound}).cavityFor(pod.Name + "." + string(l.A))
			if !wired(&sound, pod.Name+"."+string(l.B)) || l.B == "BODY" {
				continue
			}
			if role, way := n.role(a); role == roleFeed && way != "" && way != "W10" && way != "W9" {
				add(TiedWays, "W10", func(p *Plan) { p.link("W10", b, Loom) })
				add(ShortToGnd, way, func(p *Plan) { p.link(b, "E1", Loom) })
			}
			add(ContactBridge, pod.Name, func(p *Plan) { p.link(a, b, Loom) })
		}
	}
	for pi, pod := range sound.Pods {
		for li, l := range pod.Map.Links {
			if !wired(&sound, pod.Name+"."+string(l.A)) {
				continue
			}
			add(Unproved, pod.Name, func(p *Plan) { p.Pods[pi].Map.Links[li].Grade = mapping.OpenQuestion })
			add(Unresolved, pod.Name, func(p *Plan) {
				p.Pods[pi].Map.Unresolved = []mapping.Link{{A: l.A, B: l.B}}
			})
		}
		for oi := range pod.Ohms {
			add(WeakContact, pod.Name, func(p *Plan) { p.Pods[pi].Ohms[oi].Ohms = 3 })
		}
		for wi := range sound.Block.Ways {
			if f.touchesPod(wi, pod) {
				add(FuseOverWire, pod.Name, func(p *Plan) { p.Pods[pi].WireMM2 = 0.05 }) // wires of hair
			}
		}
	}

	for i, l := range sound.Loads {
		touches := func(end string) func(Wire) bool {
			return func(w Wire) bool { return w.From != l.Name+end && w.To != l.Name+end }
		}
		if l.Name != "headlamp dip" { // its earth terminal carries the main beam's wire too
			add(NeverFed, l.Name, func(p *Plan) { p.drop(touches(".-")) })
		}
		add(NeverFed, l.Name, func(p *Plan) { p.drop(touches(".+")) })
		add(Reversed, l.Name, func(p *Plan) {
			if l.GroupOf() == Motor {
				p.Loads[i].Watts = 12
			}
			p.Loads[i].Kind = "accessory"
			p.rename(l.Name+".+", "swap")
			p.rename(l.Name+".-", l.Name+".+")
			p.rename("swap", l.Name+".-")
		})
		switch l.GroupOf() {
		case Motor, Ignition, Brake, Headlamp:
			add(NoPurpose, l.Name, func(p *Plan) { p.Loads[i].Works = nil })
		}
		switch l.GroupOf() {
		case Motor, Ignition:
			continue
		}
		add(Unfused, l.Name, func(p *Plan) {
			p.drop(touches(".+"))
			p.link("block.15", l.Name+".+", Loom)
		})
		add(UnfusedWire, "x", func(p *Plan) { p.link("battery.+", l.Name+".+", Loom) })
	}
	for i, wire := range sound.Wires {
		if w.Wires[i].Amps > 0.9 && wire.MM2 < 10 {
			add(DropHigh, "", func(p *Plan) { p.Wires[i].Length = 60 / w.Wires[i].Amps })
			if wire.From == "E1" { // the frame carries what this wire does not
				continue
			}
			add(WireThin, wire.Name, func(p *Plan) { p.Wires[i].MM2 = 0.05 })
		}
		add(NoLength, wire.Name, func(p *Plan) { p.Wires[i].Length = 0 })
		add(NoSize, wire.Name, func(p *Plan) { p.Wires[i].MM2 = 0 })
	}
	for i, r := range sound.Relays {
		add(MissingRelay, "", func(p *Plan) { // the pod's wire goes straight to the load
			p.drop(func(w Wire) bool {
				return !strings.Contains(" "+w.From+" "+w.To+" ", r.Name+".30 ") && !strings.Contains(" "+w.From+" "+w.To+" ", r.Name+".85 ")
			})
			p.Relays = slices.Delete(p.Relays, i, i+1)
			p.Splices = append(p.Splices, Splice{Name: "SX"})
			p.rename(r.Name+".86", "SX")
			p.rename(r.Name+".87", "SX")
		})
		for _, t := range []string{"30", "85", "86", "87"} {
			add(RelayWiring, r.Name, func(p *Plan) {
				p.drop(func(w Wire) bool { return w.From != r.Name+"."+t && w.To != r.Name+"."+t })
			})
		}
		add(RelayWiring, r.Name, func(p *Plan) { p.swap(r.Name+".85", r.Name+".86") })
		if r.Name != "RS" { // the starter's relay has a rule of its own
			add(Overloaded, r.Name, func(p *Plan) { p.Relays[i].ContactAmps = 1 })
		}
		if r.Name != "RS" && r.Name != "RI" {
			add(Chatter, r.Name, func(p *Plan) { // fed by its own break contact
				p.rename(r.Name+".86", "nowhere")
				p.drop(func(w Wire) bool { return w.From != "nowhere" && w.To != "nowhere" })
				p.link(r.Name+".87a", r.Name+".86", Loom)
			})
		}
	}
	plantPlugs(sound, n, add)
	plantEarths(sound, n, add)

	for rule, kind := range map[string]string{GroupLamps: "tail lamp", GroupBrake: "indicator 10 W", GroupIgnition: "horn", GroupAccessory: "accessory"} {
		want := map[string]Group{GroupLamps: Headlamp, GroupBrake: Brake, GroupIgnition: Ignition, GroupAccessory: Rear}[rule]
		for li, l := range n.loads {
			if l.load < 0 || l.group != want || f.ways[li] == 0 {
				continue
			}
			add(rule, "", func(p *Plan) { // another load hangs on the same terminals
				p.Loads = append(p.Loads, Load{Name: "new", Module: p.Loads[l.load].Module, Kind: kind})
				p.link(l.name+".+", "new.+", p.Loads[l.load].Module)
				p.link(l.name+".-", "new.-", p.Loads[l.load].Module)
			})
		}
	}
	add(Overloaded, "FL", func(p *Plan) { p.Parts[0].Amps = 1 })
	add(FlasherWiring, "FL", func(p *Plan) { p.swap("FL.49", "FL.49a") })
	add(NoBattery, "battery", func(p *Plan) {
		p.drop(func(w Wire) bool { return w.From != "battery.+" && w.To != "battery.+" })
	})
	add(StopFed, "magneto", func(p *Plan) {
		*p = magnetoOn(*p)
		p.link("W8", "PE.5", Loom)
	})
	add(NoMainFuse, "main", func(p *Plan) { p.Supply.MainFuse = 0 })
	add(MainFar, "main", func(p *Plan) { p.Supply.MainFuseMM = 450 })
	add(MainSmall, "main", func(p *Plan) { p.Supply.MainFuse = 10 })
	add(FuseOverWire, "main", func(p *Plan) { p.Supply.MainFuse = 40 })
	add(ChargeFuse, "charge", func(p *Plan) { p.Supply.ChargeFuse = 0 })
	add(ChargeFuse, "charge", func(p *Plan) { p.Supply.ChargeFuse = 40 })
	add(ChargeFuse, "charge", func(p *Plan) { p.Supply.ChargeFuseMM = 900 })
	add(ChargeBalance, "alternator", func(p *Plan) { p.Supply.AlternatorWatts = 90 })
	add(ChargePath, "alternator", func(p *Plan) { p.rename("charge.in", "block.15") })
	add(ChargePath, "alternator", func(p *Plan) { p.rename("charge.in", "battery.+") })
	add(ChargePath, "alternator", func(p *Plan) { p.drop(func(w Wire) bool { return w.From != "alternator.-" }) })
	add(MissingRelay, "starter", func(p *Plan) {
		p.rename("RS.30", "SX")
		p.rename("RS.87", "SX")
		p.Splices = append(p.Splices, Splice{Name: "SX"})
	})
	add(StarterPath, "starter", func(p *Plan) {
		p.drop(func(w Wire) bool { return w.To != "RS.30" })
		p.link("W10", "RS.30", Loom)
	})
	add(StarterPath, "starter", func(p *Plan) { p.Relays[3].ContactAmps = 30 })
	for i, l := range sound.Loads {
		if l.GroupOf() == Indicator {
			add(LedFlasher, "FL", func(p *Plan) { p.Loads[i].Kind = "indicator led" })
		}
	}
	for i, s := range sound.Splices {
		add(LooseEnd, s.Name, func(p *Plan) {
			kept := false
			p.drop(func(w Wire) bool {
				if w.From != s.Name && w.To != s.Name {
					return true
				}
				was := kept
				kept = true
				return !was
			})
		})
		_ = i
	}
	for i, e := range sound.Expected {
		add(e.Kind, strings.TrimSuffix(e.Where, "*"), func(p *Plan) { p.Expected = slices.Delete(p.Expected, i, i+1) })
	}
	add(Insulated, "harness", func(p *Plan) { p.Insulation = 50 })
	add(ShortToGnd, "feed", func(p *Plan) { p.link("battery.+", "battery.-", Loom) })
	add(StaleMark, "plug PC", func(p *Plan) { p.Expected = append(p.Expected, Expected{DiesOutside, "plug PC: horn", "old"}) })
	add(BareEnd, "barrel.3", func(p *Plan) {
		p.Pods[2].Map.Links = append(p.Pods[2].Map.Links, mapping.Link{A: "1", B: "3", Grade: mapping.Proved})
	})
	return out
}

func TestPlantedFaultsAreFound(t *testing.T) {
	sound := heron(t)
	if fs := Check(sound); len(fs) != 0 {
		t.Fatalf("the sound plan has findings: %v", fs)
	}
	byKind := map[string][]planted{}
	for _, x := range plant(sound) {
		byKind[x.kind] = append(byKind[x.kind], x)
	}
	if len(byKind) < 20 {
		t.Fatalf("%d kinds of faults, at least 20 are wanted", len(byKind))
	}
	most := 2
	only := os.Getenv("BELLOUT_ALL_FAULTS") // "all", or one kind: every place, some minutes
	switch {
	case only != "":
		most = 1 << 20
	case testing.Short():
		most = 1
	}
	tried, kinds := 0, 0
	for _, kind := range slices.Sorted(maps.Keys(byKind)) {
		if only != "" && only != "all" && only != kind {
			continue
		}
		list := byKind[kind]
		kinds++
		step := max(1, (len(list)+most-1)/most)
		for i := 0; i < len(list); i += step {
			tried++
			fs := Check(list[i].plan)
			if !slices.ContainsFunc(fs, func(f Finding) bool { return f.Kind == kind && strings.Contains(f.Where, list[i].where) }) {
				t.Errorf("%s at %q (place %d of %d) is not found; found: %v", kind, list[i].where, i, len(list), briefly(fs))
			}
		}
	}
	t.Logf("%d faults of %d kinds tried of those that can be planted", tried, kinds)
}

func briefly(fs []Finding) []string {
	var out []string
	for _, f := range fs {
		out = append(out, f.Kind+" "+f.Where)
	}
	return out
}
