package plan

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"bellout/mapping"
)

// references notes names that lead nowhere.
func (r *reader) references(p *Plan) {
	module := func(place, name string, may bool) {
		if name == "" && may || name == Loom {
			return
		}
		if slices.ContainsFunc(p.Modules, func(m Module) bool { return m.Name == name }) {
			return
		}
		var known []string
		for _, m := range p.Modules {
			known = append(known, m.Name)
		}
		hint := "add it as a [[module]]"
		if near := nearest(name, known); near != "" {
			hint = fmt.Sprintf("did you mean %q?", near)
		}
		if name == "" {
			r.on(place, "this has no module: name the [[module]] that it lies in")
			return
		}
		r.on(place, "there is no module %q: %s", name, hint)
	}
	module("block.module", p.Block.Module, true)
	for i, x := range p.Pods {
		module(fmt.Sprintf("pod[%d].module", i), x.Module, false)
		r.pod(p, fmt.Sprintf("pod[%d]", i), x)
	}
	for i, x := range p.Loads {
		module(fmt.Sprintf("load[%d].module", i), x.Module, false)
		for _, w := range x.Works {
			r.works(p, fmt.Sprintf("load[%d].works", i), w)
		}
	}
	for i, x := range p.Relays {
		module(fmt.Sprintf("relay[%d].module", i), x.Module, true)
	}
	for i, x := range p.Parts {
		module(fmt.Sprintf("part[%d].module", i), x.Module, true)
	}
	for i, x := range p.Splices {
		module(fmt.Sprintf("splice[%d].module", i), x.Module, true)
	}
	for i, x := range p.Plugs {
		module(fmt.Sprintf("plug[%d].module", i), x.Module, false)
	}
	for i, x := range p.Wires {
		module(fmt.Sprintf("wire[%d].in", i), x.In, false)
	}
}

func (r *reader) pod(p *Plan, place string, x Pod) {
	if len(x.Desc.Ends) == 0 {
		return // its own mistake is noted already
	}
	if x.BodyTo != "" && !slices.ContainsFunc(p.Earths, func(e Earth) bool { return e.Name == x.BodyTo }) {
		r.on(place+".body_to", "there is no earth %q: name an [[earth]]", x.BodyTo)
	}
	for i, m := range x.Ohms {
		at := fmt.Sprintf("%s.ohms[%d]", place, i)
		ok := len(m.Between) == 2
		for _, e := range m.Between {
			_, have := x.Desc.End(mapping.EndID(e))
			ok = ok && have
		}
		if !ok {
			r.on(at, "ohms are given between %q, which are not two ends of pod %q: name two of its ends", m.Between, x.Name)
			continue
		}
		if !slices.ContainsFunc(x.Map.Links, func(l mapping.Link) bool {
			return m.Between[0] == string(l.A) && m.Between[1] == string(l.B) || m.Between[0] == string(l.B) && m.Between[1] == string(l.A)
		}) {
			r.on(at, "no contact of pod %q joins %s and %s: give the ohms of a link of its map", x.Name, m.Between[0], m.Between[1])
		}
	}
	if x.Key == "" {
		if len(x.KeyOff) > 0 {
			r.on(place+".key_off", "key_off is given without key: name the switch that is the key")
		}
		return
	}
	sw, ok := x.Desc.Switch(mapping.SwitchID(x.Key))
	if !ok {
		r.on(place+".key", "pod %q has no switch %q: name the one that is the key", x.Name, x.Key)
		return
	}
	if len(x.KeyOff) == 0 {
		r.on(place+".key", "nobody says in which positions the key is off: add key_off")
	}
	for _, q := range x.KeyOff {
		if sw.Index(mapping.PositionID(q)) < 0 {
			r.on(place+".key_off", "the key has no position %q: name its own", q)
		}
	}
}

