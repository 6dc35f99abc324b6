package plan

import (
	"fmt"
	"slices"
	"strings"
)

// roles of a cavity.
const (
	roleFeed   = "feed"   // live whenever its way or the battery is
	roleEarth  = "earth"  // at earth for good
	roleSignal = "signal" // live or earthed by a switch or through a load
	roleSpare  = "spare"
	roleBlank  = "blank"
)

// plugRows is every cavity of every plug with what lies on both halves.
func plugRows(p *Plan, n *network) []PlugRow {
	var out []PlugRow
	for _, pl := range p.Plugs {
		for c := 1; c <= pl.Cavities; c++ {
			r := PlugRow{Plug: pl.Name, Cavity: c, Role: roleSpare}
			for _, f := range pl.Fill {
				if f.Number == c {
					r.What, r.Din, r.Old = f.What, f.Din, f.Old
					if f.Blank {
						r.Role = roleBlank
					}
				}
			}
			at := pl.Name + "." + itoa(c)
			for _, w := range p.Wires {
				if w.From != at && w.To != at {
					continue
				}
				r.MM2 = max(r.MM2, w.MM2)
				if w.In == pl.Module {
					r.ModuleWire, r.ModuleCode = joinNames(r.ModuleWire, w.Name), joinNames(r.ModuleCode, w.code())
				} else {
					r.LoomWire, r.LoomCode = joinNames(r.LoomWire, w.Name), joinNames(r.LoomCode, w.code())
				}
			}
			if r.LoomWire != "" || r.ModuleWire != "" {
				r.Role, r.Way = n.role(at)
			}
			out = append(out, r)
		}
	}
	return out
}

func joinNames(a, b string) string {
	if a == "" {
		return b
	}
	return a + " " + b
}

// code is the wire's colours, base before tracer.
func (w Wire) code() string {
	if w.Tracer == "" {
		return w.Colour
	}
	return w.Colour + "/" + w.Tracer
}

// role says what a cavity is joined to for good.
func (n *network) role(point string) (role, way string) {
	node := n.node[n.at[point]]
	if node == n.minus {
		return roleEarth, ""
	}
	if node == n.plus {
		return roleFeed, ""
	}
	for _, w := range n.ways {
		if w.out == node {
			return roleFeed, n.plan.Block.Ways[w.way].Name
		}
	}
	for _, w := range n.ways {
		if w.bus == node {
			return roleFeed, ""
		}
	}
	if alt, ok := n.at["alternator.+"]; ok && n.node[alt] == node {
		return roleFeed, ""
	}
	return roleSignal, ""
}

// OldToNew is the table from the plug that was cut off to the new one: every
// cavity of every plug, with its wires on both halves.
func OldToNew(p Plan) []PlugRow { return plugRows(&p, compile(&p, nil)) }

// Halves draws a plug four times: both halves, each from the wire entry and
// from the mating face. The two faces of one half are mirror images, and so
// are the mating faces of the two halves. Nil for a plug that is not there.
func Halves(p Plan, plug string) []PlugView {
	i := slices.IndexFunc(p.Plugs, func(x Plug) bool { return x.Name == plug })
	if i < 0 {
		return nil
	}
	pl := p.Plugs[i]
	var out []PlugView
	for _, half := range []Half{LoomHalf, ModuleHalf} {
		for _, face := range []Face{WireEntry, Mating} {
			words := map[Face]string{WireEntry: "seen from the wire entry", Mating: "seen from the mating face"}[face]
			terminals := "pins"
			if pl.Shrouded == half || pl.Shrouded == BothHalves {
				terminals = "shrouded female terminals"
			}
			out = append(out, PlugView{Plug: plug, Half: half,
				Title: fmt.Sprintf("%s, %s half (%s), %s", plug, half, terminals, words),
				Rows:  pl.rows((face == pl.Face) != (half == LoomHalf))})
		}
	}
	return out
}

