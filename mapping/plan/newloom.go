package plan

import (
	"fmt"
	"slices"
	"strings"

	"bellout/mapping"
)

// relay lets a pod's end work a coil, and feeds the load from a way or, for
// the starter, from the battery.
func (b *builder) relay(job string, here podEnd, what string) {
	name := map[string]string{"56a": "RM", "56b": "RD", "50": "RS", horn: "RH"}[job]
	b.worked[job] = append(b.worked[job], here)
	b.wire(here.at, name+".86", Loom, what, 1)
	if slices.ContainsFunc(b.p.Relays, func(r Relay) bool { return r.Name == name }) {
		return
	}
	r := Relay{Name: name, ContactAmps: 30, Suppressed: true, What: what}
	if job == "50" {
		r.ContactAmps, r.CoilOhms = 150, 12
	}
	b.p.Relays = append(b.p.Relays, r)
	b.wire(name+".85", "E1", Loom, "relay earth", 0.4)
	if job == "50" {
		b.wire("battery.+", name+".30", Loom, "starter cable", 0.2)
		b.wire(name+".87", "starter.+", Loom, "starter cable", 0.6)
		b.wire("starter.-", "battery.-", Loom, "starter earth", 0.6)
		b.p.Loads = append(b.p.Loads, Load{Name: "starter", Module: "engine", Kind: "starter motor"})
		return
	}
	b.feed(FromIgnition, what+" feed", podEnd{at: name + ".30"})
	b.outs[job] = append(b.outs[job], name+".87")
}

// out notes that a job comes out of the loom at a pod's end.
func (b *builder) out(job string, here podEnd) {
	b.worked[job] = append(b.worked[job], here)
	b.outs[job] = append(b.outs[job], here.at)
}

// outside adds the modules that pods do not bring: their plugs, loads, earths.
func (b *builder) outside() {
	for _, module := range []string{"front", "rear", "engine"} {
		b.module(module)
	}
}

func (b *builder) module(module string) {
	plug := Plug{Name: "P" + itoa(len(b.p.Plugs)+1), Module: module, Rows: 1, Face: WireEntry, Shrouded: LoomHalf, Place: module}
	cavity := func(what, din string) string {
		plug.Fill = append(plug.Fill, Cavity{Number: len(plug.Fill) + 1, What: what, Din: din})
		return fmt.Sprintf("%s.%d", plug.Name, len(plug.Fill))
	}
	var earthed, own []string
	for _, u := range usual {
		from := b.outs[u.job]
		if len(from) == 0 || u.job == "50" {
			continue
		}
		for _, l := range u.loads {
			if l.module != module || slices.ContainsFunc(b.p.Loads, func(x Load) bool { return x.Name == l.name }) {
				continue
			}
			src := b.splice(u.job, from)
			what := b.whatAt(src, u.job)
			at := cavity(what, dinOf(u.job))
			b.p.Loads = append(b.p.Loads, Load{Name: l.name, Module: module, Kind: l.kind})
			b.wire(src, at, Loom, what, 1)
			b.wire(at, l.name+".+", module, what, 0.3)
			if k, _ := KindOf(l.kind); k.Group == Headlamp || k.Group == Ignition {
				own = append(own, l.name)
			} else {
				earthed = append(earthed, l.name)
			}
		}
	}
	if len(plug.Fill) == 0 {
		return
	}
	plug.Fill = append(plug.Fill, Cavity{Number: len(plug.Fill) + 1, What: "free, between feeds and earths", Blank: true})
	for i, set := range [][]string{own, earthed} {
		if len(set) == 0 {
			continue
		}
		what := []string{"own earth", "earth"}[i]
		at := cavity(what, "31")
		join := at
		if len(set) > 1 {
			join = fmt.Sprintf("%s%d", strings.ToUpper(module[:1]), i+1)
			b.p.Splices = append(b.p.Splices, Splice{Name: join, Place: module, Module: module})
			b.wire(join, at, module, what, 0.2)
		}
		for _, name := range set {
			b.wire(name+".-", join, module, what, 0.3)
		}
		b.wire(at, "E1", Loom, what, 0.9)
	}
	b.size(&plug, len(plug.Fill))
	b.p.Plugs = append(b.p.Plugs, plug)
}

// splice joins all the places that a function comes out at, once.
func (b *builder) splice(job string, from []string) string {
	name := "S" + job
	if slices.ContainsFunc(b.p.Splices, func(s Splice) bool { return s.Name == name }) {
		return name
	}
	total := 0
	for _, l := range loadsOf(job) {
		if l.module != "" {
			total++
		}
	}
	if len(from) == 1 && total == 1 {
		return from[0]
	}
	b.p.Splices = append(b.p.Splices, Splice{Name: name, Place: "steering head"})
	for _, f := range from {
		b.wire(f, name, Loom, b.whatAt(f, job), 0.2)
	}
	return name
}

// whatAt is what the fill of a cavity calls it, else the job.
func (b *builder) whatAt(point, job string) string {
	name, cavity, _ := strings.Cut(point, ".")
	for _, pl := range b.p.Plugs {
		if pl.Name != name {
			continue
		}
		for _, c := range pl.Fill {
			if itoa(c.Number) == cavity {
				return c.What
			}
		}
	}
	return job
}

// fromDesc writes a pod's table into the plan itself.
func (p *Pod) fromDesc() {
	for _, e := range p.Desc.Ends {
		id := string(e.ID)
		p.Ends = append(p.Ends, id)
	}
	for _, s := range p.Desc.Switches {
		in := InlineSwitch{Name: string(s.Name), Rest: string(s.Rest), Momentary: s.Momentary}
		for _, q := range s.Positions {
			in.Positions = append(in.Positions, string(q))
		}
		p.Switches = append(p.Switches, in)
	}
	for _, l := range p.Map.Links {
		alts := l.When
		if len(alts) == 0 {
			alts = []mapping.Condition{nil}
		}
		for _, c := range alts {
			one := mapping.Link{A: l.A, B: l.B}
			text := ""
			if len(c) > 0 {
				one.When = []mapping.Condition{c}
				text = whenText(one)
			}
			p.Contacts = append(p.Contacts, InlineContact{Join: []string{string(l.A), string(l.B)}, When: text, Grade: l.Grade.String()})
		}
	}
}
