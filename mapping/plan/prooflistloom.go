package plan

import (
	"fmt"
	"strings"
)

func (b *prooflist) waysApart() {
	var names []string
	for i, w := range b.p.Block.Ways {
		if len(b.f.loadsOf[i]) > 0 {
			names = append(names, w.Name)
		}
	}
	for i := 0; i+1 < len(names); i++ {
		b.add(ProofCheck{ID: "5-" + strings.Join(names[i:], "-"), Group: "5 way to way, fuses out, loads out", Do: "Fuses, relays and loads out, every lever in every position", Red: names[i], Black: strings.Join(names[i+1:], " "), Set: "all",
			Expect: "OL", Unit: "ohm", Min: 1e6, Bad: "two ways are tied: pulling one fuse leaves the circuit live"})
	}
}

func (b *prooflist) wires() {
	for li, l := range b.n.loads {
		if l.load < 0 || b.f.best[li] == nil || b.n.motor(l) {
			continue
		}
		m := b.metered(li)
		ohms, ok := resistance(len(b.n.names), b.n.joined(m.set), b.n.at[m.from], m.plus)
		if !ok {
			continue // through a diode: 4 reads it
		}
		c := ProofCheck{ID: "6-" + l.name, Group: "6 fuse to load end", Do: "Load unplugged, at its own terminal; " + asideOut, Red: m.from, Black: b.n.names[m.plus], Set: m.text, Unit: "ohm",
			Max: round(max(0.2, ohms+0.1), 2), Bad: "bad crimp, or a contact that has got worse"}
		c.Expect = fmt.Sprintf("%s ohm or less over leads (wires and contacts make %s)", trim(c.Max), trim(round(ohms, 2)))
		b.add(c)
	}
}

func (b *prooflist) earths() {
	for _, r := range plugRows(b.p, b.n) {
		if r.Role != roleEarth {
			continue
		}
		at := fmt.Sprintf("%s.%d", r.Plug, r.Cavity)
		b.add(ProofCheck{ID: "7-" + at, Group: "7 earths", Do: "Each module's earth, loom half", Red: at, Black: "battery.- lug", Expect: "0.1 ohm or less over leads", Unit: "ohm", Max: 0.1, Bad: "paint under the stud, or a bad crimp"})
	}
	for _, e := range b.p.Earths {
		b.add(ProofCheck{ID: "7-" + e.Name, Group: "7 earths", Do: "Earth point", Red: e.Name, Black: "battery.- lug", Expect: "0.1 ohm or less over leads", Unit: "ohm", Max: 0.1, Bad: "paint under the stud, or a bad crimp"})
	}
}

func (b *prooflist) battery() {
	b.add(ProofCheck{ID: "8-lugs", Group: "8 battery lugs", Do: "Key off, main fuse in, everything plugged in, battery still out", Red: "battery.+ lug", Black: "battery.- lug",
		Expect: "more than 10 k ohm (the regulator may show a diode)", Unit: "ohm", Min: 1e4, Bad: "do not connect the battery: look for what is live with the key off"})
}

func (b *prooflist) coils() {
	for _, r := range b.p.Relays {
		ohms := b.p.Coil(r)
		b.add(ProofCheck{ID: "9-" + r.Name, Group: "9 relay coils", Do: "Relay in the hand", Red: r.Name + ".86", Black: r.Name + ".85", Unit: "ohm", Min: round(0.8*ohms, 1), Max: round(1.2*ohms, 1),
			Expect: fmt.Sprintf("about %s ohm", trim(ohms)), Bad: "wrong terminals, or another relay than planned"})
	}
}
