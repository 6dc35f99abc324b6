package plan

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"bellout/mapping"
)

// words that riders use, and what they mean. Common practice.
var riderWords = []struct {
	word   string
	groups []Group
	weight int
}{
	{"indicator", []Group{Indicator}, 3}, {"turn", []Group{Indicator}, 3}, {"flasher", []Group{Indicator}, 3}, {"signal", []Group{Indicator}, 3},
	{"headlamp", []Group{Headlamp}, 3}, {"headlight", []Group{Headlamp}, 3}, {"beam", []Group{Headlamp}, 3}, {"dip", []Group{Headlamp}, 3}, {"main", []Group{Headlamp}, 3},
	{"tail", []Group{Rear}, 3}, {"rear", []Group{Rear, Brake}, 3}, {"plate", []Group{Rear}, 3}, {"brake", []Group{Brake}, 3}, {"stop", []Group{Brake}, 3},
	{"horn", []Group{Horn}, 3}, {"ignition", []Group{Ignition}, 3}, {"spark", []Group{Ignition}, 3}, {"engine", []Group{Ignition}, 3}, {"pump", []Group{Ignition}, 3},
	{"starter", []Group{Motor, Start}, 3}, {"start", []Group{Motor, Start}, 3}, {"crank", []Group{Motor, Start}, 3},
	{"instruments", []Group{Clocks}, 3}, {"clocks", []Group{Clocks}, 3}, {"speedometer", []Group{Clocks}, 3}, {"usb", []Group{Accessory}, 3}, {"socket", []Group{Accessory}, 3}, {"grips", []Group{Accessory}, 3},
	{"position", []Group{Position}, 3}, {"parking", []Group{Position}, 3}, {"warning", []Group{Warning}, 3}, {"hazard", []Group{Indicator}, 3},
	{"lights", []Group{Headlamp, Rear, Position}, 1}, {"lamps", []Group{Headlamp, Rear, Position}, 1},
}

// Roadside answers a symptom ("left indicators dead") in five lines: fuse,
// plug and cavity, wire, what to expect there, what next. What the loads named
// have in common is looked at first.
func Roadside(p Plan, symptom string) ([]string, error) {
	text := strings.ToLower(mapping.Clean(symptom, mapping.MaxText))
	n := compile(&p, nil)
	f := gather(n)
	picked := pick(&p, n, f, text)
	if way, ok := fuseNamed(&p, f, text, picked); ok {
		return blows(&p, n, f, way), nil
	}
	if len(picked) == 0 {
		if hasAny(text, "charg", "flat", "alternator", "regulator") {
			return notCharged(&p, n), nil
		}
		var names []string
		for _, l := range p.Loads {
			names = append(names, l.Name)
		}
		if len(names) == 0 {
			return nil, fmt.Errorf("nothing can be said of %q: the plan has no load", mapping.Clean(symptom, mapping.MaxName))
		}
		return nil, fmt.Errorf("nothing in the plan is meant by %q: name one of %s, no charge, a fuse that blows, or everything", mapping.Clean(symptom, mapping.MaxName), strings.Join(names, ", "))
	}
	switch {
	case hasAny(text, "everything", "nothing", "all dead"):
		return everything(&p, n, f, picked), nil
	case hasAny(text, "stays on", "always on", "stuck on", "on all the time", "go off", "goes off", "turn off", "glow"):
		return staysOn(&p, n, f, picked), nil
	}
	return roadside(&p, n, f, picked, hasAny(text, "dim", "weak", "faint")), nil
}

// hasAny tells whether any of some words is in a text.
func hasAny(text string, words ...string) bool {
	return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(text, w) })
}

