package plan

import (
	"fmt"
	"math/bits"
	"slices"
	"strings"
)

// works is the state in which a load works and its ways are busiest.
func (r *road) works(li int) *state { return r.n.stateIn(r.f.best[li]) }

// asMeant has every load work as its plan says it first does, or in the way that is said
// (hazard, pedal), and not in two ways at once: a rider tries one lever.
func (r *road) asMeant() {
	n := r.n
	works := n.works()
	s := newState(n)
	for li, l := range n.loads {
		if l.load < 0 || r.f.best[li] == nil || len(works[l.load]) == 0 {
			continue
		}
		alternatives := works[l.load]
		chosen := max(0, slices.IndexFunc(alternatives, func(cond []term) bool {
			return slices.ContainsFunc(cond, func(t term) bool { return r.said.says(string(n.switches[t.sw].sw.Name) + " ") })
		}))
		copy(s.set, r.f.best[li])
		for _, t := range slices.Concat(alternatives...) {
			s.set[t.sw] = n.switches[t.sw].rest
		}
		for _, t := range alternatives[chosen] {
			if t.mask&(1<<r.f.best[li][t.sw]) != 0 {
				s.set[t.sw] = r.f.best[li][t.sw]
			} else if t.mask != 0 {
				s.set[t.sw] = bits.TrailingZeros32(t.mask)
			}
		}
		if n.eval(s); s.fed(l) {
			copy(r.f.best[li], s.set)
		}
	}
}

// route is a load's path when it works: up to its live side, and from there to earth.
func (r *road) route(li int) (feed, back []string) { return r.n.wayOf(r.works(li), r.n.loads[li]) }

// tail gives the last points of a path, nearest the load first.
func tail(path []string, most int) []string { return reversed(path[max(0, len(path)-most):]) }

// coilWay is the path of a relay's coil, from its source to earth.
func (r *road) coilWay(relay string) []string {
	coil := r.f.coil(relay)
	if coil < 0 || r.f.best[coil] == nil {
		return nil
	}
	feed, back := r.route(coil)
	return slices.Concat(feed, back)
}

