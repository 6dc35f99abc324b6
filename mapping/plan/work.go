package plan

import (
	"fmt"
	"math"
	"slices"

	"bellout/mapping"
)

// solved is the plan solved in the settings that matter: for each load the
// busiest one in which it is fed, and the busiest of all.
type solved struct {
	f       *facts
	loads   []*flowing // by network load, nil if nothing feeds it
	states  []*state
	wire    []float64 // most amps by wire, no starter turning
	crank   []float64 // and while one turns
	contact []float64
	gate    []float64
	diode   []float64
	main    float64
	key     float64
}

// across is the voltage at a load.
func (f *flowing) across(l loadEdge) float64 {
	v := f.volts[l.plusP] - f.volts[l.minusP]
	return max(v, -v)
}

func solveAll(f *facts) *solved {
	n := f.n
	out := &solved{f: f, loads: make([]*flowing, len(n.loads)), states: make([]*state, len(n.loads)),
		wire: make([]float64, len(n.plan.Wires)), crank: make([]float64, len(n.plan.Wires)), contact: make([]float64, len(n.contacts)),
		gate: make([]float64, len(n.gates)), diode: make([]float64, len(n.diodes))}
	idle := *n // the same with no starter turning
	idle.loads = slices.DeleteFunc(slices.Clone(n.loads), n.motor)
	for li := range n.loads {
		if f.best[li] == nil {
			continue
		}
		s := n.stateIn(f.best[li])
		turning := n
		if !n.motor(n.loads[li]) {
			turning = &idle
		}
		fl := turning.solve(s)
		out.loads[li], out.states[li] = fl, s
		if n.motor(n.loads[li]) { // cranking is left out of the tables (33 CFR 183.425(g))
			out.addCrank(fl, idle.solve(s), n.loads[li])
			continue
		}
		for i, a := range fl.wire {
			out.wire[i] = max(out.wire[i], a)
		}
		for i, a := range fl.contact {
			out.contact[i] = max(out.contact[i], a)
		}
		for i, a := range fl.gate {
			out.gate[i] = max(out.gate[i], a)
		}
		for i, a := range fl.diode {
			out.diode[i] = max(out.diode[i], a)
		}
		out.main, out.key = max(out.main, fl.mainAmps), max(out.key, fl.key)
	}
	for ci, set := range f.through { // a contact beside another that did the work above
		if set == nil || out.contact[ci] > 1e-6 {
			continue
		}
		s := n.stateIn(set)
		fl := idle.solve(s)
		for li, l := range n.loads {
			if old := out.loads[li]; s.fed(l) && !n.motor(l) && old != nil && fl.across(l) < old.across(l)-1e-9 {
				out.loads[li], out.states[li] = fl, s
			}
		}
		for i, a := range fl.wire {
			out.wire[i] = max(out.wire[i], a)
		}
		for i, a := range fl.contact {
			out.contact[i] = max(out.contact[i], a)
		}
	}
	return out
}

// Work works out fuses, sizes, drops, contacts, feed and charging balance of a
// plan, in the worst settings that there are for each load.
func Work(p Plan) Worked {
	full := withSizes(p)
	n := compile(&full, nil)
	return workOpen(&p, &full, solveAll(gather(n)))
}

// workOpen works a plan out whose open sizes have been filled in: those are what it proposes.
func workOpen(p, full *Plan, s *solved) Worked {
	w := work(full, s)
	for i, open := range unsized(p) {
		if open && w.Wires[i].Proposed > 0 {
			w.Wires[i].Proposed = w.Wires[i].MM2
		}
	}
	return w
}

func work(p *Plan, s *solved) Worked {
	w := Worked{
		Ways: workWays(p, s), Wires: workWires(p, s), Loads: workLoads(p, s), Contacts: workContacts(p, s),
		Main: workMain(p, s), Charging: workCharging(p, s.f),
	}
	w.Reasons = append(w.Reasons,
		fmt.Sprintf("Wires carry what one wire alone carries in 30 C air (33 CFR 183.425 table 5 at 105 C) times %s for %s C around them and %s for three loaded neighbours (prudence at 12 V, not law).",
			trim(round(AmbientFactor(p.Insulation, p.Temperature), 3)), trim(p.Temperature), trim(BundleFactor(3))),
		fmt.Sprintf("Copper at %s C has %s times its resistance at 20 C (FAA AC 43.13-1B par. 11-66).", trim(p.Temperature), trim(round(WarmFactor(p.Temperature), 3))),
		fmt.Sprintf("Running at %s V filament lamps take about 8 %% more than at %s V (common practice).", trim(p.runVolts()), trim(p.nominal())),
		fmt.Sprintf("A contact that nobody measured counts as %s ohm, a mated terminal pair as %s ohm.", trim(contactOhms), trim(cavityOhms)))
	for _, r := range p.Relays {
		if !r.Suppressed {
			w.Reasons = append(w.Reasons, fmt.Sprintf("Relay %s has no diode or resistor across its coil: one protects the small contact that works it (common practice).", r.Name))
		}
	}
	for _, l := range p.Loads {
		if !l.Always {
			continue
		}
		say := fmt.Sprintf("%s is live with the key off and draws %s A", l.Name, trim(round(p.amps(l), 3)))
		if p.Supply.AmpHours > 0 && p.amps(l) > 0 {
			say += fmt.Sprintf(": it empties the battery in %s days", trim(round(p.Supply.AmpHours/p.amps(l)/24, 1)))
		}
		w.Reasons = append(w.Reasons, say+".")
	}
	for _, x := range p.Wires {
		if say := mapping.IECWarning(mapping.Colour(x.Colour), mapping.Colour(x.Tracer)); say != "" {
			w.Reasons = append(w.Reasons, "Wire "+x.Name+": "+say+".")
		}
	}
	return w
}

