package plan

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
)

// What makes no difference to a harness makes none to the check.
func TestSoundVariantsStaySound(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 5))
	variants := map[string]func(p *Plan){
		"another order": func(p *Plan) {
			r.Shuffle(len(p.Wires), func(i, j int) { p.Wires[i], p.Wires[j] = p.Wires[j], p.Wires[i] })
			r.Shuffle(len(p.Loads), func(i, j int) { p.Loads[i], p.Loads[j] = p.Loads[j], p.Loads[i] })
			r.Shuffle(len(p.Plugs), func(i, j int) { p.Plugs[i], p.Plugs[j] = p.Plugs[j], p.Plugs[i] })
			r.Shuffle(len(p.Pods), func(i, j int) { p.Pods[i], p.Pods[j] = p.Pods[j], p.Pods[i] })
			r.Shuffle(len(p.Block.Ways), func(i, j int) { p.Block.Ways[i], p.Block.Ways[j] = p.Block.Ways[j], p.Block.Ways[i] })
			r.Shuffle(len(p.Relays), func(i, j int) { p.Relays[i], p.Relays[j] = p.Relays[j], p.Relays[i] })
		},
		"wires named from the other end": func(p *Plan) {
			for i := range p.Wires {
				p.Wires[i].From, p.Wires[i].To = p.Wires[i].To, p.Wires[i].From
			}
		},
		"coils the other way round": func(p *Plan) {
			for i, relay := range p.Relays {
				p.swap(relay.Name+".85", relay.Name+".86")
				p.Relays[i].Suppressed = false // by a diode it would be a short
			}
		},
		"thicker wires": func(p *Plan) {
			for i, w := range p.Wires {
				p.Wires[i].MM2 = atLeast(MetricSizes(), w.MM2+0.01).MM2
			}
		},
		"lamps the other way round": func(p *Plan) {
			for _, l := range p.Loads {
				if k, _ := KindOf(l.Kind); !k.LED && k.Group != Motor {
					p.rename(l.Name+".+", "x")
					p.rename(l.Name+".-", l.Name+".+")
					p.rename("x", l.Name+".-")
				}
			}
		},
		"other names": func(p *Plan) {
			for i := range p.Wires {
				for _, end := range []*string{&p.Wires[i].From, &p.Wires[i].To} {
					if rest, ok := strings.CutPrefix(*end, "PF."); ok {
						*end = "front plug." + rest
					}
				}
			}
			for i := range p.Plugs {
				if p.Plugs[i].Name == "PF" {
					p.Plugs[i].Name = "front plug"
				}
			}
		},
		"cooler": func(p *Plan) { p.Temperature = 20 },
		"a pod's ends measured better": func(p *Plan) {
			for i := range p.Pods {
				for k := range p.Pods[i].Ohms {
					p.Pods[i].Ohms[k].Ohms = 0.01
				}
			}
		},
		"written and read": func(p *Plan) {
			back, err := Read("p", Write(*p), openExample)
			if err != nil {
				t.Fatal(err)
			}
			*p = back
		},
	}
	for name, change := range variants {
		p := fresh(heron(t))
		change(&p)
		for _, f := range Check(p) {
			t.Errorf("%s: %s | %s | %s", name, f.Kind, f.Where, f.Say)
		}
	}
}

// The same plan gives the same words every time.
func TestEverythingIsStable(t *testing.T) {
	all := func() string {
		p := heron(t)
		lines, err := Roadside(p, "left indicators dead")
		if err != nil {
			t.Fatal(err)
		}
		broken := fresh(p)
		broken.link("W1", "W2", Loom)
		broken.link("W3", "E1", Loom)
		return fmt.Sprintf("%+v\n%+v\n%+v\n%+v\n%+v\n%+v\n%+v\n%+v\n%+v\n%s", Work(p), Unplug(p), CheckAll(broken), OldToNew(p), TryPlugs(p),
			ProofList(p), FirstPower(p), ShareOut(p), ProofReadings(p, Loom), strings.Join(lines, "\n"))
	}
	first := all()
	for range 3 {
		if all() != first {
			t.Fatal("two runs differ")
		}
	}
}
