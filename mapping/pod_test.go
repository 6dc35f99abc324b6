package mapping

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func samplePod() Pod {
	return Pod{
		Name: "left",
		Ends: []End{{ID: "1", Base: "BU"}, {ID: "2"}, {ID: "3"}, {ID: "BODY", Kind: Body}},
		Switches: []Switch{
			{Name: "dip", Positions: []PositionID{"low", "main"}, Rest: "low"},
			{Name: "turn", Positions: []PositionID{"left", "off", "right"}, Rest: "off"},
			{Name: "horn", Positions: []PositionID{"out", "in"}, Rest: "out", Momentary: true},
		},
	}
}

func TestPodFindsAndRests(t *testing.T) {
	p := samplePod()
	if e, ok := p.End("BODY"); !ok || e.Kind != Body {
		t.Errorf("BODY is %v, %v", e, ok)
	}
	if _, ok := p.End("9"); ok {
		t.Error("an end that is not there was found")
	}
	if s, ok := p.Switch("turn"); !ok || s.Index("right") != 2 || s.Index("up") != -1 {
		t.Errorf("turn is %v, %v", s, ok)
	}
	if _, ok := p.Switch("kill"); ok {
		t.Error("a switch that is not there was found")
	}
	if got := fmt.Sprint(p.Rest()); got != "map[dip:low horn:out turn:off]" {
		t.Errorf("rest is %s", got)
	}
	if Wire.String() != "wire" || Body.String() != "body" {
		t.Error("the kinds have other words than the pod description")
	}
}

func TestPodValidate(t *testing.T) {
	if err := samplePod().Validate(); err != nil {
		t.Fatal(err)
	}
	many := func(n int) (out []End) {
		for i := range n {
			out = append(out, End{ID: EndID(fmt.Sprint(i))})
		}
		return out
	}
	for _, c := range []struct {
		name   string
		change func(*Pod)
		want   string
	}{
		{"no ends", func(p *Pod) { p.Ends = nil }, `pod "left" has 0 end(s): name at least two`},
		{"too many ends", func(p *Pod) { p.Ends = many(MaxEnds + 1) }, `pod "left" has 49 ends: split it`},
		{"nameless end", func(p *Pod) { p.Ends[1].ID = "" }, `pod "left" has an end with no name`},
		{"twin ends", func(p *Pod) { p.Ends[1].ID = "1" }, `pod "left" has two ends named "1"`},
		{"nameless switch", func(p *Pod) { p.Switches[0].Name = "" }, `pod "left" has a switch with no name`},
		{"twin switches", func(p *Pod) { p.Switches[0].Name = "turn" }, `pod "left" has two switches named "turn"`},
		{"too many switches", func(p *Pod) {
			for i := range MaxSwitches {
				p.Switches = append(p.Switches, Switch{Name: SwitchID(fmt.Sprint(i))})
			}
		}, `pod "left" has 19 switches: split it`},
		{"one position", func(p *Pod) { p.Switches[0].Positions = []PositionID{"low"} }, `switch "dip" has 1 position(s)`},
		{"too many positions", func(p *Pod) {
			p.Switches[0].Positions = []PositionID{"a", "b", "c", "d", "e", "f", "g", "h", "low"}
		}, `switch "dip" has 9 positions`},
		{"too many positions in all", func(p *Pod) {
			p.Switches = manySwitches(16, 4)
			p.Switches[3].Positions = append(p.Switches[3].Positions, "e")
		}, `pod "left" has 65 positions in all: split it, 64 for all`},
		{"nameless position", func(p *Pod) { p.Switches[0].Positions = []PositionID{"low", ""} }, `switch "dip" has a position with no name`},
		{"twin positions", func(p *Pod) { p.Switches[0].Positions = []PositionID{"low", "low"} }, `switch "dip" has two positions named "low"`},
		{"no colour", func(p *Pod) { p.Ends[0].Base = "BU\x1b[2J\nEVIL" }, `end "1" has the colour "BU EVIL", which is no code of IEC 60757: use BK BN`},
		{"no tracer", func(p *Pod) { p.Ends[0].Tracer = "XX" }, `end "1" has the colour "XX", which is no code`},
		{"rest elsewhere", func(p *Pod) { p.Switches[0].Rest = "up" }, `switch "dip" rests at "up"`},
	} {
		p := samplePod()
		c.change(&p)
		if err := p.Validate(); err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
	p := samplePod()
	p.Ends = many(MaxEnds)
	if err := p.Validate(); err != nil {
		t.Errorf("%d ends are refused: %v", MaxEnds, err)
	}
	for _, c := range [][2]int{{16, 4}, {8, 8}} {
		p.Switches = manySwitches(c[0], c[1])
		if err := p.Validate(); err != nil {
			t.Errorf("%d switches of %d positions are refused: %v", c[0], c[1], err)
		}
	}
}

func manySwitches(n, positions int) (out []Switch) {
	for i := range n {
		s := Switch{Name: SwitchID(fmt.Sprint("s", i)), Rest: "a"}
		for q := range positions {
			s.Positions = append(s.Positions, PositionID(rune('a'+q)))
		}
		out = append(out, s)
	}
	return out
}

func TestSetting(t *testing.T) {
	p := samplePod()
	s := Setting{"dip": "main"}
	moved := s.With("turn", "left")
	if len(s) != 1 || moved["turn"] != "left" || moved["dip"] != "main" {
		t.Errorf("With changed its setting: %v, %v", s, moved)
	}
	c := s.Clone()
	c["dip"] = "low"
	if s["dip"] != "main" {
		t.Error("a clone shares its setting")
	}
	turn, _ := p.Switch("turn")
	if s.At(turn) != "off" || moved.At(turn) != "left" {
		t.Errorf("turn stands at %s and %s", s.At(turn), moved.At(turn))
	}
	var none Setting
	if none.At(turn) != "off" || none.With("dip", "main")["dip"] != "main" {
		t.Error("a setting that says nothing is not at rest")
	}
}

func TestCondition(t *testing.T) {
	p := samplePod()
	both := Condition{{"dip", []PositionID{"main"}}, {"turn", []PositionID{"left", "right"}}}
	for _, c := range []struct {
		c    Condition
		s    Setting
		want bool
	}{
		{nil, nil, true},
		{both, nil, false},
		{both, Setting{"dip": "main"}, false},
		{both, Setting{"dip": "main", "turn": "right"}, true},
		{Condition{{"dip", []PositionID{"low"}}}, nil, true}, // at rest, though not named
		{Condition{{"dip", nil}}, nil, false},
		{Condition{{"gone", []PositionID{"x"}}}, Setting{"gone": "x"}, false},
	} {
		if got := c.c.Holds(p, c.s); got != c.want {
			t.Errorf("%v in %v holds %v, want %v", c.c, c.s, got, c.want)
		}
	}
}

// The nets of a map are an equivalence: every end in one net, joined as its
// links say, and joined is the same as sharing a net.
func TestMapNets(t *testing.T) {
	p := samplePod()
	rapid.Check(t, func(t *rapid.T) {
		end := rapid.SampledFrom([]EndID{"1", "2", "3", "BODY"})
		m := Map{Links: rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Link {
			l := Link{A: end.Draw(t, "a"), B: end.Draw(t, "b")}
			if rapid.Bool().Draw(t, "conditional") {
				l.When = []Condition{{{"dip", []PositionID{rapid.SampledFrom([]PositionID{"low", "main"}).Draw(t, "at")}}}}
			}
			return l
		}), 0, 5).Draw(t, "links")}
		s := Setting{"dip": rapid.SampledFrom([]PositionID{"low", "main"}).Draw(t, "dip")}
		nets := m.Nets(p, s)
		of := map[EndID]int{}
		for i, net := range nets {
			for _, e := range net {
				if _, twice := of[e]; twice {
					t.Fatalf("%s is in two nets: %v", e, nets)
				}
				of[e] = i
			}
		}
		if len(of) != len(p.Ends) {
			t.Fatalf("an end is in no net: %v", nets)
		}
		links := 0
		for _, l := range m.Links {
			if l.Holds(p, s) {
				links++
				if of[l.A] != of[l.B] {
					t.Fatalf("%s-%s holds and is not joined: %v", l.A, l.B, nets)
				}
			}
		}
		if len(p.Ends)-len(nets) > links {
			t.Fatalf("%d links joined %d ends: %v", links, len(p.Ends)-len(nets), nets)
		}
		for _, a := range p.Ends {
			for _, b := range p.Ends {
				if got := m.Joined(p, s, a.ID, b.ID); got != (of[a.ID] == of[b.ID]) {
					t.Fatalf("%s-%s joined %v in %v", a.ID, b.ID, got, nets)
				}
			}
		}
	})
	if m := (Map{Links: []Link{{A: "1", B: "gone"}}}); len(m.Nets(p, nil)) != 4 || m.Joined(p, nil, "1", "gone") {
		t.Error("a link to an end that is not there joins something")
	}
	either := Link{A: "1", B: "2", When: []Condition{{{"dip", []PositionID{"main"}}}, {{"turn", []PositionID{"left"}}}}}
	for _, c := range []struct {
		s    Setting
		want bool
	}{{nil, false}, {Setting{"dip": "main"}, true}, {Setting{"turn": "left"}, true}} {
		if got := either.Holds(p, c.s); got != c.want {
			t.Errorf("either condition in %v: %v", c.s, got)
		}
	}
}

