package pinout

import (
	"slices"
	"strings"
	"testing"

	"bellout/mapping"
)

// The answers come from the pods' own "truth" lines (testdata/pods), as far as
// contacts and the names of switches and positions can know them.
func TestFunctionsOfThePods(t *testing.T) {
	for _, c := range []struct {
		pod, end, terminal, function string
		says                         string
	}{
		{"P01", "1", "56", "dip switch common", ""},
		{"P01", "2", "56a", "main beam", ""},
		{"P01", "3", "56b", "dipped beam", ""},
		{"P01", "4", "49a", "turn switch common", ""},
		{"P01", "5", "L", "left indicators", ""},
		{"P01", "6", "R", "right indicators", ""},
		{"P01", "7", "", "horn, pair with 8", Harmless},
		{"P02", "7", "31b", "horn return, earthed", ""},
		{"P02", "BODY", "31", "metal of the pod", ""},
		{"P03", "1", "", "lights feed", ""},
		{"P03", "2", "58", "tail and side lamps", ""},
		{"P03", "3", "56a", "main beam (with lights on)", ""},
		{"P03", "4", "56b", "dipped beam (with lights on)", ""},
		{"P04", "1", "56", "dip switch common, headlamp feed; also horn feed", ""},
		{"P04", "2", "56b", "dipped beam", ""},
		{"P04", "7", "", "horn", ""},
		{"P06", "1", "15", "kill in", ""},
		{"P06", "2", "15", "kill out", ""},
		{"P06", "3", "56", "headlamp, cut while starting, pair with 4", Harmless},
		{"P06", "5", "50", "starter relay", ""},
		{"P06", "6", "54", "front brake lamp, pair with 7", Harmless},
		{"P08", "9", "", "clutch switch common", ""},
		{"P08", "10", "", "clutch switch, closed at rest", ""},
		{"P08", "11", "", "clutch switch, closed when pulled", ""},
		{"P10", "2", "56a", "main beam; also headlamp flash", ""},
		{"P10", "7", "58", "running lamps feed", ""},
		{"P10", "8", "58L", "left running lamp", ""},
		{"P10", "9", "58R", "right running lamp", ""},
		{"P10", "10", "", "flash feed", ""},
		{"P12", "5", "2", "stops the engine", ""},
		{"P12", "1", "", "30 from the battery, or 58", Matters}, // 1 and 4 look alike from outside
		{"P12", "4", "", "30 from the battery, or 58", Matters},
		{"P24", "1", "56b", "dipped beam, pair with 2", Harmless},
		{"P24", "4", "56a", "main beam, pair with 3", Harmless},
		{"P24", "5", "49a", "turn switch common, from the flasher; also horn feed", ""},
	} {
		e := end(t, Build(input(t, load(t, c.pod))), c.end)
		if e.Terminal != c.terminal || !strings.HasPrefix(e.Function, c.function) || e.Says != c.says {
			t.Errorf("%s end %s: %q %q %q, want %q %q %q", c.pod, c.end, e.Terminal, e.Function, e.Says, c.terminal, c.function, c.says)
		}
		if c.says == Matters && (mapping.Grade(e.Grade) > mapping.OpenQuestion || e.Do == "") {
			t.Errorf("%s end %s is %v and says no way out: %q", c.pod, c.end, e.Grade, e.Do)
		}
	}
	p := Build(input(t, load(t, "P24")))
	if !strings.Contains(strings.Join(p.Cautions, "\n"), "5 feeds the horn and is the flasher's output") {
		t.Error("P24: nothing is said of a horn behind the flasher")
	}
}

