package plan

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"bellout/mapping"
	"bellout/mapping/fixture"
)

const exampleDir = "../../testdata/example"

func openExample(name string) ([]byte, error) { return os.ReadFile(filepath.Join(exampleDir, name)) }

// heron is the sound plan of the example job.
func heron(t testing.TB) Plan {
	t.Helper()
	data, err := openExample("plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	p, err := Read("plan.toml", data, openExample)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestExampleIsSound(t *testing.T) {
	p := heron(t)
	for _, f := range Check(p) {
		t.Errorf("%s | %s | %s | %s", f.Kind, f.Where, f.Setting, f.Say)
	}
	loads, used := 0, map[string]bool{}
	for _, l := range Work(p).Loads {
		loads++
		used[l.Way] = true
	}
	if loads < 10 || len(used) < 8 {
		t.Errorf("the example has %d loads on %d ways, at least 10 on 8 are wanted", loads, len(used))
	}
	meant := 0
	for _, j := range CheckAll(p) {
		if j.Meant && j.Why == "" {
			t.Errorf("%v is meant and nobody says why", j)
		}
		if j.Meant {
			meant++
		}
	}
	if meant < len(p.Expected) {
		t.Errorf("%d marks, %d findings meant", len(p.Expected), meant)
	}
}

// The maps in the example are the truth of its pods, in every setting.
func TestExampleMapsAreTheirPods(t *testing.T) {
	for _, pod := range heron(t).Pods[:3] {
		data, err := openExample(pod.Name + ".pod")
		if err != nil {
			t.Fatal(err)
		}
		fx, err := fixture.Parse(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		set := mapping.Setting{}
		count := 0
		var every func(k int)
		every = func(k int) {
			if k < len(pod.Desc.Switches) {
				for _, q := range pod.Desc.Switches[k].Positions {
					set[pod.Desc.Switches[k].Name] = q
					every(k + 1)
				}
				return
			}
			count++
			for i, a := range pod.Desc.Ends {
				for _, b := range pod.Desc.Ends[i+1:] {
					if got, want := pod.Map.Joined(pod.Desc, set, a.ID, b.ID), fx.Joined(set, a.ID, b.ID); got != want {
						t.Errorf("%s %s-%s in %v: map %v, pod %v", pod.Name, a.ID, b.ID, set, got, want)
					}
				}
			}
		}
		every(0)
		if count < 2 {
			t.Errorf("%s: %d settings", pod.Name, count)
		}
	}
}

func TestExampleUnplug(t *testing.T) {
	p := heron(t)
	moduleOf := map[string]string{}
	for _, l := range p.Loads {
		moduleOf[l.Name] = l.Module
	}
	all := Unplug(p)
	if len(all) != len(p.Plugs)+len(p.Block.Ways) {
		t.Fatalf("%d what-ifs", len(all))
	}
	at := func(kind, where string) WhatIf {
		i := slices.IndexFunc(all, func(w WhatIf) bool { return w.Kind == kind && w.Where == where })
		return all[i]
	}
	for _, w := range all {
		if got := len(w.Dies) + len(w.Lives); got != len(p.Loads)+1 { // charging is among them
			t.Errorf("%s %s: %d loads", w.Kind, w.Where, got)
		}
	}
	for _, pl := range p.Plugs {
		for _, l := range p.Loads {
			if l.Module == pl.Module && l.GroupOf() != Motor && !slices.Contains(at("plug", pl.Name).Dies, l.Name) {
				t.Errorf("%s lives with its own plug %s pulled", l.Name, pl.Name)
			}
		}
	}
	for _, c := range []struct{ kind, where, dies, beyond string }{
		{"plug", "PC", "instruments,dial lamp,left telltale,right telltale,main telltale,neutral lamp,oil lamp", ""},
		{"plug", "PT", "left rear,right rear,tail,plate,brake", ""},
		{"plug", "PR", "ignition box,starter", "ignition box,starter"}, // the brake lamp has its pedal
		{"plug", "PG", "charging", ""},
		{"fuse", "W6", "brake", ""},
		{"fuse", "W2", "headlamp main,headlamp dip,main telltale", "headlamp main,main telltale"},
	} {
		w := at(c.kind, c.where)
		if got := strings.Join(w.Dies, ","); got != c.dies {
			t.Errorf("%s %s kills %s, want %s", c.kind, c.where, got, c.dies)
		}
		if got := strings.Join(w.Beyond, ","); got != c.beyond {
			t.Errorf("%s %s kills %s beyond it, want %s", c.kind, c.where, got, c.beyond)
		}
	}
}

func TestExampleRoadside(t *testing.T) {
	p := heron(t)
	sayRoadside(t, p, map[string][]string{
		"left indicators dead":                     {"W5, 5 A light brown", "PL (headstock", "GN, 0.5 mm2", "left.turn=left", "PF.7"},
		"horn dead":                                {"W7, 5 A", "cavity PF.6", "from PL.12 to PF.6", "left.horn=in", "E1"},
		"no spark":                                 {"W1, 5 A", "cavity PE.1", "from PR.2 to PE.1", "right.kill=run", "PE.4"},
		"brake light out":                          {"W6, 3 A violet", "cavity PT.3", "BU/BK", "at PT.3", "PT.1"},
		"starter dead":                             {"W1, 5 A light brown, works relay RS", "none on the way", "from RS.87 to starter.+", "key on, right.kill=run, right.start=in, clutch.lever=pulled", "if relay RS does not click"},
		"everything dead":                          {"main, 20 A yellow", "PB.3", "from RI.87 to block.15", "block.15", "battery.+ > main.in"},
		"neutral light out":                        {"W8", "PC.5", "PK/RD", "neutral.gear=neutral", "neutral lamp itself"},
		"rear light dead":                          {"W4", "PT.2", "GY/BK", "left.lights", "PT.1"},
		"main beam dead":                           {"W3", "PF.3", "WH", "key on, left.lights=on, left.dip=main", "RM.87"},
		"hazard dead":                              {"W5", "PL.8", "OG", "left.turn=", "left front, right front"},
		"horn always on":                           {"W7", "PF.6", "VT", "not otherwise: 0 V at PF.6", "unplug left"},
		"neutral lamp stays on":                    {"W8", "PC.2", "VT/WH", "fuse out, OL from PC.2 (red) to battery minus", "unplug neutral"},
		"main beam won't go off":                   {"W3", "PF.3", "WH", "not otherwise: 0 V", "pull relay RM"},
		"no charge":                                {"charging, 20 A", "PG.1", "alternator.+ to PG.1", "13.5 to 14.5 V", "charge.in > charge.out"},
		"battery goes flat":                        {"charging, 20 A", "PG.1", "w132", "12.4 V", "key off"},
		"fuse W1 blows":                            {"W1, 5 A light brown", "unplug one after another: PL", "from W1 to PR.1", "OL from W1", "one lever position only"},
		"horn fuse blown":                          {"W7", "PL", "from W7 to PL.11", "OL from W7", "draws too much"},
		"main fuse blows":                          {"main, 20 A yellow: never a bigger one", "every module", "battery.+ to main.in", "10 k ohm", "brings it back"},
		"brake light stays on":                     {"W6", "PT.3", "from S9 to PT.3", "right.brake=pulled, or barrel.key=on, pedal.pedal=down and not otherwise: 0 V at PT.3", "right.brake (PR.4, PR.5)"},
		"brake light stay on":                      {"W6", "PT.3", "BU/BK", "0 V at PT.3", "pedal.pedal (PE.2, PE.3)"},
		"brake light stuck":                        {"pull it if that saves", "PT.3"},
		"horn won't go out":                        {"W7", "PF.6", "VT", "0 V at PF.6"},
		"oil lamp stays on":                        {"stop the engine and look at the oil level", "PC.3", "VT/BK", "OL from PC.3", "oil.pressure (PE.7"},
		"tail stays on, key off":                   {"W4", "PT.2", "", "", "pull relay RI"},
		"main fuse":                                {"main, 20 A", "every module", "battery.+ to main.in"},
		"main fuse gone":                           {"main, 20 A", "every module"},
		"main beam fuse":                           {"W3", "unplug one"},
		"W5":                                       {"W5, 5 A light brown", "unplug one after another: PL"},
		"horn dead, fuse good":                     {"W7", "cavity PF.6", "", "", "no volts there"},
		"dip switch does nothing":                  {"W2", "left.lights and left.dip", "from PL.4 to RM.86", "", "headlamp dip"},
		"clutch switch dead":                       {"W1", "clutch.lever (PL.13, PL.14)", "from PL.14 to RS.86", "lever=pulled", "starter"},
		"all lights out":                           {"main fuse, 20 A", "left.lights", "RI.87 to block.15", "block.15", "the earth E1"},
		"no power at all":                          {"main, 20 A yellow, 150 mm from battery plus; W9, 3 A violet, works relay RI", "PB.3", "", "", "W9 > PB.1 > barrel.1"},
		"no electrics":                             {"W9"},
		"dead battery":                             {"W9"},
		"key does nothing":                         {"W9"},
		"no power at the horn":                     {"W7", "PF.6"},
		"charge warning lamp stays on":             {"charging, 20 A", "PG.1"},
		"battery light on":                         {"charging, 20 A", "PG.1"},
		"battery boils":                            {"charging", "PG.1", "", "never over 14.8 V", "regulator"},
		"bulbs keep blowing":                       {"charging", "PG.1", "", "14.8 V", "a loose earth"},
		"burning smell":                            {"at once: stop, key off, main fuse out", "hottest"},
		"low beam dead":                            {"W2, 7.5 A brown (", "PF.4", "from RD.87 to PF.4", "left.dip=low", "headlamp dip itself"},
		"blinker dead":                             {"W5", "PL.8", "from FL.49a to PL.8"},
		"left winker dead":                         {"W5, 5 A light brown; it is good if these work: right front", "PL.9"},
		"dash dead":                                {"W8", "PC.5", "", "", "instruments itself"},
		"speedo dead":                              {"W8", "PC.5"},
		"one indicator flashes fast":               {"they flash", "left front PF.9", "", "", "bulb (10 W each"},
		"indicators stay lit and do not flash":     {"they light", "flasher FL", "from FL.49a to PL.8", "steady 12 V at FL.49", "LED"},
		"headlight goes out when braking":          {"it works by itself", "PF.1", "", "measure while brake works", "common earth is loose, E1"},
		"headlight dims when the indicators flash": {"W2", "PF.1", "", "measure while left front"},
		"starter clicks only":                      {"W1", "lugs", "RS.87 to starter.+", "9.6 V or more", "right.kill and right.start (PR.1, PR.2, PR.3), clutch.lever"},
		"starter turns slowly":                     {"W1", "lugs"},
		"horn weak":                                {"W7", "PF.6", "VT", "while it works", "PF.7"},
		"cuts out at full lock":                    {"W1", "PR (headstock", "", "lock to lock"},
		"engine dead after rain":                   {"W1", "PE (", "", "spray a little water"},
		"headlight flickers":                       {"W2", "PF (", "", "tap each plug"},
		"engine will not start":                    {"W1", "PE.1", "", "", "say starter dead"},
		"stop light dead":                          {"W6", "PT.3"},
		"Headlamp dim!":                            {"W2", "PF.3", "WH", "PF.3", "dim is mostly earth"},
	})
	if got, err := Roadside(p, "oil lamp blown"); err != nil || strings.Contains(got[0], "never a bigger") {
		t.Errorf("a lamp that has blown is taken for a fuse: %v, %v", got, err)
	}
	if _, err := Roadside(p, "the sidecar squeaks"); err == nil || !strings.Contains(err.Error(), "horn") {
		t.Errorf("%v", err)
	}
}

func TestExampleProofList(t *testing.T) {
	list := ProofList(heron(t))
	seen := map[string]bool{}
	groups := map[string]int{}
	for _, c := range list {
		if seen[c.ID] {
			t.Errorf("two checks are called %s", c.ID)
		}
		seen[c.ID] = true
		groups[c.Group[:2]]++
		if c.Do == "" || c.Expect == "" || c.Bad == "" || c.Unit == "" {
			t.Errorf("%+v lacks something", c)
		}
		if c.Max != 0 && c.Max < c.Min {
			t.Errorf("%+v cannot be passed", c)
		}
	}
	for g, want := range map[string]int{"1 ": 2, "2 ": 14, "3 ": 15, "5 ": 9, "8 ": 1, "9 ": 4, "10": 1} {
		if groups[g] != want {
			t.Errorf("group %q has %d checks, want %d", g, groups[g], want)
		}
	}
	// cold lamps (common practice): 55 W 0.2 to 0.3 ohm, and
	// the two 10 W lamps of a side with a telltale under 21 W's 0.5 to 0.7 each
	for _, c := range list {
		if c.ID == "4-headlamp dip" && (c.Min > 0.2 || c.Max < 0.3) {
			t.Errorf("%+v leaves out 0.2 to 0.3 ohm", c)
		}
	}
}

// Cold resistances (common practice).
func TestColdOhms(t *testing.T) {
	for _, c := range []struct {
		watts, low, high float64
		kind             string
	}{{55, 0.2, 0.3, "headlamp dip halogen"}, {21, 0.5, 0.7, "brake lamp"}, {5, 2, 3, "tail lamp"}, {3, 3.5, 4.5, "warning lamp 3 W"}, {1.2, 9, 11, "warning lamp"}} {
		got := (&Plan{}).cold(Load{Kind: c.kind})
		if got < c.low || got > c.high {
			t.Errorf("%s: %v ohm cold, %v to %v is usual", c.kind, got, c.low, c.high)
		}
	}
}

func TestExampleFirstPower(t *testing.T) {
	steps := FirstPower(heron(t))
	amps := 0
	for i, s := range steps {
		if s.Number != i+1 || s.Do == "" || s.Expect == "" || s.Bad == "" {
			t.Errorf("%+v", s)
		}
		if s.Amps > 0 {
			amps++
			if s.Low >= s.Amps || s.High <= s.Amps {
				t.Errorf("%+v", s)
			}
		}
	}
	if amps != 9 { // the tenth feeds a socket with nothing in it
		t.Errorf("amps are asked for at %d ways, want 9", amps)
	}
	if !strings.Contains(steps[0].Do, "21 W lamp in place of the main fuse") {
		t.Errorf("first power begins with %q", steps[0].Do)
	}
}

func TestCautions(t *testing.T) {
	where := map[string]bool{}
	for _, c := range Cautions() {
		if where[c.Where] || c.Say == "" {
			t.Errorf("%+v", c)
		}
		where[c.Where] = true
	}
	if len(where) != 14 {
		t.Errorf("%d cautions", len(where))
	}
	p := heron(t)
	has := func(place string) bool {
		return slices.ContainsFunc(CautionsFor(p), func(c Caution) bool { return c.Where == place })
	}
	if !has(AtStarter) || !has(AtLamps) || !has(AtInterlock) || has(AtLithium) {
		t.Error("the example's cautions are not its own")
	}
	if p.Supply.Battery = "lithium"; !has(AtLithium) {
		t.Error("no caution for a lithium battery")
	}
}
