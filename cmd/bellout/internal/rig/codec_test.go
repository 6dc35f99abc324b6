package rig

import (
	"errors"
	"strings"
	"testing"

	"bellout/inference"
	"bellout/mapping"

	"github.com/google/go-cmp/cmp"
)

// The expected lines are those of the protocol's own description
// (bellout rig --help), written out by hand.
func TestAskLines(t *testing.T) {
	pod := testPod(t)
	bare := mapping.Pod{Name: "bare", Ends: pod.Ends}
	ohms := beepSweep()
	ohms.ID, ohms.Mode = 9, mapping.Ohms
	beep := beepSweep()
	beep.ID = 7
	control := controlSweep()
	control.ID = 8
	fixed := mapping.Sweep{ID: 3, Red: []mapping.EndID{"1"}, Black: []mapping.EndID{"2"}, Steps: []mapping.Setting{{}}}
	for _, c := range []struct {
		name  string
		pod   mapping.Pod
		sweep mapping.Sweep
		want  string
	}{
		{"beep, a switch left unnamed stands at rest", pod, beep,
			`{"ask":{"id":7,"red":["3"],"black":["1","2"],"mode":"beep","steps":[{"horn":"out","turn":"left"},{"horn":"in","turn":"right"}],"why":"several answers still fit: this tells them apart; 12 answers in play"}}`},
		{"ohms", pod, ohms,
			`{"ask":{"id":9,"red":["3"],"black":["1","2"],"mode":"ohms","steps":[{"horn":"out","turn":"left"},{"horn":"in","turn":"right"}],"why":"several answers still fit: this tells them apart; 12 answers in play"}}`},
		{"control beep", pod, control, `{"ask":{"id":8,"control":true,"red":["3"],"black":["3"]}}`},
		{"a pod without switches still has a step", bare, fixed,
			`{"ask":{"id":3,"red":["1"],"black":["2"],"mode":"beep","steps":[{}],"why":"little is known here yet: what follows which lever"}}`},
	} {
		got, err := encodeAsk(c.pod, c.sweep)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if string(got) != c.want+"\n" {
			t.Errorf("%s:\n got %s want %s", c.name, got, c.want)
		}
	}
}

func TestFinalLine(t *testing.T) {
	r := inference.Result{Confidence: 0.99996}
	r.Map.Links = []mapping.Link{
		{A: "1", B: "3", Grade: mapping.Proved, When: []mapping.Condition{{{Switch: "dip", Positions: []mapping.PositionID{"low"}}}}},
		{A: "1", B: "2", Grade: mapping.Likely},
	}
	r.Map.Unresolved = []mapping.Link{{A: "3", B: "4", When: []mapping.Condition{{
		{Switch: "kill", Positions: []mapping.PositionID{"run"}},
		{Switch: "start", Positions: []mapping.PositionID{"in"}},
	}}}}
	got, err := encodeFinal(r, 118)
	if err != nil {
		t.Fatal(err)
	}
	want := `{"map":{"links":[{"between":["1","3"],"when":[{"dip":["low"]}],"grade":"proved"},` +
		`{"between":["1","2"],"when":[],"grade":"likely"}],` +
		`"unresolved":[{"between":["3","4"],"when":[{"kill":["run"],"start":["in"]}]}]},` +
		`"confidence":0.9999,"readings":118}` + "\n"
	if string(got) != want {
		t.Errorf("got %s want %s", got, want)
	}
	empty, err := encodeFinal(inference.Result{}, 0)
	if err != nil {
		t.Fatal(err)
	}
	if want := `{"map":{"links":[],"unresolved":[]},"confidence":0,"readings":0}` + "\n"; string(empty) != want {
		t.Errorf("nothing known: got %s want %s", empty, want)
	}
}

func TestAnswers(t *testing.T) {
	sweep := beepSweep()
	sweep.ID = 7
	in := func(m mapping.Mode) mapping.Sweep { s := sweep; s.Mode = m; return s }
	control := controlSweep()
	control.ID = 7
	type said struct {
		Outcome mapping.Outcome
		Value   float64
	}
	for _, c := range []struct {
		sweep mapping.Sweep
		text  string
		want  []said
	}{
		{in(mapping.Beep), `{"id":7,"readings":["open","closed"]}`, []said{{mapping.Silent, 0}, {mapping.Sounded, 0}}},
		{in(mapping.Beep), ` { "readings" : ["not sure","open"], "id" : 7 } `, []said{{mapping.NotSure, 0}, {mapping.Silent, 0}}},
		{in(mapping.Ohms), `{"id":7,"readings":[0.4,"OL"]}`, []said{{mapping.Value, 0.4}, {mapping.OverRange, 0}}},
		{in(mapping.Ohms), `{"id":7,"readings":[0,"not sure"]}`, []said{{mapping.Value, 0}, {mapping.NotSure, 0}}},
		{in(mapping.Diode), `{"id":7,"readings":["OL",6.2e-1]}`, []said{{mapping.OverRange, 0}, {mapping.Value, 0.62}}},
		{in(mapping.Diode), `{"id":7,"readings":[-0.01,"OL"]}`, []said{{mapping.Value, -0.01}, {mapping.OverRange, 0}}},
		{control, `{"id":7,"readings":["closed"]}`, []said{{mapping.Sounded, 0}}},
	} {
		got, err := decodeAnswer([]byte(c.text), c.sweep)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		var heard []said
		for i, r := range got {
			heard = append(heard, said{r.Outcome, r.Value})
			if r.Sweep != 7 || r.Step != i || r.Control != c.sweep.Control {
				t.Errorf("%s: reading %d is filed as %+v", c.text, i, r)
			}
			if !c.sweep.Control && !cmp.Equal(r.Setting, c.sweep.Steps[i]) {
				t.Errorf("%s: reading %d is in setting %v", c.text, i, r.Setting)
			}
		}
		if d := cmp.Diff(c.want, heard); d != "" {
			t.Errorf("%s: %s", c.text, d)
		}
	}
}