// What trade practice says continuity cannot settle is never said surely.
func TestNeverSureOfWhatContinuityCannotSettle(t *testing.T) {
	for _, c := range []struct {
		name, text, end string
		says            string
		most            mapping.Grade
	}{
		{"which side is left", "wires 1, 2, 3\nsw turn latching rest=b | a: 1+2 | b: | c: 1+3\n", "2", Matters, mapping.OpenQuestion},
		{"which beam is main", "wires 1, 2, 3\nsw dip latching rest=a | a: 1+2 | b: 1+3\n", "2", Harmless, mapping.Likely},
		{"two poles, no legend", "wires 1, 2, 3, 4\nsw dip latching rest=a | a: 1+2 | b: 3+4\n", "1", Harmless, mapping.OpenQuestion},
		{"which end is the feed", "wires 1, 2\nsw horn momentary rest=out | out: | in: 1+2\n", "1", Harmless, mapping.Proved},
		{"kill fed behind a hidden join", "wires 2, 3, 4, 6, 9\nfix 2+6\nsw turn latching rest=off | left: 2+3 | off: | right: 2+4\nsw kill latching rest=run | off: | run: 6+9\n", "2", "", mapping.Likely},
		{"which button it is", "wires 1, 2\nsw b1 momentary rest=out | out: | in: 1+2\n", "1", Matters, mapping.OpenQuestion},
		{"a switch of no name", "wires 1, 2, 3\nsw s latching rest=a | a: 1+2 | b: 1+3\n", "1", Matters, mapping.OpenQuestion},
		{"kill of earthing type", "wires 1, BODY metal\nsw kill latching rest=run | off: 1+BODY | run:\n", "1", Matters, mapping.Likely},
		{"kill of which type", "wires 1, 2\nsw kill latching rest=a | a: | b: 1+2\n", "1", Matters, mapping.OpenQuestion},
		{"key with one contact", "wires 1, 2\nsw key latching rest=off | off: | on: 1+2\n", "1", Matters, mapping.OpenQuestion},
		{"bridged wires", "wires 1, 2\nfix 1+2\n", "1", Harmless, mapping.Proved},
		{"dead, broken or waiting", "wires 1, 2, 3\nfix 1+2\n", "3", Matters, mapping.Proved},
		{"feed or output, shared", "wires 1, 2, 3\nsw horn momentary rest=out | out: | in: 1+2\nsw flash momentary rest=out | out: | in: 1+3\n", "1", "", mapping.Likely},
		{"start that cuts the lamp", "wires 1, 2, 3\nsw start momentary rest=out | out: 1+2 | in: 1+3\n", "3", "", mapping.Likely},
		{"a contact that makes no sense", "wires 1, 2, 3, 4, 5, 6, 7\nsw dip latching rest=low | low: 1+2 | main: 1+3, 6+7\nsw turn latching rest=off | left: 4+5 | off: | right: 4+6\n", "7", Matters, mapping.OpenQuestion},
		{"stop lamp switch", "wires 1, 2\nsw stop-light momentary rest=out | out: | in: 1+2\n", "1", Harmless, mapping.Proved},
		{"which of two is the lights feed", "wires 1, 2, 3\nsw lights latching rest=a | a: | b: 1+2 | c: 1+2, 1+3\n", "2", Harmless, mapping.Proved},
		{"the same, seen from the feed", "wires 1, 2, 3\nsw lights latching rest=a | a: | b: 1+2 | c: 1+2, 1+3\n", "1", Harmless, mapping.Proved},
		{"lamps that come on last", "wires 1, 2, 3\nsw lights latching rest=a | a: | b: 1+2 | c: 1+2, 1+3\n", "3", "", mapping.Likely},
		{"lights feed that the flash shares", "wires 1, 2, 3, 4\nsw lights latching rest=a | a: | b: 1+2 | c: 1+2, 1+3\nsw flash momentary rest=out | out: | in: 1+4\n", "2", "", mapping.Likely},
		{"hazard of three", "wires 1, 2, 3\nsw hazard latching rest=off | off: | on: 1+2+3\n", "2", Harmless, mapping.Proved},
		{"key, cumulative", "wires 1, 2, 3\nsw key latching rest=off | off: | on: 1+2 | lights: 1+2, 1+3\n", "1", Matters, mapping.OpenQuestion},
	} {
		e := end(t, Build(pod(t, "pod T\n"+c.text)), c.end)
		if e.Says != c.says || mapping.Grade(e.Grade) > c.most {
			t.Errorf("%s: %q is %v and says %q, want %q and at most %v", c.name, e.Function, e.Grade, e.Says, c.says, c.most)
		}
		if c.says != "" && e.Do == "" {
			t.Errorf("%s: nothing is said of what to do", c.name)
		}
	}
}

