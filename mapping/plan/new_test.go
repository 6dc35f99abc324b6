package plan

import (
	"slices"
	"strings"
	"testing"

	"bellout/mapping"

	"github.com/google/go-cmp/cmp"
)

func heronPods(t *testing.T) []NewPod {
	p := heron(t)
	names := map[string]map[mapping.EndID]Function{
		"left":   {"1": {"58 in", ""}, "2": {"58 out", "58"}, "3": {"56 in", "56"}, "4": {"main", "56a"}, "5": {"dip", "56b"}, "6": {"turn", "49a"}, "7": {"left", "L"}, "8": {"right", "R"}, "9": {"horn in", ""}, "10": {"horn", "71"}},
		"right":  {"1": {"15 in", ""}, "2": {"ignition", "1"}, "3": {"start", "50"}, "4": {"brake in", ""}, "5": {"brake", "54"}},
		"barrel": {"1": {"30", "30"}, "2": {"15", "15"}},
	}
	var out []NewPod
	for _, x := range p.Pods[:3] {
		out = append(out, NewPod{Name: x.Name, Module: x.Module, PodFile: x.PodFile, MapFile: x.MapFile, Desc: x.Desc, Map: x.Map, Ohms: x.Ohms, Functions: names[x.Name], Key: x.Key, KeyOff: x.KeyOff})
	}
	return out
}

// A first plan can be written and read back, and all that Check has to say of
// it is what the builder must decide.
func TestNewPlan(t *testing.T) {
	for _, inline := range []bool{false, true} {
		pods := heronPods(t)
		for i := range pods {
			if inline {
				pods[i].PodFile, pods[i].MapFile = "", ""
			}
		}
		p := New("first", pods)
		text := Write(p)
		back, err := Read("new.toml", text, openExample)
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		if d := cmp.Diff(string(text), string(Write(back))); d != "" {
			t.Error(d)
		}
		if len(p.Loads) != 12 || len(p.Block.Ways) < 7 {
			t.Errorf("%d loads on %d ways", len(p.Loads), len(p.Block.Ways))
		}
		for _, f := range Check(back) {
			switch f.Kind {
			case DiesOutside, BareEnd, NoSpare, FeedByEarth, SameColour, Daisy:
				continue // the builder's to decide
			}
			t.Errorf("%s | %s | %s | %s | %v", f.Kind, f.Where, f.Setting, f.Say, f.Path)
		}
	}
}

func TestNewPlanOfUnnamedPods(t *testing.T) {
	pods := heronPods(t)
	for i := range pods {
		pods[i].Functions = nil
	}
	p := New("bare", pods)
	if _, err := Read("bare.toml", Write(p), openExample); err != nil {
		t.Error(err)
	}
	if _, err := Read("none.toml", Write(New("none", nil)), nil); err != nil {
		t.Error(err)
	}
}

// Filling a plan that says nothing of sizes and fuses gives one that breaks no
// rule about them.
func TestFill(t *testing.T) {
	p := heron(t)
	for i := range p.Wires {
		p.Wires[i].MM2 = 0
	}
	for i := range p.Block.Ways {
		p.Block.Ways[i].Fuse = 0
	}
	p.Supply.MainFuse, p.Supply.ChargeFuse = 0, 0
	for _, f := range Check(Fill(p)) {
		t.Errorf("%+v", f)
	}
}

// TestChargingWires: each wire between alternator and battery, there and back, is
// thick enough for all that the alternator gives, in a first plan as in the rules (a
// wire must carry its current continuously: common practice).
func TestChargingWires(t *testing.T) {
	p := New("first", nil)
	amps := p.Supply.AlternatorWatts / p.Volts
	var names []string
	for i, w := range p.Wires {
		ends := w.From + " " + w.To
		if !strings.Contains(ends, "alternator") && !strings.Contains(ends, "charge") {
			continue
		}
		names = append(names, w.Name)
		if carries := p.carries(anySize(w.MM2)); carries < amps {
			t.Errorf("%s of %v mm2 (%s) carries %.1f A, the alternator gives %.1f", w.Name, w.MM2, ends, carries, amps)
		}
		thin := p
		thin.Wires = slices.Clone(p.Wires)
		thin.Wires[i].MM2 = 0.5
		if !slices.ContainsFunc(Check(thin), func(f Finding) bool { return f.Kind == WireThin && f.Where == w.Name }) {
			t.Errorf("nothing is said of %s (%s) of 0.5 mm2", w.Name, ends)
		}
	}
	if len(names) != 3 {
		t.Errorf("charging wires %v, want three", names)
	}
}