func workWays(p *Plan, s *solved) []WorkedWay {
	f := s.f
	var out []WorkedWay
	for i, way := range p.Block.Ways {
		w := WorkedWay{Name: way.Name, Feed: way.Feed, Loads: f.loadsOf[i], Steady: round(f.steady[i], 3), Peak: round(f.peak[i], 3), Fuse: way.Fuse}
		w.Limit, w.Thinnest = f.limit(i)
		w.Proposed = proposeFuse(w.Steady, w.Peak, w.Limit)
		need, _ := FuseFor(max(w.Steady, w.Peak*continuousShare))
		w.Reasons = append(w.Reasons, fmt.Sprintf("%s A steady, %s A at most: at 75 %% for what runs on, %s.", trim(round(w.Steady, 2)), trim(round(w.Peak, 2)), propose(need.Rating, "%s A is the smallest that holds", "no blade fuse holds that")))
		if w.Thinnest != "" {
			w.Reasons = append(w.Reasons, fmt.Sprintf("%s is the thinnest behind it and allows %s A.", w.Thinnest, trim(w.Limit)))
		}
		if w.Proposed == 0 {
			w.Reasons = append(w.Reasons, "No fuse both carries the load and protects that wire: make it thicker, move loads to another way or put a relay between.")
		}
		if w.Fuse == 0 {
			w.Fuse = w.Proposed
		}
		if fuse, ok := FuseOf(w.Fuse); ok {
			w.Colour = fuse.Colour
			w.Short = round(shortAmps(f, i), 1)
			if at, note, ok := OpeningTime(fuse, w.Short); ok {
				w.Opens = at
				w.Reasons = append(w.Reasons, fmt.Sprintf("A short at the farthest load draws about %s A: the fuse opens within %s s (%s).", trim(round(w.Short, 0)), trim(at), note))
			}
		}
		out = append(out, w)
	}
	return out
}

// proposeFuse is the smallest usual fuse that carries steady at 75 % and peak
// in full and is within the wires' limit; 0 if there is none.
func proposeFuse(steady, peak, limit float64) float64 {
	f, ok := FuseFor(max(steady, peak*continuousShare))
	if !ok || limit > 0 && f.Rating > limit {
		return 0
	}
	return f.Rating
}

