package pinout

import (
	"os"
	"slices"
	"strings"
	"testing"

	"bellout/mapping"
	"bellout/mapping/fixture"
)

// known is the evidence of somebody who has looked inside a pod: every verdict
// is proved, and the readings behind it are those of the very pair and setting.
type known struct {
	f        *fixture.Fixture
	readings []mapping.Reading
}

func (k known) Verdict(s mapping.Setting, a, b mapping.EndID) (bool, mapping.Grade) {
	return k.f.Joined(s, a, b), mapping.Proved
}

func (k known) Why(s mapping.Setting, a, b mapping.EndID) []mapping.ReadingID {
	var out []mapping.ReadingID
	for _, r := range k.readings {
		same := true
		for _, sw := range k.f.Pod.Switches {
			same = same && r.Setting.At(sw) == s.At(sw)
		}
		if same && (r.Red[0] == a && r.Black[0] == b || r.Red[0] == b && r.Black[0] == a) {
			out = append(out, r.ID)
		}
	}
	return out
}

func (k known) Common(mapping.SwitchID) (mapping.EndID, bool) { return "", false }

func load(t testing.TB, name string) *fixture.Fixture {
	t.Helper()
	r, err := os.Open("../../testdata/pods/" + name + ".pod")
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	f, err := fixture.Parse(r)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// pod makes an input from the fixture notation, everything proved.
func pod(t testing.TB, text string) Input {
	t.Helper()
	f, err := fixture.Parse(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return input(t, f)
}

func input(t testing.TB, f *fixture.Fixture) Input {
	t.Helper()
	m, ok := f.Map()
	if !ok {
		t.Fatalf("%s has no map", f.Pod.Name)
	}
	return Input{Work: &mapping.PodWork{Pod: f.Pod, Struck: map[mapping.ReadingID]string{}}, Map: m, Evidence: known{f: f}}
}

func end(t testing.TB, p Pinout, id string) End {
	t.Helper()
	i := slices.IndexFunc(p.Ends, func(e End) bool { return e.ID == id })
	if i < 0 {
		t.Fatalf("end %s is not in the pinout", id)
	}
	return p.Ends[i]
}

// workshop is an invented pod with something of everything: a junction inside,
// a shared feed, a bridge, a dead wire, two wires of one colour, the body as an
// end, readings and the builder's own words.
func workshop(t testing.TB) Input {
	in := pod(t, `pod left pod of the shed find
wires 1 RD, 2 BN, 3 BU, 4 BUWH, 5 OG, 6 GN, 7 GY, 8 GNYE, 9 BK, 10 BK, BODY metal
sw lights latching rest=off | off: | park: 1+2 | on: 1+2, 1+#h
sw dip latching rest=low | low: #h+4 | main: #h+3
sw flash momentary rest=out | out: | in: 1+3
sw turn latching rest=off | left: 5+6 | off: | right: 5+7
sw horn momentary rest=out | out: | in: 8+BODY
fix 2+9
`)
	in.Job, in.Date, in.Revision, in.By, in.Serial = "shed find 250", "3 May", "B", "Robin", "L-17"
	for i := range in.Work.Pod.Ends {
		in.Work.Pod.Ends[i].Cavity = "A" + string(in.Work.Pod.Ends[i].ID)
	}
	in.Work.Pod.Ends[10].Cavity = ""
	rest := in.Work.Pod.Rest()
	k := in.Evidence.(known)
	add := func(red, black mapping.EndID, s mapping.Setting) {
		id := mapping.ReadingID(len(in.Work.Readings) + 1)
		r := mapping.Reading{ID: id, Red: []mapping.EndID{red}, Black: []mapping.EndID{black}, Setting: s}
		r.Outcome = k.f.Read(r.Red, r.Black, s)
		in.Work.Readings = append(in.Work.Readings, r)
	}
	add("2", "1", rest.With("lights", "park"))
	add("4", "1", rest.With("lights", "on"))
	add("3", "1", rest.With("lights", "on").With("dip", "main"))
	add("3", "1", rest.With("flash", "in"))
	add("6", "5", rest.With("turn", "left"))
	add("7", "5", rest.With("turn", "right"))
	add("8", "BODY", rest.With("horn", "in"))
	add("9", "2", rest)
	add("10", "1", rest)
	ohms := in.Work.Readings[3]
	ohms.ID, ohms.Mode, ohms.Outcome, ohms.Value = 10, mapping.Ohms, mapping.Value, 2.4
	in.Work.Readings = append(in.Work.Readings, ohms)
	in.Work.Struck[9] = "clip had slipped"
	k.readings = in.Work.Readings
	in.Evidence = k
	in.Work.Decisions = []mapping.Decision{
		{Kind: mapping.PlugFace, Value: "the mating face"},
		{Kind: mapping.NameFunction, End: "2", Value: "tail lamp only"},
		{Kind: mapping.SetTerminal, End: "2", Value: "58"},
		{Kind: mapping.SetNewCavity, End: "1", Value: "1"},
		{Kind: mapping.WireFate, End: "9", Value: "insulate"},
	}
	in.Map.Unresolved = []mapping.Link{{A: "10", B: "BODY", Grade: mapping.OpenQuestion, When: []mapping.Condition{
		{{Switch: "horn", Positions: []mapping.PositionID{"in"}}},
	}}}
	for i, l := range in.Map.Links {
		if l.A == "5" && l.B == "7" {
			in.Map.Links[i].Grade = mapping.Likely
		}
	}
	return in
}
