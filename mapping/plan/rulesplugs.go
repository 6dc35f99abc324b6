package plan

import (
	"fmt"
	"strings"
)

// Kinds of findings about plugs.
const (
	LikePlugs    = "like-plugs"
	LiveHalf     = "live-half"
	FeedByEarth  = "feed-by-earth"
	TwoInCavity  = "two-in-cavity"
	SameColour   = "same-colour"
	NoSpare      = "no-spare"
	SwappedFill  = "swapped-cavity"
	OneSided     = "one-sided-cavity"
	BlankedWire  = "wire-in-blank"
	podsAlikeSay = "left and right pods never get equal plugs"
)

// plugRules checks housings, halves and cavities.
func plugRules(p *Plan, n *network) []Finding {
	var out []Finding
	add := func(kind, where, format string, args ...any) {
		out = append(out, Finding{Kind: kind, Where: where, Say: fmt.Sprintf(format, args...)})
	}
	isPod := map[string]bool{}
	for _, pod := range p.Pods {
		if len(pod.Desc.Switches) > 1 {
			isPod[pod.Module] = true
		}
	}
	for i, a := range p.Plugs {
		for _, b := range p.Plugs[i+1:] {
			if !like(a, b) {
				continue
			}
			switch {
			case isPod[a.Module] && isPod[b.Module]:
				add(LikePlugs, a.Name+" "+b.Name, "%s and %s fit each other, and %s: give one another number of ways", a.Name, b.Name, podsAlikeSay)
			case a.Place == b.Place:
				add(LikePlugs, a.Name+" "+b.Name, "%s and %s fit each other and are within reach (%s): give one another number of ways, or a keying plug", a.Name, b.Name, placeOf(a))
			}
		}
	}
	rows := plugRows(p, n)
	for _, pl := range p.Plugs {
		var mine []PlugRow
		for _, r := range rows {
			if r.Plug == pl.Name {
				mine = append(mine, r)
			}
		}
		liveHalf(p, pl, add)
		cavities(p, pl, mine, add)
		colours(p, pl, add)
	}
	return out
}

func placeOf(p Plug) string {
	if p.Place == "" {
		return "no place is named"
	}
	return p.Place
}

type adder func(kind, where, format string, args ...any)

// liveHalf finds the half that stays live when the plug is pulled: it must
// have the shrouded terminals. What the battery feeds counts before what only
// the alternator does.
func liveHalf(p *Plan, pl Plug, add adder) {
	apart := compile(p, without{"plug " + pl.Name: true})
	loom, module := apart.halfLive(pl, ""), apart.halfLive(pl, moduleSide)
	if !loom && !module {
		loom, module = apart.charged(pl, ""), apart.charged(pl, moduleSide)
	}
	has := func(h Half) bool { return pl.Shrouded == h || pl.Shrouded == BothHalves }
	switch {
	case loom && module && pl.Shrouded != BothHalves:
		add(LiveHalf, pl.Name, "both halves of %s stay live when it is pulled: use terminals that cannot be touched on both, or feed it from one side", pl.Name)
	case loom && !module && !has(LoomHalf):
		add(LiveHalf, pl.Name, "the loom half of %s stays live when it is pulled: give it the shrouded female terminals", pl.Name)
	case module && !loom && !has(ModuleHalf):
		add(LiveHalf, pl.Name, "the module half of %s stays live when it is pulled: give it the shrouded female terminals", pl.Name)
	}
}

// halfLive tells whether the battery reaches a half in some setting.
func (n *network) halfLive(pl Plug, side string) bool {
	root := make([]int, n.nodes)
	for i := range root {
		root[i] = i
	}
	meet := func(a, b int) {
		if a != n.minus && b != n.minus {
			unite(root, a, b)
		}
	}
	for _, c := range n.contacts {
		meet(c.a, c.b)
	}
	for _, g := range n.gates {
		meet(g.a, g.b)
	}
	for _, d := range n.diodes {
		meet(d.a, d.b)
	}
	for _, w := range n.ways {
		meet(w.bus, w.out)
	}
	var hot []bool
	for c := 1; c <= pl.Cavities; c++ {
		i, ok := n.at[pl.Name+"."+itoa(c)+side]
		switch {
		case !ok || find(root, n.node[i]) != find(root, n.plus):
			continue // not even with every contact closed
		case n.node[i] == n.plus:
			return true
		}
		if hot == nil {
			hot = n.everLive()
		}
		if hot[n.node[i]] {
			return true
		}
	}
	return false
}