// shortAmps is the current at a short across the load of a way that has most
// wire before it, the battery giving nominal voltage through 0.02 ohm.
func shortAmps(f *facts, way int) float64 {
	n := f.n
	least := math.Inf(1)
	for li, l := range n.loads {
		if f.ways[li]&(1<<way) == 0 || f.best[li] == nil {
			continue
		}
		s := n.stateIn(f.best[li])
		m := *n
		m.loads = []loadEdge{l}
		m.loads[0].ohms = 1e-3
		fl := m.solve(s)
		least = min(least, fl.way[way])
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return n.plan.Volts / (n.plan.Volts/max(least, 1e-9) + 0.02)
}

// insulated tells whether the wire stands the harness's own warmth.
func (p *Plan) insulated() bool { return AmbientFactor(p.Insulation, p.Temperature) > 0 }

// carries is what a size may carry in this harness.
func (p *Plan) carries(s Size) float64 {
	return s.Amps * AmbientFactor(p.Insulation, p.Temperature) * BundleFactor(3)
}

func workWires(p *Plan, s *solved) []WorkedWire {
	n := s.f.n
	mainSide, chargeSide := n.behindPoint("main.out"), n.behindPoint("charge.in")
	charging := n.chargingPoints()
	var out []WorkedWire
	for i, wire := range p.Wires {
		w := WorkedWire{Name: wire.Name, Amps: round(s.wire[i], 3), MM2: wire.MM2}
		if from, to := n.ends(wire); charging[from] && charging[to] {
			w.Amps = max(w.Amps, round(p.alternatorAmps(), 3)) // all that it gives, into an empty battery
		}
		fuse, what := s.f.fuseOver(i, mainSide, chargeSide)
		where := "behind"
		if amps, name := p.feeder(wire); amps > fuse {
			fuse, what, where = amps, name, "before"
		}
		w.Fuse = fuse
		least, carries := leastMM2, p.carries
		if s.crank[i] > w.Amps && s.crank[i] > p.carries(anySize(least)) {
			w.Cranking, w.Amps = true, round(s.crank[i], 3)
			least, carries = starterMM2, p.cranks
		}
		// Rounded as the amps are, so that a size that is proposed at its very limit passes.
		stands := func(size Size) float64 { return round(carries(size), 3) }
		for _, size := range MetricSizes() {
			if size.MM2 >= least && stands(size) >= w.Amps && size.FuseMax >= fuse {
				w.Proposed = size.MM2
				break
			}
		}
		if w.MM2 <= 0 {
			w.MM2 = max(w.Proposed, leastMM2)
		}
		size := anySize(w.MM2)
		w.Carries = stands(size)
		w.Drop = round(Drop(w.Amps, wire.Length, size.OhmsPerKM, p.Temperature), 4)
		w.Reason = fmt.Sprintf("%s A, carries %s A here", trim(round(w.Amps, 2)), trim(round(w.Carries, 1)))
		if w.Cranking {
			w.Reason = fmt.Sprintf("%s A while the starter turns, stands %s A for %s s", trim(round(w.Amps, 2)), trim(round(w.Carries, 1)), trim(crankSeconds))
		}
		if what != "" {
			w.Reason += fmt.Sprintf("; %s %s of %s A, may stand %s %s A", where, what, trim(fuse), where, trim(size.FuseMax))
		}
		out = append(out, w)
	}
	return out
}

func workLoads(p *Plan, s *solved) []WorkedLoad {
	n := s.f.n
	var out []WorkedLoad
	for li, l := range n.loads {
		if l.load < 0 {
			continue
		}
		load := p.Loads[l.load]
		w := WorkedLoad{Name: l.name, Amps: round(p.amps(load), 3), ColdOhms: round(p.cold(load), 2)}
		fl := s.loads[li]
		if fl == nil {
			out = append(out, w)
			continue
		}
		for i := range n.ways {
			if s.f.ways[li]&(1<<i) != 0 {
				if w.Way != "" {
					w.Way += " "
				}
				w.Way += p.Block.Ways[n.ways[i].way].Name
			}
		}
		hi, lo := fl.volts[l.plusP], fl.volts[l.minusP]
		if lo > hi {
			hi, lo = lo, hi
		}
		w.Volts, w.Back = round(hi-lo, 4), round(lo, 4)
		w.Drop = round(p.Volts-(hi-lo), 4)
		w.Percent = round(w.Drop/p.Volts*100, 2)
		w.Path = n.feedPath(s.states[li], l)
		before, behind := n.diodesOf(s.states[li], l)
		w.Diodes = before + behind
		out = append(out, w)
	}
	return out
}

func workContacts(p *Plan, s *solved) []WorkedContact {
	n := s.f.n
	var out []WorkedContact
	for i, c := range n.contacts {
		pod := p.Pods[c.pod]
		l := pod.Map.Links[c.link]
		w := WorkedContact{Pod: pod.Name, Between: [2]string{string(l.A), string(l.B)}, Amps: round(s.contact[i], 3),
			Allowed: pod.most(), Ohms: c.ohms, Drop: round(s.contact[i]*c.ohms, 4)}
		group := s.f.heaviest(i)
		switch {
		case w.Amps > w.Allowed:
			w.Relay, w.Reason = true, fmt.Sprintf("%s A through a contact that should carry %s A at most (common practice)", trim(round(w.Amps, 1)), trim(w.Allowed))
		case w.Amps > 3 && (group == Headlamp || group == Horn):
			w.Relay, w.Reason = true, fmt.Sprintf("%s A of a %s through a small contact: above 3 A a relay spares it (common practice)", trim(round(w.Amps, 1)), group)
		}
		out = append(out, w)
	}
	return out
}

// heaviest is the group of the thirstiest load whose path goes through a
// contact in its busiest setting.
func (f *facts) heaviest(contact int) Group {
	n := f.n
	c := n.contacts[contact]
	best, group := 0.0, Group("")
	for li, l := range n.loads {
		if l.load < 0 || f.best[li] == nil || n.amps(l) <= best {
			continue
		}
		if n.onPath(f.path(li), c) {
			best, group = n.amps(l), n.plan.Loads[l.load].GroupOf()
		}
	}
	return group
}
