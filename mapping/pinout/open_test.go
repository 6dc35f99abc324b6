package pinout

import (
	"bytes"
	"regexp"
	"slices"
	"strings"
	"testing"

	"bellout/mapping"
)

var tags = regexp.MustCompile("<[^>]*>")

// early is the evidence of a few readings: the best map is believed, but only
// some pairs were ever heard.
type early struct {
	known
	grade func(s mapping.Setting, a, b mapping.EndID) mapping.Grade
}

func (e early) Verdict(s mapping.Setting, a, b mapping.EndID) (bool, mapping.Grade) {
	joined, _ := e.known.Verdict(s, a, b)
	return joined, e.grade(s, a, b)
}

// begun is a pod of which 1-3 was heard at dip main and nothing else was read.
func begun(t *testing.T) Input {
	in := pod(t, "pod T\nwires 1, 2, 3, 4, 5\nsw dip latching rest=low | low: 1+2 | main: 1+3\nsw horn momentary rest=out | out: | in: 4+5\n")
	in.Evidence = early{in.Evidence.(known), func(s mapping.Setting, a, b mapping.EndID) mapping.Grade {
		met := []mapping.EndID{"1", "2", "3"}
		switch {
		case !slices.Contains(met, a) || !slices.Contains(met, b) || s["horn"] == "in":
			return mapping.NotTested
		case s["dip"] == "main" && a != "2" && b != "2":
			return mapping.Proved
		}
		return mapping.OpenQuestion
	}}
	for i := range in.Map.Links {
		in.Map.Links[i].Grade = mapping.OpenQuestion
	}
	return in
}

// The metal of a pod is known by its description; that it is apart from the rest, or
// joined, is as sure as what was read.
func TestMetalIsNotProvedUnread(t *testing.T) {
	in := pod(t, "pod T\nwires 1, 2, BODY metal\nsw horn momentary rest=out | out: | in: 1+2\n")
	if e := end(t, Build(in), "BODY"); mapping.Grade(e.Grade) != mapping.Proved {
		t.Errorf("read and apart: %+v", e)
	}
	in.Evidence = early{in.Evidence.(known), func(mapping.Setting, mapping.EndID, mapping.EndID) mapping.Grade { return mapping.NotTested }}
	if e := end(t, Build(in), "BODY"); mapping.Grade(e.Grade) != mapping.NotTested || e.Terminal != "31" {
		t.Errorf("not read: %+v", e)
	}
}

// What no reading bears on is no tie, no link and never harmless.
func TestAGuessIsNoTie(t *testing.T) {
	p := Build(begun(t))
	if len(p.Links) != 0 {
		t.Errorf("links by a guess: %+v", p.Links)
	}
	for _, e := range p.Ends {
		want, grade := "not settled: see what is not known", mapping.OpenQuestion
		if e.ID == "4" || e.ID == "5" {
			want, grade = "not tested", mapping.NotTested
		}
		if e.Function != want || mapping.Grade(e.Grade) != grade || e.Says != "" || e.Terminal != "" {
			t.Errorf("end %s: %+v", e.ID, e)
		}
	}
	dip, horn := p.Tables[0], p.Tables[1]
	if len(dip.Rows) != 2 || len(dip.Rows[0].Nets) != 0 || len(dip.Rows[1].Nets) != 1 {
		t.Errorf("dip: %+v, want what was heard at main and no more", dip.Rows)
	}
	if len(horn.Ends) != 0 || !horn.Untried || horn.empty() != "not tried yet" {
		t.Errorf("horn: %+v", horn)
	}
	notes := strings.Join(p.Notes, "\n")
	if !strings.Contains(notes, "not settled: whether 4 and 5 are joined, horn in (perhaps joined)") || strings.Contains(notes, "horn changes nothing") {
		t.Errorf("notes:\n%s", notes)
	}
	if p.Counts.Open != 3 || p.Counts.Proved+p.Counts.Likely+p.Counts.NotTested != 0 {
		t.Errorf("counts %+v", p.Counts)
	}
	if slices.Contains(p.Dead, "4") {
		t.Errorf("an end that nobody touched is called dead")
	}
}

