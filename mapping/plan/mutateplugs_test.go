package plan

import (
	"fmt"
	"slices"
	"strings"
)

// plantPlugs makes the faults that plugs can have.
func plantPlugs(sound Plan, n *network, add func(string, string, func(*Plan))) {
	rows := plugRows(&sound, n)
	for i, a := range sound.Plugs {
		for j, b := range sound.Plugs {
			if i < j && a.Place == b.Place {
				add(LikePlugs, a.Name+" "+b.Name, func(p *Plan) {
					p.Plugs[j].Housing, p.Plugs[j].Cavities, p.Plugs[j].Rows = a.Housing, max(a.Cavities, b.Cavities), a.Rows
					p.Plugs[i].Cavities = p.Plugs[j].Cavities
				})
			}
		}
		add(LiveHalf, a.Name, func(p *Plan) {
			p.Plugs[i].Shrouded = NoHalf
		})
		add(LiveHalf, a.Name, func(p *Plan) { p.Plugs[i].Shrouded = ModuleHalf })
		var used []PlugRow
		for _, r := range rows {
			if r.Plug == a.Name && r.ModuleWire != "" {
				used = append(used, r)
			}
		}
		for k := 1; k < len(used); k++ {
			x, y := used[k-1], used[k]
			if x.What == y.What {
				continue
			}
			swap := func(p *Plan, module bool) {
				for wi, w := range p.Wires {
					if (w.In == a.Module) != module {
						continue
					}
					for _, end := range []*string{&p.Wires[wi].From, &p.Wires[wi].To} {
						switch *end {
						case fmt.Sprintf("%s.%d", a.Name, x.Cavity):
							*end = fmt.Sprintf("%s.%d", a.Name, y.Cavity)
						case fmt.Sprintf("%s.%d", a.Name, y.Cavity):
							*end = fmt.Sprintf("%s.%d", a.Name, x.Cavity)
						}
					}
				}
			}
			add(SwappedFill, a.Name, func(p *Plan) { swap(p, true) })
			add(SwappedFill, a.Name, func(p *Plan) { swap(p, false) })
			add(TwoInCavity, a.Name, func(p *Plan) {
				p.rename(fmt.Sprintf("%s.%d", a.Name, x.Cavity), fmt.Sprintf("%s.%d", a.Name, y.Cavity))
			})
			add(OneSided, a.Name, func(p *Plan) { p.drop(func(w Wire) bool { return w.Name != x.ModuleWire }) })
			add(SameColour, a.Name, func(p *Plan) {
				for wi := range p.Wires {
					if p.Wires[wi].Name == x.LoomWire || p.Wires[wi].Name == y.LoomWire {
						p.Wires[wi].Colour, p.Wires[wi].Tracer = "SR", "GD"
					}
				}
			})
			add(BlankedWire, a.Name, func(p *Plan) {
				for fi := range p.Plugs[i].Fill {
					p.Plugs[i].Fill[fi].Blank = p.Plugs[i].Fill[fi].Blank || p.Plugs[i].Fill[fi].Number == x.Cavity
				}
			})
		}
		if len(used) > 2 {
			add(NoSpare, a.Name, func(p *Plan) { // moved together into a housing that just holds them
				for k, r := range used {
					p.rename(fmt.Sprintf("%s.%d", a.Name, r.Cavity), fmt.Sprintf("%s.%d", a.Name, k+1))
				}
				p.Plugs[i].Cavities, p.Plugs[i].Fill = len(used), nil
			})
		}
		for _, e := range used {
			for _, r := range used {
				if e.Role != roleEarth || r.Role != roleFeed {
					continue
				}
				for c := 1; c <= a.Cavities; c++ {
					if a.neighbours(c, r.Cavity) && !slices.ContainsFunc(used, func(u PlugRow) bool { return u.Cavity == c }) {
						add(FeedByEarth, a.Name, func(p *Plan) { p.rename(fmt.Sprintf("%s.%d", a.Name, e.Cavity), fmt.Sprintf("%s.%d", a.Name, c)) })
					}
				}
			}
		}
	}
}

// plantEarths makes the faults that earths and feeds can have.
func plantEarths(sound Plan, n *network, add func(string, string, func(*Plan))) {
	rows := plugRows(&sound, n)
	var earths []PlugRow
	for _, r := range rows {
		if r.Role == roleEarth && r.Plug != "PG" {
			earths = append(earths, r)
		}
	}
	for i, a := range earths {
		for j, b := range earths {
			if i != j && a.Plug != b.Plug { // b's earth is taken from a's cavity
				add(SharedEarth, "", func(p *Plan) {
					p.drop(func(w Wire) bool { return w.Name != b.LoomWire })
					p.link(fmt.Sprintf("%s.%d", b.Plug, b.Cavity), fmt.Sprintf("%s.%d", a.Plug, a.Cavity), Loom)
				})
			}
		}
		if a.What == "headlamp earth" || a.What == "ignition earth" {
			add(OwnReturn, "", func(p *Plan) {
				p.drop(func(w Wire) bool { return w.Name != a.LoomWire })
				if a.Plug == "PF" {
					p.link("PF.1", "PF.7", Loom)
					return
				}
				p.link("neutral.BODY", "ignition box.-", "engine")
				p.Loads = append(p.Loads, Load{Name: "new", Module: "engine", Kind: "position lamp"})
				p.link("new.-", "ignition box.-", "engine")
				p.link("W10", "new.+", Loom)
				p.drop(func(w Wire) bool { return w.From != "neutral.BODY" })
				p.link("PE.4", "E1", Loom)
			})
		}
		if a.Plug == "PC" || a.Plug == "PF" && a.Cavity == 7 || a.Plug == "PT" { // lamps of several ways on one earth, and it is gone
			add(BackFeed, "", func(p *Plan) { p.drop(func(w Wire) bool { return w.Name != a.LoomWire }) })
		}
	}
	for _, e := range sound.Earths {
		if e.Main {
			add(MainEarth, e.Name, func(p *Plan) {
				p.drop(func(w Wire) bool { return w.From != e.Name || w.To != "battery.-" })
			})
		}
		add(EarthNowhere, e.Name, func(p *Plan) {
			p.drop(func(w Wire) bool { return w.To != "battery.-" })
		})
	}
	// feeds and earths led through the left pod's plug and back
	for _, w := range sound.Wires {
		if w.In != Loom || !strings.HasPrefix(w.From, "W") && !strings.Contains(w.To, "E1") || strings.Contains(w.From+w.To, "PL.") || strings.Contains(w.From+w.To, "PB.") || strings.HasPrefix(w.From, "RI") {
			continue
		}
		add(Daisy, "PL", func(p *Plan) {
			p.drop(func(x Wire) bool { return x.Name != w.Name })
			p.link(w.From, "PL.6", Loom)
			p.link("PL.6", "PL.7", "left pod")
			p.link("PL.7", w.To, Loom)
		})
	}
}
