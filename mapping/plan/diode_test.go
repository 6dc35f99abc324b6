package plan

import (
	"slices"
	"strings"
	"testing"
)

// interlocked is a start button with its relay, and a neutral switch that the relay's coil
// or, watts given, a load is earthed through. Its diode lies before it or behind it.
func interlocked(t *testing.T, behind bool, watts string) Plan {
	t.Helper()
	wire := `
[[wire]]
name = "NAME"
from = "FROM"
to = "TO"
mm2 = 1
length = 1
`
	text := `name = "interlock"
[supply]
battery = "lead"
main_fuse = 20
main_fuse_mm = 150
[block]
module = "tray"
way = [{name = "W1", fuse = 15, feed = "ignition"}]
[[module]]
name = "tray"
` + leverText("start", "start", "out", "in", "in", true) + leverText("neutral", "gear", "neutral", "in gear", "neutral", false) + `[[relay]]
name = "RS"
coil_ohms = 12
suppressed = true
[[load]]
name = "lamp"
module = "tray"
kind = "accessory"
` + watts + `
[[part]]
name = "D1"
kind = "diode"
amps = 0.5
[[earth]]
name = "E1"
main = true
`
	plus, minus := "RS.86", "RS.85"
	if watts != "" {
		plus, minus = "lamp.+", "lamp.-"
	}
	hops := [][2]string{{"battery.+", "main.in"}, {"main.out", "block.15"}, {"E1", "battery.-"}, {"W1", "start.1"}, {"neutral.2", "E1"}}
	if behind {
		hops = append(hops, [2]string{"start.2", plus}, [2]string{minus, "D1.+"}, [2]string{"D1.-", "neutral.1"})
	} else {
		hops = append(hops, [2]string{"start.2", "D1.+"}, [2]string{"D1.-", plus}, [2]string{minus, "neutral.1"})
	}
	if watts == "" {
		hops = append(hops, [2]string{"W1", "RS.30"}, [2]string{"RS.87", "lamp.+"}, [2]string{"lamp.-", "E1"})
	}
	for i, h := range hops {
		text += strings.NewReplacer("NAME", "a"+itoa(i), "FROM", h[0], "TO", h[1]).Replace(wire)
	}
	p, err := Read("interlock.toml", []byte(text), nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestDiodeOnEitherSide: a diode in the way to earth carries what one in the feed does.
// The textbook interlock has it there.
func TestDiodeOnEitherSide(t *testing.T) {
	for _, watts := range []string{"", "watts = 120"} {
		var found [2][]string
		for i, behind := range []bool{false, true} {
			p := interlocked(t, behind, watts)
			for _, f := range Check(p) {
				found[i] = append(found[i], f.Kind+" "+f.Where)
			}
			if !slices.Contains(found[i], Overloaded+" D1") {
				t.Errorf("behind %v, %q: a diode of 0.5 A is not found overloaded: %v", behind, watts, found[i])
			}
			if watts == "" && slices.Contains(found[i], DropHigh+" RS coil") {
				t.Errorf("behind %v: the coil is said to lose its voltage", behind)
			}
			if watts != "" && !slices.Contains(found[i], MissingRelay+" neutral 1-2") {
				t.Errorf("behind %v: 10 A through a small contact are not found: %v", behind, found[i])
			}
		}
	}
}
