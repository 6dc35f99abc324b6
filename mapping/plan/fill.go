package plan

import "slices"

// Fill gives the plan with what it leaves at 0 worked out: fuses, wire sizes,
// main and charging fuse. What the plan says itself is not touched, right or
// wrong. Sizes begin with what current and fuse ask for and grow, the wire that
// loses most first, until every load's drop is within the plan's limit or its
// wires are as thick as they get.
func Fill(p Plan) Plan {
	p.Block.Ways = slices.Clone(p.Block.Ways)
	p.Wires = slices.Clone(p.Wires)
	open := make([]bool, len(p.Wires))
	for i, w := range p.Wires {
		open[i] = w.MM2 <= 0
	}
	w := Work(p)
	for i := range p.Block.Ways {
		if p.Block.Ways[i].Fuse == 0 {
			p.Block.Ways[i].Fuse = w.Ways[i].Proposed
		}
	}
	if p.Supply.MainFuse == 0 {
		p.Supply.MainFuse = Work(p).Main.Proposed
	}
	if p.Supply.ChargeFuse == 0 && p.Supply.AlternatorWatts > 0 {
		p.Supply.ChargeFuse, _ = nextRating(w.Charging.FuseLow)
	}
	for i, x := range Work(p).Wires {
		if open[i] {
			p.Wires[i].MM2 = max(x.Proposed, 0.5)
		}
	}
	stuck := map[string]bool{}
	for range 300 {
		if !thicken(&p, open, stuck) {
			break
		}
	}
	return p
}

// thicken makes one wire one size thicker, for the load that is farthest over
// its limit. False when nothing is over, or nothing more can be done.
func thicken(p *Plan, open []bool, stuck map[string]bool) bool {
	w := Work(*p)
	worst, over := -1, 0.0
	for i, l := range w.Loads {
		limit := p.DropPercent
		switch p.Loads[i].DutyOf() {
		case Brief:
			limit *= 1.5
		case Peak:
			limit = max(10, limit)
		}
		excess := max(l.Percent-limit, (l.Back-p.EarthVolts())/p.Volts*100)
		if p.Loads[i].DutyOf() == Peak {
			excess = l.Percent - limit
		}
		if l.Path != nil && !stuck[l.Name] && excess > over+1e-9 {
			worst, over = i, excess
		}
	}
	if worst < 0 {
		return false
	}
	n := compile(p, nil)
	f := gather(n)
	path := slices.Clone(w.Loads[worst].Path)
	for li, l := range n.loads {
		if l.load != worst || f.best[li] == nil {
			continue
		}
		s := newState(n)
		copy(s.set, f.best[li])
		n.eval(s)
		for _, bus := range []string{"block.15", "block.30"} {
			path = append(path, n.path(s, "battery.+", bus)...)
		}
	}
	best, loss := -1, 0.0
	for i, wire := range p.Wires {
		if open[i] && wire.MM2 < 16 && slices.Contains(path, wire.From) && slices.Contains(path, wire.To) && w.Wires[i].Drop > loss {
			best, loss = i, w.Wires[i].Drop
		}
	}
	if best < 0 { // nothing left to do for this one, there may be for others
		stuck[w.Loads[worst].Name] = true
		return true
	}
	for _, s := range MetricSizes() {
		if s.MM2 > p.Wires[best].MM2 {
			p.Wires[best].MM2 = s.MM2
			return true
		}
	}
	return false
}
