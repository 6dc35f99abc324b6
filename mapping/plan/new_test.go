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
		"left":   {"1": {What: "58 in"}, "2": {What: "58 out", Din: "58"}, "3": {What: "56 in", Din: "56"}, "4": {What: "main", Din: "56a"}, "5": {What: "dip", Din: "56b"}, "6": {What: "turn", Din: "49a"}, "7": {What: "left", Din: "L"}, "8": {What: "right", Din: "R"}, "9": {What: "horn in"}, "10": {What: "horn", Din: "71"}},
		"right":  {"1": {What: "15 in"}, "2": {What: "ignition", Din: "1"}, "3": {What: "start", Din: "50"}, "4": {What: "brake in"}, "5": {What: "brake", Din: "54"}},
		"barrel": {"1": {What: "30", Din: "30"}, "2": {What: "15", Din: "15"}},
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
		p, _ := New("first", pods)
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
	p, _ := New("bare", pods)
	if _, err := Read("bare.toml", Write(p), openExample); err != nil {
		t.Error(err)
	}
	none, _ := New("none", nil)
	if _, err := Read("none.toml", Write(none), nil); err != nil {
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
	p, _ := New("first", nil)
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

// An end that is to be insulated has no cavity, no wire and feeds nothing; the
// note names it, and nothing that is found of it is left to explain.
func TestNewPlanInsulates(t *testing.T) {
	pods := heronPods(t)
	pods[0].Insulate = []mapping.EndID{"1", "7"} // a feed and an output
	pods[1].Leave = []mapping.EndID{"2"}
	if pods[1].Functions["2"].What == "" {
		t.Fatal("the end to leave has no function, and would not be wired anyhow")
	}
	p, left := New("first", pods)
	for _, w := range p.Wires {
		if w.From == pods[0].Name+".1" || w.From == pods[0].Name+".7" || w.To == pods[0].Name+".1" {
			t.Errorf("%s runs to an end to insulate: %+v", w.Name, w)
		}
	}
	for _, pl := range p.Plugs {
		for _, c := range pl.Fill {
			if c.What == "58 in" || c.What == "left" {
				t.Errorf("%s has a cavity for %q", pl.Name, c.What)
			}
		}
	}
	if slices.ContainsFunc(p.Block.Ways, func(w Way) bool { return w.What == "58 in" }) {
		t.Error("an end to insulate is fed")
	}
	want := "Insulated, in no plug: " + pods[0].Name + ".1, " + pods[0].Name + ".7."
	if !slices.Contains(left, want) || !strings.Contains(p.Note, want) {
		t.Errorf("%q is said neither in %q nor in the note %q", want, left, p.Note)
	}
	if stays := "Left on the old plug, in no new one: " + pods[1].Name + ".2."; !slices.Contains(left, stays) {
		t.Errorf("%q is not said in %q", stays, left)
	}
	if slices.ContainsFunc(p.Wires, func(w Wire) bool { return w.From == pods[1].Name+".2" || w.To == pods[1].Name+".2" }) {
		t.Error("a wire that stays on the old plug is in the plan's wires")
	}
	for _, f := range Check(p) {
		if f.Where == pods[0].Name+".1" || f.Where == pods[0].Name+".7" || f.Where == pods[1].Name+".2" || f.Kind == StaleMark {
			t.Errorf("found: %+v", f)
		}
	}
}

// What has a function and no load is not dropped without a word.
func TestNewPlanSaysWhatIsNotWired(t *testing.T) {
	pods := heronPods(t)
	pods[0].Functions["9"] = Function{What: "headlamp, cut while starting, pair with 10", Din: "56", Either: true}
	pods[0].Functions["10"] = Function{What: "headlamp, cut while starting, pair with 9", Din: "56", Either: true}
	pods[0].Functions["3"] = Function{What: "trailer"}
	pods[1].Functions["4"] = Function{What: "dipped beam or main beam", Either: true}
	delete(pods[0].Functions, "4")
	delete(pods[0].Functions, "5")
	p, left := New("first", pods)
	name := pods[0].Name
	for _, want := range []string{
		"headlamp, cut while starting not wired (" + name + ".9, " + name + ".10): choose which end is fed, and give the other its load.",
		"dipped beam or main beam not wired (" + pods[1].Name + ".4): choose which is which, and wire it.",
		"trailer not wired (" + name + ".3): give it a load or a feed, or insulate it.",
	} {
		if !slices.Contains(left, want) || !strings.Contains(p.Note, want) {
			t.Errorf("%q is said neither in %q nor in the note %q", want, left, p.Note)
		}
	}
	back, err := Read("new.toml", Write(p), openExample)
	if err != nil || back.Note != p.Note {
		t.Errorf("read back: %v, the note is %q", err, back.Note)
	}
	for _, f := range Check(p) {
		if f.Kind == ContactBridge {
			t.Errorf("both ends of a pair are taken for outputs: %+v", f)
		}
	}
	many := builder{}
	many.note(slices.Repeat([]string{"a sentence of some length, said again and again."}, 50))
	if n := len([]rune(many.p.Note)); n > mapping.MaxNote || !strings.HasSuffix(many.p.Note, "plan check lists it.") {
		t.Errorf("a note of %d letters: %q", n, many.p.Note)
	}
}

// A pair whose ends can change places is wired, since either way round is right: a horn
// has no terminal of DIN 72552 and is known by its name.
func TestNewPlanWiresPairs(t *testing.T) {
	pods := heronPods(t)
	for _, e := range pods[0].Desc.Ends {
		delete(pods[0].Functions, e.ID)
	}
	pods[0].Functions["9"] = Function{What: "horn, pair with 10", Either: true}
	pods[0].Functions["10"] = Function{What: "horn, pair with 9", Either: true}
	pods[1].Functions["4"] = Function{What: "front brake lamp, pair with 5", Din: "54", Either: true}
	pods[1].Functions["5"] = Function{What: "front brake lamp, pair with 4", Din: "54", Either: true}
	p, left := New("first", pods)
	for i, want := range []string{
		"horn is fed at " + pods[0].Name + ".9 and comes out at " + pods[0].Name + ".10: the two can change places.",
		"front brake lamp is fed at " + pods[1].Name + ".4 and comes out at " + pods[1].Name + ".5: the two can change places.",
	} {
		if !slices.Contains(left, want) || !strings.Contains(p.Note, want) {
			t.Errorf("%q is said neither in %q nor in the note %q", want, left, p.Note)
		}
		load := []string{"horn", "brake"}[i]
		if !slices.ContainsFunc(p.Loads, func(l Load) bool { return l.Name == load }) {
			t.Errorf("no load %q", load)
		}
		if feed := []string{"horn feed", "front brake lamp feed"}[i]; !slices.ContainsFunc(p.Block.Ways, func(w Way) bool { return w.What == feed && w.Feed == FromIgnition }) {
			t.Errorf("no way for %q", feed)
		}
	}
	for _, pl := range p.Plugs {
		for _, c := range pl.Fill {
			if strings.HasPrefix(c.What, "horn") && c.Din != "" {
				t.Errorf("%s %s has the number %s, DIN 72552 has none for a plain horn", pl.Name, c.What, c.Din)
			}
		}
	}
	for _, f := range Check(p) {
		if strings.HasPrefix(f.Where, "horn") || strings.HasPrefix(f.Where, "brake") || strings.HasPrefix(f.Where, "RH") || f.Kind == ContactBridge {
			t.Errorf("found: %+v", f)
		}
	}
}

// TestFeedersStandTheirFuse: a wire from the battery to a fuse stands as much as one
// behind that fuse (common practice: the fuse protects the wire on either side of it
// against a short behind).
func TestFeedersStandTheirFuse(t *testing.T) {
	p, _ := New("first", heronPods(t))
	found := 0
	for i, w := range p.Wires {
		amps, _ := p.feeder(w)
		if amps == 0 {
			continue
		}
		found++
		if most := anySize(w.MM2).FuseMax; most < amps {
			t.Errorf("%s of %v mm2 stands before %v A at most, its fuse is of %v", w.Name, w.MM2, most, amps)
		}
		thin := p
		thin.Wires = slices.Clone(p.Wires)
		thin.Wires[i].MM2 = 0.5
		if !slices.ContainsFunc(Check(thin), func(f Finding) bool { return f.Kind == FuseOverWire && strings.HasSuffix(f.Where, w.Name) }) {
			t.Errorf("nothing is said of %s of 0.5 mm2 before a fuse of %v A", w.Name, amps)
		}
	}
	if found != 2 {
		t.Errorf("%d wires lead from the battery to a fuse, want two", found)
	}
}