// The turn switch tells a hazard switch's lamps from its feed, whichever of the
// two is described first.
func TestHazardBesideTheTurnSwitch(t *testing.T) {
	const turn = "sw turn latching rest=off | left: 4+5 | off: | right: 4+6\n"
	const poles = "sw turn latching rest=off | left: 3+4 | off: | right: 5+6\n"
	const own = ", from a flasher of its own or a live feed"
	for _, c := range []struct {
		name, turn, hazard string
		want               map[string]string // end: terminal, function
	}{
		{"one feed to both sides", turn, "11+5, 11+6", map[string]string{"4": "49a turn switch common, from the flasher", "5": "L left indicators; also hazard", "6": "R right indicators; also hazard", "11": " hazard feed" + own}},
		{"fed by the turn switch's flasher", turn, "4+5, 4+6", map[string]string{"4": "49a turn switch common, from the flasher; also hazard feed", "5": "L left indicators; also hazard", "6": "R right indicators; also hazard"}},
		{"both sides joined", turn, "5+6", map[string]string{"4": "49a turn switch common, from the flasher", "5": "L left indicators; also hazard", "6": "R right indicators; also hazard"}},
		{"one side only", turn, "11+5", map[string]string{"5": "L left indicators; also hazard", "6": "R right indicators", "11": " hazard feed" + own}},
		{"a feed each side", turn, "11+5, 12+6", map[string]string{"5": "L left indicators; also hazard", "6": "R right indicators; also hazard", "11": " hazard feed" + own, "12": " hazard feed" + own}},
		{"a turn switch without a common", poles, "11+4, 11+6", map[string]string{"3": "49a turn switch feed, from the flasher", "4": "L left indicators; also hazard", "5": "49a turn switch feed, from the flasher", "6": "R right indicators; also hazard", "11": " hazard feed" + own}},
	} {
		hazard := "sw hazard latching rest=off | off: | on: " + c.hazard + "\n"
		for _, switches := range []string{c.turn + hazard, hazard + c.turn} {
			p := Build(pod(t, "pod T\nwires 3, 4, 5, 6, 11, 12\n"+switches))
			for id, want := range c.want {
				if e := end(t, p, id); e.Terminal+" "+e.Function != want || e.Says != "" {
					t.Errorf("%s: end %s is %q %q, says %q, want %q", c.name, id, e.Terminal, e.Function, e.Says, want)
				}
			}
			if e := end(t, p, "5"); mapping.Grade(e.Grade) < mapping.Likely {
				t.Errorf("%s: end 5 is %v", c.name, e.Grade)
			}
		}
	}

	// A second end that no turn switch reaches is the feed or lamps.
	p := Build(pod(t, "pod T\nwires 4, 5, 6, 11, 12\n"+turn+"sw hazard latching rest=off | off: | on: 11+5, 12+5\n"))
	for _, id := range []string{"11", "12"} {
		if e := end(t, p, id); !strings.HasPrefix(e.Function, "hazard feed, or the indicators of one side, alike with") || e.Says != Harmless {
			t.Errorf("end %s is %q, says %q", id, e.Function, e.Says)
		}
	}
	// By itself it tells its feed only where the contacts do not close together.
	for on, want := range map[string][3]string{"one: 1+2 | on: 1+3": {"49a", "L/R", "L/R"}, "one: 1+2 | on: 1+2, 1+3": {"", "", "L/R"}, "on: 1+2, 1+3": {}} {
		for i, e := range Build(pod(t, "pod T\nwires 1, 2, 3\nsw hazard latching rest=off | off: | "+on+"\n")).Ends {
			if e.Terminal != want[i] {
				t.Errorf("%s: end %s is %q %q, want %q", on, e.ID, e.Terminal, e.Function, want[i])
			}
		}
	}
}

// A name is never surer than the contact behind it.
func TestGradeOfTheContactHoldsTheNameDown(t *testing.T) {
	for grade := mapping.NotTested; grade <= mapping.Proved; grade++ {
		in := input(t, load(t, "P01"))
		for i := range in.Map.Links {
			in.Map.Links[i].Grade = grade
		}
		for _, e := range Build(in).Ends {
			if mapping.Grade(e.Grade) > grade {
				t.Errorf("%s is %v on contacts that are %v", e.ID, e.Grade, grade)
			}
		}
	}
}

