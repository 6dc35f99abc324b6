package plan

import (
	"slices"
	"strings"
	"testing"
)

// withoutSizes leaves every wire's size open.
func withoutSizes(p Plan) Plan {
	p = fresh(p)
	for i := range p.Wires {
		p.Wires[i].MM2 = 0
	}
	return p
}

// What is proposed for wires without a size is what Fill takes, and passes the check; until
// then nothing is said of amps and volts but that sizes are missing.
func TestProposedSizesPass(t *testing.T) {
	p := withoutSizes(heron(t))
	filled := Fill(p)
	for _, f := range Check(filled) {
		t.Errorf("filled: %s at %s: %s", f.Kind, f.Where, f.Say)
	}
	byHand := withoutSizes(p)
	for i, w := range Work(p).Wires {
		if w.Proposed != filled.Wires[i].MM2 || w.MM2 != w.Proposed {
			t.Errorf("%s: %v mm2 is proposed, worked out with %v, filled in %v", w.Name, w.Proposed, w.MM2, filled.Wires[i].MM2)
		}
		byHand.Wires[i].MM2 = w.Proposed
	}
	if got := Check(byHand); len(got) > 0 {
		t.Errorf("by hand: %v", briefly(got))
	}
	found := Check(p)
	for _, f := range found {
		i := slices.IndexFunc(filled.Wires, func(w Wire) bool { return w.Name == f.Where })
		if f.Kind != NoSize || i < 0 || !strings.Contains(f.Say, ": "+trim(filled.Wires[i].MM2)+" mm2 would do") {
			t.Errorf("unsized: %s at %s: %s", f.Kind, f.Where, f.Say)
		}
	}
	if len(found) != len(p.Wires) {
		t.Errorf("%d wires without a size, %d findings", len(p.Wires), len(found))
	}
}

// The same in other warmth and at other voltages: filling leaves no wire too thin that it sized itself.
func TestProposedSizesPassAtAnyTemperature(t *testing.T) {
	for _, celsius := range []float64{47, 81} {
		for _, volts := range []float64{6, 24} {
			p := withoutSizes(heron(t))
			p.Temperature, p.Volts = celsius, volts
			for _, f := range Check(Fill(p)) {
				switch f.Kind {
				case WireThin, NoSize:
					t.Errorf("%v C, %v V: %s at %s: %s", celsius, volts, f.Kind, f.Where, f.Say)
				}
			}
		}
	}
}