// Readings that cannot all be right and pairs that are not settled stand on the
// page in every form, and the head counts them.
func TestDoubtsReachThePage(t *testing.T) {
	in := input(t, load(t, "P01"))
	rest := in.Work.Pod.Rest()
	for i, o := range []mapping.Outcome{mapping.Sounded, mapping.Silent, mapping.Silent} {
		in.Work.Readings = append(in.Work.Readings, mapping.Reading{ID: mapping.ReadingID(i + 7), Red: []mapping.EndID{"3"}, Black: []mapping.EndID{"1"}, Setting: rest, Outcome: o})
	}
	in.Doubts = [][]mapping.ReadingID{{7, 8, 9}}
	in.Questions = []Question{
		{A: "2", B: "5", When: mapping.Condition{{Switch: "dip", Positions: []mapping.PositionID{"main"}}}},
		{A: "2", B: "5", When: mapping.Condition{{Switch: "horn", Positions: []mapping.PositionID{"in"}}}},
	}
	in.Map.Unresolved = []mapping.Link{{A: "2", B: "5", When: []mapping.Condition{in.Questions[0].When}}}
	p := Build(in)
	if p.Counts.Open != 1 || p.Counts.Doubts != 1 || !strings.HasSuffix(p.Counts.String(), "1 open, 0 not tested; 1 doubt") {
		t.Errorf("head: %s", p.Counts)
	}
	for name, write := range writers() {
		var b bytes.Buffer
		if err := write(p, &b); err != nil {
			t.Fatal(err)
		}
		if name == "pdf" {
			continue // as in html, by the same sheet
		}
		text := strings.ReplaceAll(b.String(), "\\", "")
		if name == "html" {
			text = tags.ReplaceAllString(text, "")
		}
		text = strings.Join(strings.Fields(text), " ")
		for _, want := range []string{
			"these readings cannot all be right: reading 7, 3 to 1: beep (dip low, turn off, horn out); readings 8, 9, 3 to 1: silent",
			"not settled: whether 2 and 5 are joined, dip main, or horn in",
		} {
			if !strings.Contains(text, want) {
				t.Errorf("%s does not say %q:\n%s", name, want, text)
			}
		}
	}
	if len(p.Readings) != 3 {
		t.Errorf("the readings in doubt are not cited: %v", p.Readings)
	}
}

// A table shows what is joined in each of its settings, through whatever switch
// is at rest.
func TestTableShowsTheNetsOfTheSetting(t *testing.T) {
	p := Build(pod(t, "pod T\nwires 1, 2, 3, 5\nsw lights latching rest=off | off: | park: 1+5 | on: 1+5, 1+#x\nsw dip latching rest=low | low: #x+2 | main: #x+3\n"))
	lights := p.Tables[0]
	if want := []string{"1", "2", "5"}; !slices.Equal(lights.Ends, want) {
		t.Fatalf("columns %v, want %v", lights.Ends, want)
	}
	for i, want := range [][]string{nil, {"1", "5"}, {"1", "2", "5"}} {
		if nets := lights.Rows[i].Nets; len(nets) > 1 || len(nets) != min(1, len(want)) || len(want) > 0 && !slices.Equal(nets[0], want) {
			t.Errorf("lights %s joins %v, want %v", lights.Rows[i].Label, nets, want)
		}
	}
}

// What is joined while a switch rests, and not read with it moved, does not make
// it one that has been tried.
func TestAnUntriedSwitchHasNoTable(t *testing.T) {
	in := pod(t, "pod T\nwires 1, 2\nsw dip latching rest=low | low: 1+2 | main:\nsw turn latching rest=off | off: | left:\n")
	in.Evidence = early{in.Evidence.(known), func(s mapping.Setting, _, _ mapping.EndID) mapping.Grade {
		if s["turn"] == "left" {
			return mapping.NotTested
		}
		return mapping.Proved
	}}
	p := Build(in)
	if dip, turn := p.Tables[0], p.Tables[1]; dip.Untried || len(dip.Ends) != 2 || !turn.Untried || len(turn.Ends) != 0 {
		t.Errorf("dip %+v\nturn %+v", dip, turn)
	}
}