// works checks a condition "barrel.key=on, left.dip=main|low".
func (r *reader) works(p *Plan, place, text string) {
	parts := splitWhen(text)
	if len(parts) == 0 {
		r.on(place, `an empty condition: write "barrel.key=on, left.dip=main", or leave works out`)
	}
	for _, c := range parts {
		podName, swName, _ := strings.Cut(c.name, ".")
		pi := slices.IndexFunc(p.Pods, func(x Pod) bool { return x.Name == podName })
		if pi < 0 {
			r.on(place, "%q names no pod and switch: write pod.switch=position", c.name)
			continue
		}
		if len(p.Pods[pi].Desc.Ends) == 0 {
			continue
		}
		sw, ok := p.Pods[pi].Desc.Switch(mapping.SwitchID(swName))
		if !ok {
			r.on(place, "pod %q has no switch %q: use one of its own", podName, swName)
			continue
		}
		for _, q := range c.at {
			if sw.Index(mapping.PositionID(q)) < 0 {
				r.on(place, "switch %s has no position %q: use one of its own", c.name, q)
			}
		}
	}
}

// terminals lists the terminals of a thing by its name; nil: no such thing.
// A way, splice or earth has one point and no terminal: "".
func (p *Plan) terminals(name string) []string {
	switch name {
	case "battery", "alternator":
		return []string{"+", "-"}
	case "main", "charge":
		return []string{"in", "out"}
	case "block":
		return []string{"15", "30"}
	}
	for _, w := range p.Block.Ways {
		if w.Name == name {
			return []string{""}
		}
	}
	for _, x := range p.Splices {
		if x.Name == name {
			return []string{""}
		}
	}
	for _, x := range p.Earths {
		if x.Name == name {
			return []string{""}
		}
	}
	for _, x := range p.Loads {
		if x.Name == name {
			return []string{"+", "-"}
		}
	}
	for _, x := range p.Relays {
		if x.Name == name {
			return []string{"30", "87", "87a", "85", "86"}
		}
	}
	for _, x := range p.Parts {
		if x.Name == name {
			if x.Kind == "flasher" {
				return []string{"49", "49a", "31"}
			}
			return []string{"+", "-"}
		}
	}
	for _, x := range p.Pods {
		if x.Name == name {
			var out []string
			for _, e := range x.Desc.Ends {
				out = append(out, string(e.ID))
			}
			return out
		}
	}
	for _, x := range p.Plugs {
		if x.Name == name {
			var out []string
			for c := 1; c <= min(x.Cavities, 64); c++ {
				out = append(out, strconv.Itoa(c))
			}
			return out
		}
	}
	return nil
}

// wires checks where wires begin and end.
func (r *reader) wires(p *Plan) {
	var known []string
	for _, x := range named(p) {
		known = append(known, x.name)
	}
	for i, w := range p.Wires {
		place := fmt.Sprintf("wire[%d]", i)
		if w.From == w.To && w.From != "" {
			r.on(place, "wire %q begins and ends at %s: mend one of its ends", w.Name, w.From)
			continue
		}
		for _, end := range []struct{ tag, at string }{{"from", w.From}, {"to", w.To}} {
			at := place + "." + end.tag
			name, terminal, _ := strings.Cut(end.at, ".")
			list := p.terminals(name)
			switch {
			case end.at == "":
				r.on(place, "wire %q has no %s: name the point where it ends", w.Name, end.tag)
			case list == nil && slices.ContainsFunc(p.Pods, func(x Pod) bool { return x.Name == name }):
				// the pod's own mistake is noted already
			case list == nil:
				hint := "name a pod, load, plug, way, relay, splice or earth of the plan"
				if near := nearest(name, known); near != "" {
					hint = fmt.Sprintf("did you mean %q?", near)
				}
				r.on(at, "wire %q goes to %q, which nothing is called: %s", w.Name, end.at, hint)
			case !slices.Contains(list, terminal):
				say := strings.Join(list, ", ")
				if say == "" {
					r.on(at, "%s is a single point: write %q without a terminal", name, name)
					continue
				}
				r.on(at, "%s has no terminal %q: it has %s", name, terminal, say)
			}
			for _, pl := range p.Plugs {
				if pl.Name == name && w.In != Loom && w.In != pl.Module {
					r.on(place, "wire %q lies in %q and ends in plug %q of module %q: put it in that module or in the loom", w.Name, w.In, name, pl.Module)
				}
			}
		}
	}
}