// charged tells whether the alternator reaches a half.
func (n *network) charged(pl Plug, side string) bool {
	alt, ok := n.at["alternator.+"]
	for c := 1; c <= pl.Cavities && ok; c++ {
		if i, have := n.at[pl.Name+"."+itoa(c)+side]; have && n.node[i] == n.node[alt] {
			return true
		}
	}
	return false
}

// everLive tells which nodes the battery reaches in some setting.
func (n *network) everLive() []bool {
	hot := make([]bool, n.nodes)
	for _, g := range n.groups() {
		if n.count(g) > maxSettings {
			continue
		}
		n.every(g, func(_ int, s *state) bool {
			for k := range hot {
				hot[k] = hot[k] || s.live[s.root[k]] && !s.earth[s.root[k]]
			}
			return true
		})
	}
	return hot
}

func cavities(p *Plan, pl Plug, rows []PlugRow, add adder) {
	used := 0
	for i, a := range rows {
		at := fmt.Sprintf("%s.%d", pl.Name, a.Cavity)
		if a.LoomWire != "" || a.ModuleWire != "" {
			used++
			for _, f := range pl.Fill {
				if f.Number == a.Cavity && f.Blank {
					add(BlankedWire, at, "cavity %s is blanked and has a wire: move the wire", at)
				}
			}
		}
		for _, side := range []string{a.LoomWire, a.ModuleWire} {
			if strings.Contains(side, " ") {
				add(TwoInCavity, at, "cavity %s has two wires on one half (%s): join them in a splice and bring one in", at, side)
			}
		}
		if (a.LoomWire == "") != (a.ModuleWire == "") {
			add(OneSided, at, "cavity %s has a wire on one half only (%s): wire the other half, or take the wire out and insulate it", at, a.LoomWire+a.ModuleWire)
		}
		for _, w := range p.Wires {
			if w.From != at && w.To != at || w.What == "" {
				continue
			}
			switch {
			case a.What != "" && !sameWords(w.What, a.What):
				add(SwappedFill, at, "cavity %s is for %q but wire %s is %q: two cavities are swapped, or the fill is out of date", at, a.What, w.Name, w.What)
			case a.What == "" && len(pl.Fill) > 0:
				add(SwappedFill, at, "cavity %s is for nothing in the fill of %s but wire %s (%q) is in it: the wire is in the wrong cavity, or the fill is out of date", at, pl.Name, w.Name, w.What)
			}
		}
		for _, b := range rows[i+1:] {
			if (a.Role == roleFeed && b.Role == roleEarth || a.Role == roleEarth && b.Role == roleFeed) && pl.neighbours(a.Cavity, b.Cavity) && pl.Cavities > 2 {
				add(FeedByEarth, fmt.Sprintf("%s.%d %s.%d", pl.Name, a.Cavity, pl.Name, b.Cavity),
					"cavities %d and %d of %s are neighbours, one a feed and one an earth: a bent pin would be a short. Move one away", a.Cavity, b.Cavity, pl.Name)
			}
		}
	}
	if used > 2 && used >= pl.Cavities {
		add(NoSpare, pl.Name, "%s has no spare cavity: take a housing with one or two more", pl.Name)
	}
}

// sameWords compares what two texts say, case and spaces aside.
func sameWords(a, b string) bool {
	return strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
}

// colours finds two wires of one colour in one half, which nobody can tell
// apart in the dark.
func colours(p *Plan, pl Plug, add adder) {
	for _, half := range []Half{LoomHalf, ModuleHalf} {
		seen := map[string]Wire{}
		for _, w := range p.Wires {
			if !touches(w, pl.Name) || (w.In == pl.Module) != (half == ModuleHalf) || w.Colour == "" {
				continue
			}
			if o, ok := seen[w.code()]; ok && cavityOf(o, pl.Name) != cavityOf(w, pl.Name) {
				if sameWords(o.What, w.What) {
					continue // two of one net may look alike
				}
				add(SameColour, fmt.Sprintf("%s %s %s", pl.Name, o.Name, w.Name),
					"wires %s and %s in the %s half of %s are both %s: give one a tracer, or flag both", o.Name, w.Name, half, pl.Name, w.code())
				continue
			}
			seen[w.code()] = w
		}
	}
}

func touches(w Wire, plug string) bool { return cavityOf(w, plug) != "" }

func cavityOf(w Wire, plug string) string {
	for _, end := range []string{w.From, w.To} {
		if name, c, ok := strings.Cut(end, "."); ok && name == plug {
			return c
		}
	}
	return ""
}