// A map may list every joined pair or only enough to join them: the functions
// are the same.
func TestImpliedLinksDoNotMatter(t *testing.T) {
	in := input(t, load(t, "P04"))
	full := Build(in)
	var thin []mapping.Link
	for _, l := range in.Map.Links {
		if !(l.A == "2" && l.B == "3") && !(l.B == "7" && l.A != "1") {
			thin = append(thin, l)
		}
	}
	if len(thin) != len(in.Map.Links)-3 {
		t.Fatalf("%d links of %d", len(thin), len(in.Map.Links))
	}
	in.Map.Links = thin
	less := Build(in)
	for i := range full.Ends {
		if full.Ends[i] != less.Ends[i] {
			t.Errorf("%+v\nand with fewer links\n%+v", full.Ends[i], less.Ends[i])
		}
	}
}

func TestTheBuilderOverrules(t *testing.T) {
	p := Build(workshop(t))
	e := end(t, p, "2")
	if e.Function != "tail lamp only" || !e.Overruled || e.Terminal != "58" || e.Says != "" || !strings.HasPrefix(e.Proposed, "tail and side lamps") {
		t.Errorf("end 2: %+v", e)
	}
	if mapping.Grade(e.Grade) != mapping.Proved {
		t.Errorf("the builder's word changed the contact's grade: %v", e.Grade)
	}
	if e := end(t, p, "1"); e.NewCavity != "1" || e.OldCavity != "A1" || e.Overruled {
		t.Errorf("end 1: %+v", e)
	}
	if e := end(t, p, "9"); e.Fate != "insulate" {
		t.Errorf("end 9: %+v", e)
	}
	if p.Face != "the mating face" {
		t.Errorf("face %q", p.Face)
	}
	in := workshop(t)
	in.Work.Decisions = append(in.Work.Decisions, mapping.Decision{Kind: mapping.NameFunction, End: "2"})
	if e := end(t, Build(in), "2"); !strings.HasPrefix(e.Function, "tail and side lamps") {
		t.Errorf("a name that was taken back stays: %+v", e)
	}
}

func TestWhatIsNotKnownIsSaid(t *testing.T) {
	p := Build(workshop(t))
	notes := strings.Join(p.Notes, "\n")
	for _, want := range []string{
		"not settled: whether 10 and BODY are joined, horn in",
		"1 is shared by dip, lights, flash",
		"2 and 9 are always joined",
		"8: GNYE",
	} {
		if !strings.Contains(notes, want) {
			t.Errorf("%q is not among the notes:\n%s", want, notes)
		}
	}
	if got := p.Counts; got.Readings != 9 || got.StruckOut != 1 || got.Likely != 1 || got.Open != 1 {
		t.Errorf("counts %+v", got)
	}
	for _, l := range p.Links {
		if l.Between == [2]string{"1", "4"} && (len(l.Readings) != 1 || l.Readings[0] != 2) {
			t.Errorf("1-4 rests on %v, want reading 2", l.Readings)
		}
	}
	silent := Build(pod(t, "pod T\nwires 1, 2, 3\nsw a latching rest=x | x: | y:\nfix 1+2\n"))
	if got := strings.Join(silent.Notes, "\n"); !strings.Contains(got, "switch a changes nothing so far") || !strings.Contains(got, "3: reaches nothing that was tried") {
		t.Errorf("notes of a silent switch:\n%s", got)
	}
	empty := Build(Input{})
	if len(empty.Ends) != 0 || empty.Face != FaceNotStated {
		t.Errorf("nothing at all: %+v", empty)
	}
}

// The readings are those of P19's quirk line.
func TestWeakContactsAreNoted(t *testing.T) {
	in := input(t, load(t, "P19"))
	rest := in.Work.Pod.Rest()
	for i, r := range []mapping.Reading{
		{Red: []mapping.EndID{"1"}, Black: []mapping.EndID{"3"}, Setting: rest, Value: 0.6},
		{Red: []mapping.EndID{"1"}, Black: []mapping.EndID{"2"}, Setting: rest.With("dip", "main"), Value: 38},
		{Red: []mapping.EndID{"2"}, Black: []mapping.EndID{"1"}, Setting: rest.With("dip", "main"), Value: 4},
		{Red: []mapping.EndID{"2"}, Black: []mapping.EndID{"1"}, Setting: rest, Value: 9e5}, // open: not this contact
		{Red: []mapping.EndID{"5"}, Black: []mapping.EndID{"4"}, Setting: rest.With("turn", "left"), Value: 0.9},
		{Red: []mapping.EndID{"6", "5"}, Black: []mapping.EndID{"4"}, Setting: rest.With("turn", "right"), Value: 70}, // a bunch
	} {
		r.ID, r.Mode, r.Outcome = mapping.ReadingID(i+1), mapping.Ohms, mapping.Value
		in.Work.Readings = append(in.Work.Readings, r)
	}
	in.Work.Decisions = []mapping.Decision{{Kind: mapping.LeadOhms, Value: "0.3"}}
	p := Build(in)
	want := map[[2]string]float64{{"1", "2"}: 37.7, {"1", "3"}: 0.3, {"4", "5"}: 0.6}
	for _, l := range p.Links {
		w, read := want[l.Between]
		if (l.Ohms != nil) != read || read && *l.Ohms != w {
			t.Errorf("%v: %v, want %v (%v)", l.Between, l.Ohms, w, read)
		}
	}
	notes := strings.Join(p.Notes, "\n")
	if !strings.Contains(notes, "1-2 (dip main) reads up to 37.7 ohm over the leads") || strings.Count(notes, "over the leads") != 1 {
		t.Errorf("notes:\n%s", notes)
	}
}