func TestGradeWords(t *testing.T) {
	for g := NotTested; g <= Proved; g++ {
		if back, err := ParseGrade(g.String()); err != nil || back != g {
			t.Errorf("%v came back as %v: %v", g, back, err)
		}
	}
	if _, err := ParseGrade("sure"); err == nil {
		t.Error("\"sure\" is a grade")
	}
	if got := Grade(7).String(); got != "Grade(7)" {
		t.Errorf("an unknown grade is %q", got)
	}
}

func TestContinuityOfReadings(t *testing.T) {
	for _, c := range []struct {
		r    Reading
		want Continuity
	}{
		{Reading{Outcome: Sounded}, Closed},
		{Reading{Outcome: Silent}, Open},
		{Reading{Outcome: Flicker}, Unknown},
		{Reading{Outcome: NotSure}, Unknown},
		{Reading{Outcome: CannotReach}, Unknown},
		{Reading{}, Unknown},
		{Reading{Mode: Ohms, Outcome: OverRange}, Open},
		{Reading{Mode: Diode, Outcome: OverRange}, Unknown}, // one way round only
		{Reading{Mode: Ohms, Outcome: Value, Value: 0.4}, Closed},
		{Reading{Mode: Ohms, Outcome: Value, Value: BeepThreshold}, Closed},
		{Reading{Mode: Ohms, Outcome: Value, Value: 470}, Unknown},
		{Reading{Mode: Diode, Outcome: Value, Value: 0.6}, Unknown},
	} {
		if got := c.r.Continuity(); got != c.want {
			t.Errorf("%+v is %v, want %v", c.r, got, c.want)
		}
	}
}
