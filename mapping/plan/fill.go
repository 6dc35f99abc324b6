package plan

import (
	"cmp"
	"slices"
)

// Fill gives the plan with what it leaves at 0 worked out: fuses, wire sizes,
// main and charging fuse. What the plan says itself is not touched, right or
// wrong. Sizes begin with what current and fuse ask for and grow, the wire that
// loses most first, until every load's drop is within the plan's limit or its
// wires are as thick as they get.
func Fill(p Plan) Plan {
	p.Block.Ways = slices.Clone(p.Block.Ways)
	p.Wires = slices.Clone(p.Wires)
	b := &filler{p: &p, n: compile(&p, nil), stuck: map[string]bool{}}
	b.f = gather(b.n)
	w := work(&p, solveAll(b.f))
	for i := range p.Block.Ways {
		if p.Block.Ways[i].Fuse == 0 {
			p.Block.Ways[i].Fuse = w.Ways[i].Proposed
		}
	}
	if p.Supply.MainFuse == 0 {
		p.Supply.MainFuse = workMain(&p, solveAll(b.f)).Proposed
	}
	if p.Supply.ChargeFuse == 0 && p.Supply.AlternatorWatts > 0 {
		p.Supply.ChargeFuse, _ = nextRating(w.Charging.FuseLow)
	}
	b.sizes()
	return p
}

// unsized marks the wires whose size a plan leaves open.
func unsized(p *Plan) []bool {
	out := make([]bool, len(p.Wires))
	for i, w := range p.Wires {
		out[i] = w.MM2 <= 0
	}
	return out
}

// withSizes is a plan in which wires without a size have the one that Fill takes, so that no
// figure is worked out of a size that nobody planned.
func withSizes(p Plan) Plan {
	if !slices.Contains(unsized(&p), true) {
		return p
	}
	p.Wires = Fill(p).Wires
	return p
}

// filler sizes the wires of a plan. Its facts hold whatever the sizes are.
type filler struct {
	p     *Plan
	n     *network
	f     *facts
	open  []bool
	stuck map[string]bool // loads for which nothing more can be done
}

// leastMM2 is the thinnest wire that Fill takes.
const leastMM2 = 0.5

// sizes begins thin: a thicker wire draws more through those beside it, so that sizes only grow.
func (b *filler) sizes() {
	if b.open = unsized(b.p); !slices.Contains(b.open, true) {
		return
	}
	for i, open := range b.open {
		if open {
			b.p.Wires[i].MM2 = leastMM2
		}
	}
	for again := true; again; {
		b.n.resize()
		w := work(b.p, solveAll(b.f))
		again = false
		for i, x := range w.Wires {
			if b.open[i] && x.Proposed > b.p.Wires[i].MM2 {
				b.p.Wires[i].MM2, again = x.Proposed, true
			}
		}
		again = again || b.thicken(w)
	}
}

// dropLimit is the share of the voltage, in percent, that a load's wires may take there and back.
func (p *Plan) dropLimit(d Duty) float64 {
	switch d {
	case Brief:
		return 1.5 * p.DropPercent
	case Peak:
		return max(10, p.DropPercent)
	}
	return p.DropPercent
}

// thicken makes one wire one size thicker for each load that is over its limit, farthest over
// first; loads on whose way one has just been thickened wait for what that does. False when
// nothing is over, or nothing more can be done.
func (b *filler) thicken(w Worked) bool {
	var over []int
	excess := make([]float64, len(w.Loads))
	for i, l := range w.Loads {
		d := b.p.Loads[i].DutyOf()
		excess[i] = l.Percent - b.p.dropLimit(d)
		if d != Peak {
			excess[i] = max(excess[i], (l.Back-b.p.EarthVolts())/b.p.nominal()*100)
		}
		if l.Path != nil && !b.stuck[l.Name] && excess[i] > 1e-9 {
			over = append(over, i)
		}
	}
	slices.SortStableFunc(over, func(x, y int) int { return cmp.Compare(excess[y], excess[x]) })
	grown := make([]bool, len(b.p.Wires))
	for _, load := range over {
		b.stuck[w.Loads[load].Name] = !b.thickenFor(load, w, grown)
	}
	return slices.Contains(grown, true)
}

// thickenFor takes the wire that loses most on a load's way from the battery and back. False if
// none can be thicker.
func (b *filler) thickenFor(load int, w Worked, grown []bool) bool {
	path := slices.Clone(w.Loads[load].Path)
	for li, l := range b.n.loads {
		if l.load != load || b.f.best[li] == nil {
			continue
		}
		s := b.n.stateIn(b.f.best[li])
		for _, bus := range []string{"block.15", "block.30"} {
			path = append(path, b.n.path(s, "battery.+", bus)...)
		}
	}
	best, loss := -1, 0.0
	for i, wire := range b.p.Wires {
		if !slices.Contains(path, wire.From) || !slices.Contains(path, wire.To) {
			continue
		}
		if grown[i] {
			return true
		}
		if b.open[i] && wire.MM2 < 16 && w.Wires[i].Drop > loss {
			best, loss = i, w.Wires[i].Drop
		}
	}
	if best < 0 {
		return false
	}
	for _, s := range MetricSizes() {
		if s.MM2 > b.p.Wires[best].MM2 {
			b.p.Wires[best].MM2, grown[best] = s.MM2, true
			return true
		}
	}
	return false
}