// A dirty contact has thousands of ohms, a leak millions.
func TestOhmsHaveNoExponent(t *testing.T) {
	in := input(t, load(t, "P19"))
	dirty := mapping.Reading{ID: 1, Red: []mapping.EndID{"1"}, Black: []mapping.EndID{"2"},
		Setting: in.Work.Pod.Rest().With("dip", "main"), Mode: mapping.Ohms, Outcome: mapping.Value, Value: 4700}
	in.Work.Readings = append(in.Work.Readings, dirty)
	if notes := strings.Join(Build(in).Notes, "\n"); !strings.Contains(notes, "1-2 (dip main) reads up to 4.7 kohm over the leads") {
		t.Errorf("notes:\n%s", notes)
	}
	dirty.Value = 12345678
	if got := dirty.OutcomeWords(); got != "12.345678 Mohm" {
		t.Errorf("a leak reads %q", got)
	}
}

func TestASwitchThatOnlyLetsThrough(t *testing.T) {
	p := Build(pod(t, "pod T\nwires 1, 2\nsw board latching rest=up | up: 1+#x | down:\nsw horn momentary rest=out | out: | in: #x+2\n"))
	i := slices.IndexFunc(p.Tables, func(t Table) bool { return t.Switch == "board" })
	if got := p.Tables[i]; len(got.Ends) != 0 || len(got.Through) != 1 || got.Through[0] != "horn" {
		t.Errorf("board: %+v", got)
	}
	if e := end(t, p, "1"); !strings.HasPrefix(e.Function, "horn (with board up), pair with 2") {
		t.Errorf("end 1: %+v", e)
	}
	if strings.Contains(strings.Join(p.Notes, ""), "changes nothing") {
		t.Errorf("notes: %v", p.Notes)
	}
}

func TestNonsenseIsPointedOut(t *testing.T) {
	p := Build(pod(t, "pod T\nwires 1, 2, 3, 4, 5, 6, 7\nsw dip latching rest=low | low: 1+2 | main: 1+3, 6+7\nsw turn latching rest=off | left: 4+5 | off: | right: 4+6\n"))
	if e := end(t, p, "6"); !strings.HasPrefix(e.Function, "right indicators; also joined to 7 at dip main") || e.Says != Matters {
		t.Errorf("end 6: %+v", e)
	}
	if !strings.Contains(strings.Join(p.Cautions, ""), "6 and 7 are joined at dip main, which makes no sense") {
		t.Errorf("cautions: %v", p.Cautions)
	}
}

func TestNumbers(t *testing.T) {
	for _, c := range []struct {
		ids  []mapping.ReadingID
		most int
		want string
	}{
		{[]mapping.ReadingID{7}, 6, "reading 7"},
		{[]mapping.ReadingID{1, 2, 3, 5, 6, 9}, 6, "readings 1-3, 5, 6, 9"},
		{[]mapping.ReadingID{1, 3, 5, 6, 9, 10, 11}, 2, "readings 1, 3 and 5 more"},
		{[]mapping.ReadingID{1, 3, 5}, 0, "readings 1, 3, 5"},
	} {
		if got := numbers(Link{Readings: c.ids}, c.most); got != c.want {
			t.Errorf("%v: %q, want %q", c.ids, got, c.want)
		}
	}
}
