package plan

import (
	"slices"
	"strings"
)

// charging stands for the alternator among the loads of a what-if.
const charging = "charging"

// alive lists what some setting feeds, in the order of the plan.
func alive(n *network) []string {
	f := make([]bool, len(n.loads))
	for _, g := range n.groups() {
		if n.count(g) > maxSettings {
			continue
		}
		left := 0
		for _, li := range g.loads {
			if n.loads[li].load >= 0 {
				left++
			}
		}
		if left == 0 {
			continue
		}
		n.every(g, func(_ int, s *state) bool {
			for _, li := range g.loads {
				if !f[li] && n.loads[li].load >= 0 && s.fed(n.loads[li]) {
					f[li] = true
					left--
				}
			}
			return left > 0
		})
	}
	var out []string
	for li, l := range n.loads {
		if f[li] && l.load >= 0 {
			out = append(out, l.name)
		}
	}
	plus, okP := n.at["alternator.+"]
	minus, okM := n.at["alternator.-"]
	if okP && okM && n.node[plus] == n.plus && n.node[minus] == n.minus {
		out = append(out, charging)
	}
	return out
}

// Unplug works out, for every plug pulled and every fuse taken out, what dies
// (no setting feeds it any longer) and what lives. Beyond lists what dies and
// should not: for a plug, loads of other modules that no switch in this module
// works; for a fuse, loads that it does not feed. Loads that the engine needs
// to run are listed even where a switch of the module works them: mark those
// that are meant.
func Unplug(p Plan) []WhatIf {
	n := compile(&p, nil)
	return unplug(&p, n, gather(n))
}

func unplug(p *Plan, n *network, f *facts) []WhatIf {
	before := alive(n)
	moduleOf := map[string]string{charging: "charging"}
	for _, l := range p.Loads {
		moduleOf[l.Name] = l.Module
	}
	for _, w := range p.Wires { // the charging module is where the alternator's wire lies
		if w.From == "alternator.+" || w.To == "alternator.+" {
			moduleOf[charging] = w.In
		}
	}
	var out []WhatIf
	try := func(kind, name string, left *network, beyond func(load string) bool) {
		after := alive(left)
		w := WhatIf{Kind: kind, Where: name}
		for _, l := range before {
			if slices.Contains(after, l) {
				w.Lives = append(w.Lives, l)
				continue
			}
			w.Dies = append(w.Dies, l)
			if beyond(l) {
				w.Beyond = append(w.Beyond, l)
			}
		}
		out = append(out, w)
	}
	for _, pl := range p.Plugs {
		try("plug", pl.Name, compile(p, without{"plug " + pl.Name: true}), func(load string) bool {
			return moduleOf[load] != pl.Module && !f.worked(load, pl.Module)
		})
	}
	for wi, way := range p.Block.Ways {
		try("fuse", way.Name, n.withoutWay(wi), func(load string) bool { return !slices.Contains(f.loadsOf[wi], load) })
	}
	return out
}

// withoutWay is the network with one way's fuse out.
func (n *network) withoutWay(way int) *network {
	m := *n
	m.ways = slices.Delete(slices.Clone(n.ways), way, way+1)
	return &m
}

// worked tells whether a switch in a module works a load, directly or through
// a relay: then it is natural that the load dies with the module's plug. What
// stops the engine is never taken for natural.
func (f *facts) worked(load, module string) bool {
	for li, l := range f.n.loads {
		if l.name != load {
			continue
		}
		if l.load < 0 || f.best[li] == nil {
			return false
		}
		switch f.n.plan.Loads[l.load].GroupOf() {
		case Ignition, Motor, Start:
			return false
		}
		return f.passes(li, module, map[string]bool{})
	}
	return false
}

// passes tells whether the current of a load, or of a relay coil that it
// waits for, goes through a switch in a module.
func (f *facts) passes(li int, module string, seen map[string]bool) bool {
	n := f.n
	if f.best[li] == nil || seen[n.loads[li].name] {
		return false
	}
	seen[n.loads[li].name] = true
	s, path := n.stateIn(f.best[li]), f.path(li)
	for i := 1; i < len(path); i++ {
		a, _, _ := strings.Cut(path[i-1], ".")
		b, _, _ := strings.Cut(path[i], ".")
		if a != b {
			continue
		}
		for _, pod := range n.plan.Pods {
			if pod.Name == a && pod.Module == module {
				return true
			}
		}
		for _, r := range n.plan.Relays {
			if r.Name == a && f.passes(f.coil(a), module, seen) {
				return true
			}
		}
	}
	for i, w := range n.ways { // what feeds the bus: the ignition relay and the barrel
		if f.ways[li]&(1<<i) == 0 {
			continue
		}
		bus := n.path(s, n.names[w.busP], "battery.+")
		for k := 1; k < len(bus); k++ {
			a, _, _ := strings.Cut(bus[k-1], ".")
			b, _, _ := strings.Cut(bus[k], ".")
			if a != b {
				continue
			}
			for _, pod := range n.plan.Pods {
				if pod.Name == a && pod.Module == module {
					return true
				}
			}
			if c := f.coil(a); c >= 0 && f.passes(c, module, seen) {
				return true
			}
		}
	}
	return false
}

func (f *facts) coil(relay string) int {
	for li, l := range f.n.loads {
		if l.name == relay+" coil" {
			return li
		}
	}
	return -1
}