func TestMalformedAnswers(t *testing.T) {
	beep, ohms, diode, control := beepSweep(), beepSweep(), beepSweep(), controlSweep()
	ohms.Mode, diode.Mode = mapping.Ohms, mapping.Diode
	for _, c := range []struct {
		sweep mapping.Sweep
		text  string
		says  string // part of the sentence
	}{
		{beep, ``, "no JSON object"},
		{beep, `beep`, "no JSON object"},
		{beep, `["open","closed"]`, "no JSON object"},
		{beep, `null`, "no JSON object"},
		{beep, `{"id":7`, "broken off"},
		{beep, `{"id":7,`, "broken"},
		{beep, `{"id":7,"readings":["open","closed"]`, "broken off"},
		{beep, `{"id":7,"readings":["open",}`, `broken JSON at "readings"`},
		{beep, `{"id":7,"readings":["open","closed"]} {}`, "after its end"},
		{beep, `{"id":7,"readings":["open","closed"]}x`, "after its end"},
		{beep, `{"readings":["open","closed"]}`, `no "id"`},
		{beep, `{"id":7}`, `no "readings"`},
		{beep, `{"ID":7,"readings":["open","closed"]}`, `unknown key "ID"`},
		{beep, `{"id":7,"id":7,"readings":["open","closed"]}`, `says "id" twice`},
		{beep, `{"id":"7","readings":["open","closed"]}`, "no whole number"},
		{beep, `{"id":7.5,"readings":["open","closed"]}`, "no whole number"},
		{beep, `{"id":-7,"readings":["open","closed"]}`, "no whole number"},
		{beep, `{"id":6,"readings":["open","closed"]}`, "ask 7 is open"},
		{beep, `{"id":7,"readings":["open"]}`, "1 readings for 2 steps"},
		{beep, `{"id":7,"readings":["open","open","open"]}`, "3 readings for 2 steps"},
		{beep, `{"id":7,"readings":null}`, "no list"},
		{beep, `{"id":7,"readings":"open"}`, "no list"},
		{beep, `{"id":7,"readings":["open","shut"]}`, `reading 2 of the answer to ask 7 is "shut"`},
		{beep, `{"id":7,"readings":["open","Closed"]}`, `"Closed"`},
		{beep, `{"id":7,"readings":["open",0.4]}`, "is 0.4"},
		{beep, `{"id":7,"readings":["OL","open"]}`, `"OL"`},
		{beep, `{"id":7,"readings":["open",null]}`, "is null"},
		{beep, `{"id":7,"readings":["open",true]}`, "is true"},
		{ohms, `{"id":7,"readings":["open",1]}`, "in mode ohms"},
		{ohms, `{"id":7,"readings":[-1,1]}`, "no meter shows"},
		{ohms, `{"id":7,"readings":[1e999,1]}`, "1e999"},
		{ohms, `{"id":7,"readings":[null,1]}`, "is null"},
		{diode, `{"id":7,"readings":["closed",0.5]}`, "in mode diode"},
		{diode, `{"id":7,"readings":[0.6,12.4]}`, "is 12.4, which means that the pod is live"},
		{control, `{"id":7,"readings":["closed","closed"]}`, "2 readings for 1 steps"},
		{control, `{"id":7,"readings":[0.2]}`, "in mode beep"},
	} {
		c.sweep.ID = 7
		_, err := decodeAnswer([]byte(c.text), c.sweep)
		var m *Malformed
		if !errors.As(err, &m) {
			t.Errorf("%s: got %v, want it refused", c.text, err)
			continue
		}
		if !strings.Contains(m.Say, c.says) || strings.Contains(m.Say, "\n") {
			t.Errorf("%s: says %q, want one line with %q", c.text, m.Say, c.says)
		}
	}
}

func FuzzAnswer(f *testing.F) {
	for _, s := range []string{`{"id":7,"readings":["open","closed"]}`, `{"id":7,"readings":[0.4,"OL"]}`, `{`, `{"id":7,"readings":[`} {
		f.Add([]byte(s), 0)
		f.Add([]byte(s), 1)
	}
	f.Fuzz(func(t *testing.T, text []byte, mode int) {
		s := beepSweep()
		s.ID, s.Mode = 7, mapping.Mode(uint(mode)%3)
		got, err := decodeAnswer(text, s)
		if err != nil {
			var m *Malformed
			if !errors.As(err, &m) || got != nil {
				t.Fatalf("refused with %v and readings %v", err, got)
			}
			return
		}
		if len(got) != len(s.Steps) {
			t.Fatalf("took %d readings for %d steps", len(got), len(s.Steps))
		}
		for _, r := range got {
			if r.Outcome == mapping.NoOutcome {
				t.Fatal("took a reading that says nothing")
			}
		}
	})
}