func splitWords(s string) []string {
	return strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// alike compares words, plural aside.
func alike(a, b string) bool {
	return strings.TrimSuffix(a, "s") == strings.TrimSuffix(b, "s")
}

// pick chooses the loads that a symptom speaks of: those whose names have most
// of its words, and of those groups that a rider's word means.
func pick(p *Plan, n *network, f *facts, text string) []int {
	words := splitWords(text)
	everything := slices.ContainsFunc(words, func(w string) bool { return w == "everything" || w == "nothing" || w == "all" })
	best, out := 0, []int(nil)
	for li, l := range n.loads {
		if l.load < 0 || f.best[li] == nil {
			continue
		}
		load := p.Loads[l.load]
		score := 0
		side := false
		for _, w := range words {
			switch has := func(text string) bool {
				return slices.ContainsFunc(splitWords(text), func(own string) bool { return alike(w, own) })
			}; {
			case has(load.Name) && !alike(w, "lamp"): // its own name says most
				score += 4
			case has(load.Module):
				score += 2
			}
			for _, r := range riderWords {
				if alike(w, r.word) && slices.Contains(r.groups, load.GroupOf()) {
					score += r.weight
				}
			}
			for _, s := range []string{"left", "right"} {
				side = side || w == s && !slices.Contains(splitWords(load.Name), s)
			}
		}
		if side && load.GroupOf() == Indicator {
			continue // the other side's
		}
		if everything {
			score = 1
		}
		switch {
		case score == 0 || score < best:
		case score > best:
			best, out = score, []int{li}
		default:
			out = append(out, li)
		}
	}
	return out
}

// route is a load's path with, for each point, whether it is before the load.
func (f *facts) route(li int) (feed, back []string) {
	s := newState(f.n)
	copy(s.set, f.best[li])
	f.n.eval(s)
	l := f.n.loads[li]
	in := f.n.names[l.plusP]
	if s.backward(l) {
		in = f.n.names[l.minusP]
	}
	path := f.n.feedPath(s, l)
	cut := slices.Index(path, in)
	return path[:cut+1], path[cut+1:]
}

func roadside(p *Plan, n *network, f *facts, picked []int, dim bool) []string {
	feed, back := f.route(picked[0])
	common := slices.Clone(feed)
	for _, li := range picked[1:] {
		other, _ := f.route(li)
		common = slices.DeleteFunc(common, func(at string) bool { return !slices.Contains(other, at) })
	}
	if len(common) == 0 {
		common = feed
	}
	if len(picked) == 1 {
		common = feed
	}
	names := make([]string, len(picked))
	for i, li := range picked {
		names[i] = n.loads[li].name
	}
	set, relays := f.toWork(picked[0])
	plug, cavity := lastCavity(p, common)
	wire := wireFrom(p, feed, cavity)
	st := newState(n)
	copy(st.set, f.best[picked[0]])
	n.eval(st)
	fl, l := n.solve(st), n.loads[picked[0]]
	volts := trim(round(max(fl.volts[l.plusP], fl.volts[l.minusP]), 1))
	lost := min(fl.volts[l.plusP], fl.volts[l.minusP])
	out := []string{"Fuse: " + fuseLine(p, f, picked)}
	if cavity == "" {
		out = append(out, "Plug: none on the way to "+strings.Join(names, ", ")+"; look at its own terminals")
	} else {
		out = append(out, fmt.Sprintf("Plug: %s (%s), cavity %s counted from the %s of the loom half", plug.Name, whereIs(plug), cavity, plug.Face))
	}
	out = append(out, "Wire: "+wire)
	at := cavity
	if at == "" {
		at = common[len(common)-1]
	}
	out = append(out, fmt.Sprintf("Expect: about %s V at %s with %s, and less than %s V from the load's earth to battery minus", volts, at, set, trim(max(0.2, round(lost*1.25, 2)))))
	next := fmt.Sprintf("Next: no volts there, go back along %s; volts there, %s itself or %s", strings.Join(tail(common, 4), " < "), strings.Join(names, ", "), earthLine(p, back))
	if len(relays) > 0 {
		next += "; " + f.silentRelay(picked[0], relays[len(relays)-1])
	}
	if dim {
		next = fmt.Sprintf("Next: dim is mostly earth: %s; then the crimps on %s", earthLine(p, back), strings.Join(tail(common, 4), " < "))
	}
	return append(out, next)
}

// tail gives the last points of a path, nearest the load first.
func tail(path []string, most int) []string {
	out := slices.Clone(path[max(0, len(path)-most):])
	slices.Reverse(out)
	return out
}

func fuseLine(p *Plan, f *facts, picked []int) string {
	var mask uint64
	for _, li := range picked {
		mask |= f.ways[li]
	}
	var parts []string
	for i, w := range p.Block.Ways {
		if mask&(1<<i) == 0 {
			continue
		}
		fuse, _ := FuseOf(w.Fuse)
		text := fmt.Sprintf("%s, %s A %s", w.Name, trim(w.Fuse), fuse.Colour)
		var also []string
		for li, l := range f.n.loads {
			if l.load >= 0 && f.ways[li]&(1<<i) != 0 && !slices.Contains(picked, li) {
				also = append(also, l.name)
			}
		}
		if len(also) > 0 {
			text += "; it is good if these work: " + strings.Join(also, ", ")
		}
		parts = append(parts, text)
	}
	for _, r := range p.Relays { // what works the relays on the way
		coil := f.coil(r.Name)
		feed, _ := f.route(picked[0])
		if coil < 0 || f.ways[coil]&^mask == 0 || !slices.ContainsFunc(feed, func(at string) bool { return strings.HasPrefix(at, r.Name+".") }) {
			continue
		}
		for i, w := range p.Block.Ways {
			if fuse, _ := FuseOf(w.Fuse); f.ways[coil]&^mask&(1<<i) != 0 {
				parts = append(parts, fmt.Sprintf("%s, %s A %s, works relay %s", w.Name, trim(w.Fuse), fuse.Colour, r.Name))
			}
		}
	}
	if len(parts) == 0 {
		return fmt.Sprintf("none of the block's; main fuse %s A by the battery", trim(p.Supply.MainFuse))
	}
	return strings.Join(parts, "; ") + place(p)
}

func place(p *Plan) string {
	for _, m := range p.Modules {
		if m.Name == p.Block.Module && m.Place != "" {
			return " (" + m.Place + ")"
		}
	}
	return ""
}

func whereIs(pl Plug) string {
	if pl.Place != "" {
		return pl.Place + ", to the " + pl.Module
	}
	return "to the " + pl.Module
}

// lastCavity is the cavity on a path that lies nearest to the load.
func lastCavity(p *Plan, path []string) (Plug, string) {
	for _, at := range slices.Backward(path) {
		name, _, _ := strings.Cut(at, ".")
		for _, pl := range p.Plugs {
			if pl.Name == name {
				return pl, at
			}
		}
	}
	return Plug{}, ""
}

// wireFrom names the wire on a path that ends at a cavity, on its way there.
func wireFrom(p *Plan, path []string, cavity string) string {
	at := slices.Index(path, cavity)
	if at <= 0 {
		at = len(path) - 1
	}
	for ; at > 0; at-- {
		for _, w := range p.Wires {
			if w.From == path[at-1] && w.To == path[at] || w.To == path[at-1] && w.From == path[at] {
				return fmt.Sprintf("%s, %s, %s mm2, %s m, from %s to %s", w.Name, w.code(), trim(w.MM2), trim(w.Length), path[at-1], path[at])
			}
		}
	}
	return "none: it hangs on the way itself"
}

func earthLine(p *Plan, back []string) string {
	_, cavity := lastCavity(p, back)
	for _, at := range back {
		for _, e := range p.Earths {
			if e.Name == at {
				if cavity == "" {
					return fmt.Sprintf("its earth %s (%s)", e.Name, e.Place)
				}
				return fmt.Sprintf("its earth: cavity %s, then %s (%s)", cavity, e.Name, e.Place)
			}
		}
	}
	return "its earth"
}

// everything is dead: what feeds the block.
func everything(p *Plan, n *network, f *facts, picked []int) []string {
	s := newState(n)
	copy(s.set, f.best[picked[0]])
	n.eval(s)
	path := n.path(s, "battery.+", "block.15")
	fuse, _ := FuseOf(p.Supply.MainFuse)
	plug, cavity := Plug{}, ""
	for li, l := range n.loads { // the ignition relay's coil goes through the barrel
		if l.load < 0 && f.best[li] != nil {
			feed, _ := f.route(li)
			for _, pod := range p.Pods {
				if pod.Key != "" && slices.ContainsFunc(feed, func(at string) bool { return strings.HasPrefix(at, pod.Name+".") }) && cavity == "" {
					plug, cavity = lastCavity(p, feed)
				}
			}
		}
	}
	if cavity == "" {
		plug, cavity = lastCavity(p, path)
	}
	plugLine := "Plug: none between battery and block"
	if cavity != "" {
		plugLine = fmt.Sprintf("Plug: %s (%s), cavity %s counted from the %s of the loom half: live with the key on", plug.Name, whereIs(plug), cavity, plug.Face)
	}
	return []string{
		fmt.Sprintf("Fuse: main, %s A %s, %s mm from battery plus", trim(p.Supply.MainFuse), fuse.Colour, trim(p.Supply.MainFuseMM)),
		plugLine,
		"Wire: " + wireFrom(p, path, "block.15"),
		fmt.Sprintf("Expect: 12.4 V or more at the lugs, %s V at block.15 with the key on", trim(p.Volts)),
		"Next: battery lugs tight and clean, then go along " + strings.Join(path, " > "),
	}
}
