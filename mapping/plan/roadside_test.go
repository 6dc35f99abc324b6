package plan

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// roadBike is a machine with a stand that cuts a starter out unless the gearbox is in
// neutral, one telltale behind two diodes, and, if said, an ignition that makes its own current.
func roadBike(t *testing.T, magnet bool) Plan {
	t.Helper()
	kind, works := "ignition box", "key.key=on, right.kill=run"
	hops := [][2]string{{"battery.+", "main.in"}, {"main.out", "key.1"}, {"key.2", "block.15"}, {"E1", "battery.-"},
		{"battery.+", "RS.30"}, {"RS.87", "starter.+"}, {"starter.-", "E1"}, {"W1", "PR.1"}, {"PR.1", "right.1"}, {"right.2", "PR.2"}, {"right.3", "PR.3"},
		{"PR.3", "RS.86"}, {"RS.85", "SS"}, {"SS", "D1.+"}, {"D1.-", "neutral.1"}, {"neutral.2", "E1"}, {"SS", "clutch.1"}, {"clutch.2", "stand.1"}, {"stand.2", "E1"},
		{"W2", "FL.49"}, {"FL.49a", "SI"}, {"SI", "PL.1"}, {"PL.1", "left.1"}, {"SI", "PL.4"}, {"PL.4", "left.4"}, {"left.2", "PL.2"}, {"left.3", "PL.3"},
		{"PL.2", "SL"}, {"PL.3", "SR"}, {"SL", "left lamp.+"}, {"SR", "right lamp.+"}, {"left lamp.-", "E1"}, {"right lamp.-", "E1"},
		{"SL", "PC.1"}, {"PC.1", "DL.+"}, {"SR", "PC.2"}, {"PC.2", "DR.+"}, {"DL.-", "CT"}, {"DR.-", "CT"}, {"CT", "turn telltale.+"}, {"turn telltale.-", "E1"},
		{"ignition.-", "E1"}, {"alternator.+", "charge.in"}, {"charge.out", "battery.+"}, {"alternator.-", "battery.-"}}
	if magnet {
		kind, works = magneto, "right.kill=run"
		hops = append(hops, [2]string{"ignition.+", "PE.1"}, [2]string{"PE.1", "PR.4"}, [2]string{"PR.4", "right.4"}, [2]string{"right.5", "E1"})
	} else {
		hops = append(hops, [2]string{"PR.2", "PE.1"}, [2]string{"PE.1", "ignition.+"})
	}
	text := `name = "road"
[supply]
battery = "lead"
main_fuse = 20
main_fuse_mm = 150
alternator_watts = 200
charge_fuse = 20
[block]
module = "tray"
way = [{name = "W1", fuse = 10, feed = "ignition"}, {name = "W2", fuse = 5, feed = "ignition"}]
[[module]]
name = "tray"
place = "under the seat"
[[module]]
name = "right"
[[module]]
name = "left"
[[module]]
name = "engine"
[[module]]
name = "cluster"
[[pod]]
name = "key"
module = "tray"
key = "key"
key_off = ["off"]
switches = [{name = "key", positions = ["off", "on"], rest = "off"}]
contacts = [{join = ["1", "2"], when = "key=on", grade = "proved"}]
ends = ["1", "2"]
[[pod]]
name = "right"
module = "right"
switches = [{name = "kill", positions = ["off", "run"], rest = "run"}, {name = "start", positions = ["out", "in"], rest = "out", momentary = true}]
contacts = [{join = ["1", "2"], when = "kill=run", grade = "proved"}, {join = ["2", "3"], when = "start=in", grade = "proved"}, {join = ["4", "5"], when = "kill=off", grade = "proved"}]
ends = ["1", "2", "3", "4", "5"]
[[pod]]
name = "left"
module = "left"
switches = [{name = "turn", positions = ["left", "off", "right"], rest = "off"}, {name = "hazard", positions = ["off", "on"], rest = "off"}]
contacts = [{join = ["1", "2"], when = "turn=left", grade = "proved"}, {join = ["1", "3"], when = "turn=right", grade = "proved"}, {join = ["2", "3"], when = "hazard=on", grade = "proved"}, {join = ["3", "4"], when = "hazard=on", grade = "proved"}]
ends = ["1", "2", "3", "4"]
` + leverText("clutch", "clutch", "out", "pulled", "pulled", true) + leverText("stand", "stand", "up", "down", "up", false) + leverText("neutral", "gear", "neutral", "in gear", "neutral", false) + `[[relay]]
name = "RS"
coil_ohms = 12
suppressed = true
[[part]]
name = "D1"
kind = "diode"
[[part]]
name = "DL"
kind = "diode"
[[part]]
name = "DR"
kind = "diode"
[[part]]
name = "FL"
kind = "flasher"
[[earth]]
name = "E1"
place = "stud"
main = true
`
	for _, s := range []string{"SS", "SI", "SL", "SR", "CT"} {
		text += "[[splice]]\nname = \"" + s + "\"\nplace = \"headstock\"\n"
	}
	for _, pl := range [][2]string{{"PR", "right"}, {"PL", "left"}, {"PE", "engine"}, {"PC", "cluster"}} {
		text += "[[plug]]\nname = \"" + pl[0] + "\"\nmodule = \"" + pl[1] + "\"\nhousing = \"" + pl[0] + "\"\ncavities = 4\nrows = 1\nface = \"wire entry\"\nplace = \"steering head\"\nshrouded = \"loom\"\nloom_kind = \"socket\"\nterminal = \"2.8 mm\"\n"
	}
	for _, l := range [][3]string{{"starter", "starter motor", "key.key=on, right.kill=run, right.start=in, neutral.gear=neutral"}, {"left lamp", "indicator 10 W", `key.key=on, left.turn=left", "key.key=on, left.hazard=on`}, {"right lamp", "indicator 10 W", `key.key=on, left.hazard=on", "key.key=on, left.turn=right`},
		{"turn telltale", "warning lamp led", "key.key=on, left.turn=left|right"}, {"ignition", kind, works}} {
		text += "[[load]]\nname = \"" + l[0] + "\"\nmodule = \"tray\"\nkind = \"" + l[1] + "\"\nworks = [\"" + l[2] + "\"]\n"
	}
	for i, h := range hops {
		in := Loom
		for _, end := range h {
			switch name, _, _ := strings.Cut(end, "."); name {
			case "left", "right":
				in = name
			case "ignition":
				in = "engine"
			case "DL", "DR", "CT":
				in = "cluster"
			}
		}
		text += "[[wire]]\nname = \"a" + itoa(i) + "\"\nfrom = \"" + h[0] + "\"\nto = \"" + h[1] + "\"\nmm2 = 1\ncolour = \"BN\"\nlength = 1\nin = \"" + in + "\"\n"
	}
	p, err := Read("road.toml", []byte(text), nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// sayRoadside holds the answers to symptoms against what each of their lines has to have.
func sayRoadside(t *testing.T, p Plan, wanted map[string][]string) {
	t.Helper()
	for symptom, want := range wanted {
		got, err := Roadside(p, symptom)
		if err != nil || len(got) != 5 {
			t.Errorf("%s: %d lines, %v", symptom, len(got), err)
			continue
		}
		for i, w := range want {
			if !strings.Contains(got[i], w) {
				t.Errorf("%s: line %d is %q, want %q in it", symptom, i+1, got[i], w)
			}
		}
	}
}

// What does not stop is dangerous: first how to stop it, then the contact that should.
func TestRoadsideWontStop(t *testing.T) {
	starter := []string{"at once: battery minus off", "right.start (PR.2, PR.3)", "from PR.3 to RS.86", "OL from RS.30 to RS.87; then the thick wire off RS.87", "RS is welded"}
	engine := []string{"at once: stall it", "right.kill (PR.1, PR.2)", "from PR.2 to PE.1", "0 V at PR.2", "behind it hang starter, ignition"}
	magnet := []string{"no fuse stops it", "cavity PE.1", "from ignition.+ to PE.1", "less than 1 ohm from PE.1 to battery minus", "ignition.+ > PE.1 > PR.4 > right.4 > right.5 > E1"}
	for _, said := range []string{"starter keeps turning", "starter turns by itself", "starter will not stop", "starter stays on", "Starter won't stop", "starter stuck"} {
		sayRoadside(t, roadBike(t, false), map[string][]string{said: starter})
	}
	for _, said := range []string{"engine keeps running with the kill switch off", "engine will not stop", "runs with kill off", "kill switch does not stop engine", "kill switch does nothing"} {
		sayRoadside(t, roadBike(t, false), map[string][]string{said: engine})
		sayRoadside(t, roadBike(t, true), map[string][]string{said: magnet})
	}
	sayRoadside(t, roadBike(t, false), map[string][]string{"bike keeps running with the key off": {"at once: stall it", "key.key (key.1, key.2)", "", "key off: OL"}})
}

func TestRoadsideMagneto(t *testing.T) {
	dead := []string{"makes its own current", "cavity PE.1", "from PR.4 to PE.1", "PE.1 unplugged: OL", "right.kill (PR.4, right.5)"}
	sayRoadside(t, roadBike(t, true), map[string][]string{"engine dead": dead, "no spark": dead, "ignition dead": dead})
}

// What stops, and what runs on one of two, is not said not to stop.
func TestRoadsideStops(t *testing.T) {
	for _, said := range []string{"engine stops by itself", "engine runs on one cylinder", "bike still runs but no spark", "turn telltale stays on with the engine off"} {
		if got, err := Roadside(roadBike(t, false), said); err != nil || strings.Contains(got[0], "at once") {
			t.Errorf("%s: %v, %v", said, got, err)
		}
	}
}

// A path goes on through the diodes on it, and they are tested by themselves.
func TestRoadsideDiodes(t *testing.T) {
	sayRoadside(t, roadBike(t, false), map[string][]string{
		"turn telltale dead":                              {"W2", "cavity PC.1", "from SL to PC.1", "at PC.1", "turn telltale.+ < CT < DL.- < DL.+"},
		"turn telltale stays on":                          {"W2", "none behind the last contact", "from CT to turn telltale.+", "0 V at turn telltale.+", "left.turn and left.hazard"},
		"starter dead":                                    {"W1", "none on the way", "RS.87", "neutral.gear=neutral", "RS.85 > SS > D1.+ > D1.- > neutral.1"},
		"starter clicks only":                             {"it is good", "lugs", "RS.87 to starter.+", "9.6 V or more", "right.kill and right.start (PR.1, PR.2, PR.3), clutch.clutch"},
		"starts only in neutral":                          {"W1", "clutch.clutch", "", "clutch.clutch=pulled", "clutch.2 > stand.1 > stand.2"},
		"does not start in neutral":                       {"W1", "neutral.gear", "", "neutral.gear=neutral", "diode D1"},
		"starter does nothing in gear with clutch pulled": {"W1", "clutch.clutch", "", "clutch.clutch=pulled", "stand.stand"},
		"all four indicators flash when I turn left":      {"W2", "PL.2 and PL.3", "from left.2 to PL.2", "0 V stays at PL.3", "left.hazard"},
		"hazard dead":                                     {"W2", "PL.4", "from SI to PL.4", "left.hazard=on"},
		"indicators dead":                                 {"W2", "splice SI (headstock)", "from FL.49a to SI", "at SI"},
	})
	if got, err := Roadside(roadBike(t, false), "neutral light on"); err == nil {
		t.Errorf("a lamp that is not in the plan has an answer: %v", got)
	}
}

// Voltages follow the battery.
func TestRoadsideVolts(t *testing.T) {
	p := heron(t)
	p.Volts = 6
	sayRoadside(t, p, map[string][]string{
		"no charge":       {"", "", "", "6.2 V or more at the lugs at rest, 6.75 to 7.25 V"},
		"starter clicks":  {"", "", "", "4.8 V or more"},
		"everything dead": {"", "", "", "6.2 V or more"},
		"battery boils":   {"", "", "", "never over 7.4 V"},
	})
}

// Half-finished plans have five lines or one sentence to say of anything.
func TestRoadsideHalfFinished(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	plans := []Plan{{}, {Volts: 12}}
	for range 12 {
		plans = append(plans, somePlan(r))
	}
	for _, p := range []Plan{roadBike(t, true), roadBike(t, false)} {
		for _, keep := range []float64{0.3, 0.6, 0.9} {
			cut := fresh(p)
			cut.Wires = slices.DeleteFunc(cut.Wires, func(Wire) bool { return r.Float64() > keep })
			plans = append(plans, cut)
		}
	}
	for _, p := range plans {
		for _, said := range []string{"engine will not stop", "bike keeps running with the key off", "starter keeps turning", "no spark", "burning smell", "main fuse", "W1", "bulbs keep blowing", "battery boils", "cuts out at full lock",
			"dead after rain", "no power", "everything dead", "all four indicators flash", "indicators flash fast", "indicators do not flash", "headlight dims when braking", "starts only in neutral", "engine dies in gear",
			"brake light stays on", "oil lamp stays on", "starter clicks", "kill switch does nothing", "key does nothing", "clutch switch", "all lights out", "horn weak", "dash dead", ""} {
			got, err := Roadside(p, said)
			if (err == nil) != (len(got) == 5) || err != nil && strings.Contains(err.Error(), "\n") {
				t.Errorf("%s: %v, %v", said, got, err)
			}
			for i, head := range []string{"Fuse: ", "Plug: ", "Wire: ", "Expect: ", "Next: "} {
				if err == nil && (!strings.HasPrefix(got[i], head) || len(got[i]) == len(head)) {
					t.Errorf("%s: line %d is %q", said, i+1, got[i])
				}
			}
		}
	}
}