// rows lays the cavities out, mirrored left to right if asked.
func (pl Plug) rows(mirror bool) [][]int {
	rows := max(pl.Rows, 1)
	cols := (pl.Cavities + rows - 1) / rows
	var out [][]int
	for r := range rows {
		row := make([]int, cols)
		for c := range cols {
			if k := r*cols + c + 1; k <= pl.Cavities {
				row[c] = k
			}
		}
		if mirror {
			slices.Reverse(row)
		}
		out = append(out, row)
	}
	return out
}

// neighbours tells whether two cavities touch, corners included.
func (pl Plug) neighbours(a, b int) bool {
	rows := max(pl.Rows, 1)
	cols := (pl.Cavities + rows - 1) / rows
	dr, dc := (a-1)/cols-(b-1)/cols, (a-1)%cols-(b-1)%cols
	return a != b && max(dr, -dr) <= 1 && max(dc, -dc) <= 1
}

// like tells whether two plugs' halves fit each other: the same housing and
// nothing in the keying that keeps them apart.
func like(a, b Plug) bool {
	return a.Housing != "" && a.Housing == b.Housing && a.Cavities == b.Cavities && a.LoomKind == b.LoomKind && a.Keying == b.Keying
}

// TryPlugs pushes the module half of each plug into the loom half of each
// other and says what would happen. Where they do not fit, Why is the first
// effect.
func TryPlugs(p Plan) []PlugTry {
	var out []PlugTry
	sound := map[string]bool{}
	for _, f := range prove(compile(&p, nil)) {
		sound[f.Kind+" "+f.Where] = true
	}
	for _, a := range p.Plugs {
		for _, b := range p.Plugs {
			if a.Name == b.Name {
				continue
			}
			t := PlugTry{Plug: a.Name, Socket: b.Name, Fits: like(a, b)}
			if !t.Fits {
				t.Effects = []string{"does not go in: " + apart(a, b)}
				out = append(out, t)
				continue
			}
			t.Effects, t.Harm = cross(p, a, b, sound)
			out = append(out, t)
		}
	}
	return out
}

func apart(a, b Plug) string {
	switch {
	case a.Housing != b.Housing:
		return fmt.Sprintf("%s against %s", housing(a), housing(b))
	case a.Cavities != b.Cavities:
		return fmt.Sprintf("%d ways against %d", a.Cavities, b.Cavities)
	case a.LoomKind != b.LoomKind:
		return "plug against plug"
	case a.Housing == "":
		return "nobody says which housing"
	}
	return "keying"
}

func housing(p Plug) string {
	if p.Housing == "" {
		return "an unnamed housing"
	}
	return p.Housing
}

// cross plugs module half a into socket b, the rest as it is, b's own module
// half hanging free, and lists what the proof then finds anew.
func cross(p Plan, a, b Plug, sound map[string]bool) (effects []string, harm bool) {
	q := p
	q.Wires = slices.Clone(p.Wires)
	for i, w := range q.Wires {
		for _, end := range []*string{&q.Wires[i].From, &q.Wires[i].To} {
			name, cavity, _ := strings.Cut(*end, ".")
			switch {
			case name == a.Name && w.In == a.Module:
				*end = b.Name + "." + cavity // a's module half in b's socket
			case name == b.Name && w.In == b.Module:
				*end = a.Name + "." + cavity // hangs free: its wires go nowhere
			}
		}
	}
	q.Plugs = slices.Clone(p.Plugs)
	for i := range q.Plugs {
		switch q.Plugs[i].Name {
		case b.Name:
			q.Plugs[i].Module = a.Module
		case a.Name:
			q.Plugs[i].Module = b.Module
		}
	}
	for _, f := range prove(compile(&q, without{"plug " + a.Name: true})) {
		if sound[f.Kind+" "+f.Where] {
			continue
		}
		switch f.Kind {
		case ShortToGnd, TiedWays, Bypassed, BackFeed, Reversed, FedKeyOff:
			harm = true
			effects = append(effects, f.Say)
		case NotAsMeant:
			if !strings.Contains(f.Say, "does not") {
				harm = true
				effects = append(effects, f.Say)
			}
		case NeverFed:
			effects = append(effects, f.Where+" is dead")
		}
	}
	if len(effects) == 0 {
		effects = []string{"nothing that the proof can see"}
	}
	slices.Sort(effects)
	return slices.Compact(effects), harm
}