// relaysOn names the relays whose contacts a path goes through.
func (r *road) relaysOn(path []string) []string {
	var out []string
	for k, at := range path {
		name, _, _ := strings.Cut(at, ".")
		if k+1 < len(path) && strings.HasPrefix(path[k+1], name+".") && r.f.coil(name) >= 0 && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// wholeWay is a load's path with those of the coils that work its relays.
func (r *road) wholeWay(li int) []string {
	feed, back := r.route(li)
	out := slices.Concat(feed, back)
	for _, relay := range r.relaysOn(out) {
		out = append(out, r.coilWay(relay)...)
	}
	return out
}

// lastCavity is the cavity on a path that lies nearest to the load.
func (r *road) lastCavity(path []string) (Plug, string) { return firstCavity(r.p, reversed(path)) }

func firstCavity(p *Plan, path []string) (Plug, string) {
	for _, at := range path {
		name, _, _ := strings.Cut(at, ".")
		for _, pl := range p.Plugs {
			if pl.Name == name {
				return pl, at
			}
		}
	}
	return Plug{}, ""
}

// plugLine says where a cavity is.
func (r *road) plugLine(pl Plug, cavity string) string {
	if cavity == "" {
		return "none on the way; look at its own terminals"
	}
	return fmt.Sprintf("%s (%s), cavity %s counted from the %s of the loom half", pl.Name, whereIs(pl), cavity, pl.Face)
}

func whereIs(pl Plug) string {
	if pl.Place != "" {
		return pl.Place + ", to the " + pl.Module
	}
	return "to the " + pl.Module
}

// ownPlace is a point that is in no plug: a splice, or a terminal of the load's own.
func (r *road) ownPlace(at string) string {
	for _, s := range r.p.Splices {
		if s.Name == at {
			return fmt.Sprintf("splice %s (%s)", at, s.Place)
		}
	}
	if name, _, _ := strings.Cut(at, "."); slices.ContainsFunc(r.n.loads, func(l loadEdge) bool { return l.name == name }) {
		return "its own terminals"
	}
	return at
}

// noWire is said of a point that the block itself holds.
const noWire = "none: it hangs on the way itself"

// wireTo names the wire on a path that ends at a point, on its way there.
func (r *road) wireTo(path []string, point string) string {
	at := slices.Index(path, point)
	if at < 0 {
		at = len(path) - 1
	}
	for ; at > 0; at-- {
		for _, w := range r.p.Wires {
			if w.From == path[at-1] && w.To == path[at] || w.To == path[at-1] && w.From == path[at] {
				return fmt.Sprintf("%s, %s, %s mm2, %s m, from %s to %s", w.Name, w.code(), trim(w.MM2), trim(w.Length), path[at-1], path[at])
			}
		}
	}
	return noWire
}

// wireFrom names the wire on a path that begins at a point, on its way from there.
func (r *road) wireFrom(path []string, point string) string {
	for at := slices.Index(path, point); at >= 0 && at+1 < len(path); at++ {
		if wire := r.wireTo(path[at:at+2], path[at+1]); wire != noWire {
			return wire
		}
	}
	return noWire
}

// earthOf names the cavity and the earth point of a load.
func (r *road) earthOf(li int) string {
	var back []string
	if r.f.best[li] != nil {
		_, back = r.route(li)
	} else {
		back = r.n.path(r.n.restState(), r.n.names[r.n.loads[li].minusP], "battery.-")
	}
	_, cavity := r.lastCavity(back)
	for _, at := range back {
		for _, e := range r.p.Earths {
			if e.Name == at {
				if cavity == "" {
					return fmt.Sprintf("%s (%s)", e.Name, e.Place)
				}
				return fmt.Sprintf("cavity %s, then %s (%s)", cavity, e.Name, e.Place)
			}
		}
	}
	return ""
}

// earths names the earths of loads, each once.
func (r *road) earths(picked []int) string {
	var out []string
	for _, li := range picked {
		if e := r.earthOf(li); e != "" && !slices.Contains(out, e) {
			out = append(out, e)
		}
	}
	if len(out) == 0 {
		return "its earth"
	}
	return "its earth: " + strings.Join(out, ", and ")
}

// diodeTests says how to test the diodes on a load's way.
func (r *road) diodeTests(paths ...[]string) string {
	out := ""
	for _, d := range r.n.diodes {
		if slices.Contains(slices.Concat(paths...), d.name+".+") {
			out += fmt.Sprintf("; diode %s is on the way: fuse out, meter on its diode test, red on %s.+ and black on %s.- 0.5 to 0.8 V, the other way round OL", d.name, d.name, d.name)
		}
	}
	return out
}

// fuseLine names the fuses of loads, what else works on them, and what works their relays.
func (r *road) fuseLine(picked []int) string {
	p, f := r.p, r.f
	var mask uint64
	for _, li := range picked {
		mask |= f.ways[li]
	}
	var parts []string
	for i := range p.Block.Ways {
		if mask&(1<<i) == 0 {
			continue
		}
		text := r.fuse(i)
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
	feed, _ := r.route(picked[0])
	for _, relay := range r.relaysOn(feed) {
		for i := range p.Block.Ways {
			if f.ways[f.coil(relay)]&^mask&(1<<i) != 0 {
				parts = append(parts, r.fuse(i)+", works relay "+relay)
			}
		}
	}
	if len(parts) == 0 {
		return fmt.Sprintf("none of the block's; main fuse %s A by the battery", trim(p.Supply.MainFuse))
	}
	return strings.Join(parts, "; ") + r.place()
}

// fuse is a way with its rating and colour.
func (r *road) fuse(way int) string {
	w := r.p.Block.Ways[way]
	fuse, _ := FuseOf(w.Fuse)
	return fmt.Sprintf("%s, %s A %s", w.Name, trim(w.Fuse), fuse.Colour)
}

// place is where the block lies.
func (r *road) place() string {
	for _, m := range r.p.Modules {
		if m.Name == r.p.Block.Module && m.Place != "" {
			return " (" + m.Place + ")"
		}
	}
	return ""
}
