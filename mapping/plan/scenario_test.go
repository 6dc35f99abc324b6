package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// small reads a plan of a few lines: two ways, a turn switch, and what the
// test adds.
func small(t *testing.T, extra string) Plan {
	t.Helper()
	text := `name = "small"
temperature = 20
[supply]
main_fuse = 15
main_fuse_mm = 100
[[block.way]]
name = "W1"
fuse = 5
[[block.way]]
name = "W2"
fuse = 5
[[module]]
name = "bar"
[[pod]]
name = "turn"
module = "bar"
ends = ["1", "2", "3"]
switches = [ { name = "t", positions = ["left", "off", "right"], rest = "off" } ]
contacts = [
  { join = ["1", "2"], when = "t=left", grade = "proved" },
  { join = ["1", "3"], when = "t=right", grade = "proved" },
]
[[earth]]
name = "E1"
main = true
[[splice]]
name = "L"
[[splice]]
name = "R"
` + extra
	wires := [][2]string{{"battery.+", "main.in"}, {"main.out", "block.15"}, {"E1", "battery.-"}, {"W1", "turn.1"}, {"turn.2", "L"}, {"turn.3", "R"}}
	var b strings.Builder
	b.WriteString(text)
	for i, w := range wires {
		fmt.Fprintf(&b, "[[wire]]\nname = \"base%d\"\nfrom = %q\nto = %q\nmm2 = 4\nlength = 0.1\n", i, w[0], w[1])
	}
	p, err := Read("small.toml", []byte(b.String()), nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// leverText is a pod of one lever of two positions, at rest in the first, and one contact.
func leverText(name, lever, rest, moved, closed string, springsBack bool) string {
	return fmt.Sprintf("[[pod]]\nname = %q\nmodule = \"tray\"\nswitches = [{name = %q, positions = [%q, %q], rest = %q, momentary = %v}]\n"+
		"contacts = [{join = [\"1\", \"2\"], when = \"%s=%s\", grade = \"proved\"}]\nends = [\"1\", \"2\"]\n", name, lever, rest, moved, rest, springsBack, lever, closed)
}

func lamp(name, plus, minus string, watts float64) string {
	return fmt.Sprintf("[[load]]\nname = %q\nmodule = \"bar\"\nwatts = %v\n[[wire]]\nfrom = %q\nto = \"%s.+\"\nmm2 = 1\nlength = 0.2\n[[wire]]\nfrom = \"%s.-\"\nto = %q\nmm2 = 1\nlength = 0.2\n",
		name, watts, plus, name, name, minus)
}

func kindsOf(fs []Finding) map[string][]string {
	out := map[string][]string{}
	for _, f := range fs {
		out[f.Kind] = append(out[f.Kind], f.Where)
	}
	return out
}

// One warning lamp for two sides, a known trap (common practice).
func TestTelltaleForTwoSides(t *testing.T) {
	sides := lamp("left", "L", "E1", 21) + lamp("right", "R", "E1", 21)
	t.Run("between the sides it glows through the idle side", func(t *testing.T) {
		got := prove(compile(ptr(small(t, sides+lamp("tell", "L", "R", 1.2))), nil))
		k := kindsOf(got)
		if !slices.Equal(k[BackFeed], []string{"tell"}) || !slices.Equal(k[NeverFed], []string{"tell"}) {
			t.Errorf("%+v", got)
		}
		for _, f := range got {
			if f.Kind == BackFeed && (f.Setting != "turn.t=left" || !slices.Equal(f.Path, []string{"tell", "right"})) {
				t.Errorf("%+v", f)
			}
		}
	})
	t.Run("two lamps do it", func(t *testing.T) {
		if got := prove(compile(ptr(small(t, sides+lamp("tellL", "L", "E1", 1.2)+lamp("tellR", "R", "E1", 1.2))), nil)); len(got) != 0 {
			t.Errorf("%+v", got)
		}
	})
	t.Run("two diodes do it", func(t *testing.T) {
		diodes := "[[part]]\nname = \"D1\"\nkind = \"diode\"\n[[part]]\nname = \"D2\"\nkind = \"diode\"\n[[splice]]\nname = \"T\"\n"
		for _, w := range [][2]string{{"L", "D1.+"}, {"R", "D2.+"}, {"D1.-", "T"}, {"D2.-", "T"}} {
			diodes += fmt.Sprintf("[[wire]]\nfrom = %q\nto = %q\nmm2 = 1\nlength = 0.1\n", w[0], w[1])
		}
		p := small(t, sides+diodes+lamp("tell", "T", "E1", 1.2))
		if got := prove(compile(&p, nil)); len(got) != 0 {
			t.Errorf("%+v", got)
		}
		for _, w := range Work(p).Ways {
			if w.Name == "W1" && !slices.Contains(w.Loads, "tell") {
				t.Errorf("the lamp behind the diodes is on no way: %+v", w)
			}
		}
	})
	t.Run("joined straight it lights both sides", func(t *testing.T) {
		p := small(t, sides+"[[wire]]\nfrom = \"L\"\nto = \"R\"\nmm2 = 1\nlength = 0.1\n")
		p.Loads[0].Works, p.Loads[1].Works = []string{"turn.t=left"}, []string{"turn.t=right"}
		if k := kindsOf(prove(compile(&p, nil))); len(k[NotAsMeant]) != 2 {
			t.Errorf("%v", k)
		}
	})
}

func ptr(p Plan) *Plan { return &p }

// Lamps on a lost common earth: the lit one feeds the others backwards. The
// voltage is that of lamps as resistors: 21 W in series with 21 W gets half.
func TestLostEarthGlows(t *testing.T) {
	p := small(t, "[[splice]]\nname = \"G\"\n"+lamp("left", "L", "G", 21)+lamp("right", "R", "G", 21)+lamp("tail", "R", "E1", 21))
	got := prove(compile(&p, nil))
	k := kindsOf(got)
	if !slices.Contains(k[BackFeed], "left") || !slices.Contains(k[BackFeed], "tail") {
		t.Fatalf("%+v", got)
	}
	for _, f := range got {
		if f.Kind == BackFeed && f.Where == "tail" && !strings.Contains(f.Say, "gets 4 V") { // three in a row
			t.Errorf("%+v", f)
		}
	}
}

// A kill switch that goes to earth on a wire that feeds: a dead short in OFF
// (common practice).
func TestKillToEarthOnAFeed(t *testing.T) {
	p := small(t, lamp("coil", "L", "E1", 36)+"[[wire]]\nfrom = \"R\"\nto = \"E1\"\nmm2 = 1\nlength = 0.1\n")
	got := prove(compile(&p, nil))
	if len(got) != 1 || got[0].Kind != ShortToGnd || got[0].Where != "W1" || got[0].Setting != "turn.t=right" {
		t.Fatalf("%+v", got)
	}
	if path := strings.Join(got[0].Path, " "); path != "W1 turn.1 turn.3 R E1 battery.-" {
		t.Errorf("path %s", path)
	}
}

// Flash fed from another way than the lights: tied while it is held
// (common practice).
func TestTiedInOneSetting(t *testing.T) {
	p := small(t, lamp("a", "L", "E1", 20)+lamp("b", "R", "E1", 20)+"[[wire]]\nfrom = \"W2\"\nto = \"L\"\nmm2 = 1\nlength = 0.1\n")
	got := prove(compile(&p, nil))
	k := kindsOf(got)
	if !slices.Equal(k[TiedWays], []string{"W1 W2"}) {
		t.Fatalf("%+v", got)
	}
	for _, f := range got {
		if f.Kind == TiedWays && (f.Setting != "turn.t=left" || strings.Join(f.Path, " ") != "W1 turn.1 turn.2 L W2") {
			t.Errorf("%+v", f)
		}
	}
}

// By hand: 5 A, 1.5 m out and 1.5 m back in 1.0 mm2 (19.5 ohm/km, IEC 60228 class 5)
// lose 0.29 V, in 1.5 mm2 0.20 V.
func TestDropOfTheHeadlamp(t *testing.T) {
	for mm2, want := range map[float64]float64{1: 0.29, 1.5: 0.20} {
		s, _ := MetricSize(mm2)
		if got := Drop(5, 3, s.OhmsPerKM, 20); math.Abs(got-want) > 0.005 {
			t.Errorf("%v mm2: %v V, want %v", mm2, got, want)
		}
	}
}

// A single load by hand: every ohm in a row, and the contact's own.
func TestDropByHand(t *testing.T) {
	p := small(t, lamp("a", "L", "E1", 24))
	p.Pods[0].Ohms = []Measured{{Between: []string{"1", "2"}, Ohms: 0.3}}
	per := func(mm2, length float64) float64 {
		s, _ := MetricSize(mm2)
		return s.OhmsPerKM / 1000 * length
	}
	row := 5*per(4, 0.1) + 2*per(1, 0.2) + 2*fuseOhms + 0.3 // base wires but the one of R; load's; two fuses; contact
	want := 12 * row / (row + 6)                            // 24 W at 12 V is 6 ohm
	for _, l := range Work(p).Loads {
		if math.Abs(l.Drop-want) > 1e-3 {
			t.Errorf("%v V lost, by hand %v", l.Drop, want)
		}
	}
	k := kindsOf(Check(p))
	if !slices.Contains(k[WeakContact], "turn 1-2") {
		t.Errorf("0.3 ohm at 2 A lose 0.55 V and nobody says so: %v", k)
	}
}

// Sources: standard physics problem (cube), complete graphs and rings (Klein
// and Randic 1993), own computation of the bridge by two methods
// (graph_resistance_examples.csv).
func TestResistanceOfNetworks(t *testing.T) {
	cube := func() (s []spring) {
		for a := range 8 {
			for _, bit := range []int{1, 2, 4} {
				if b := a ^ bit; a < b {
					s = append(s, spring{a, b, 1})
				}
			}
		}
		return
	}()
	ring := func(n int) (s []spring) {
		for i := range n {
			s = append(s, spring{i, (i + 1) % n, 1})
		}
		return
	}
	full := func(n int) (s []spring) {
		for i := range n {
			for j := range i {
				s = append(s, spring{i, j, 1})
			}
		}
		return
	}
	for _, c := range []struct {
		name string
		n    int
		net  []spring
		a, b int
		want float64
	}{
		{"cube edge", 8, cube, 0, 1, 7.0 / 12}, {"cube face", 8, cube, 0, 3, 0.75}, {"cube body", 8, cube, 0, 7, 5.0 / 6},
		{"K4", 4, full(4), 0, 3, 0.5}, {"K6", 6, full(6), 1, 4, 1.0 / 3},
		{"ring 1", 6, ring(6), 0, 1, 5.0 / 6}, {"ring 2", 6, ring(6), 0, 2, 4.0 / 3}, {"ring 3", 6, ring(6), 0, 3, 1.5},
		{"bridge", 4, []spring{{0, 1, 1}, {0, 2, 0.5}, {1, 3, 1.0 / 3}, {2, 3, 0.25}, {1, 2, 0.2}}, 0, 3, 170.0 / 71},
	} {
		got, ok := resistance(c.n, c.net, c.a, c.b)
		if !ok || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %v ohm, source %v", c.name, got, c.want)
		}
	}
	if _, ok := resistance(3, []spring{{0, 1, 1}}, 0, 2); ok {
		t.Error("a resistance where nothing is joined")
	}
}
