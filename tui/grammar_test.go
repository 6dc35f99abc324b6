package tui

import (
	"fmt"
	"strings"
	"testing"

	"bellout/mapping"
)

// What can be typed at the bench, and what each of it means.
func TestParseLine(t *testing.T) {
	pod := examplePod()
	for _, c := range []struct {
		why, text string
		mode      mapping.Mode
		cursor    int
		want      string // answers of a sweep of 7 steps, or the reading; "!" and a word of the refusal
	}{
		{"the steps that beeped", "3 7", mapping.Beep, 0, "silent silent beep silent silent silent beep"},
		{"commas do as well", "3,7", mapping.Beep, 0, "silent silent beep silent silent silent beep"},
		{"none", "0", mapping.Beep, 0, "silent silent silent silent silent silent silent"},
		{"none, by a dash", "-", mapping.Beep, 5, "silent silent"},
		{"only what is left", "7", mapping.Beep, 4, "silent silent beep"},
		{"marks for the odd ones", "3 5~ 6? 7x", mapping.Beep, 0, "silent silent beep silent flicker not sure cannot reach"},
		{"ohms as the meter shows them", "0.4", mapping.Beep, 2, "0.4 ohm"},
		{"over range", "OL", mapping.Beep, 0, "OL"},
		{"a whole number with its unit", "38r", mapping.Beep, 0, "38 ohm"},
		{"kilo", "4.7k", mapping.Beep, 0, "4.7 kohm"},
		{"megohm, of a probe held in the hand", "2M", mapping.Beep, 0, "2 Mohm"},
		{"a small m may be either", "2m", mapping.Beep, 0, "!may be megohm or milliohm"},
		{"a small m while on ohms", "0.4 2m", mapping.Ohms, 0, "!type 2M, or 0.002"},
		{"a small m out of turn", "3 1 dip=main 2m", mapping.Beep, 0, "!may be megohm or milliohm"},
		{"no value on ohms", "0.4 what", mapping.Ohms, 0, "!nothing that a meter shows"},
		{"volts", "0.62V", mapping.Beep, 0, "0.62 V"},
		{"on ohms every number is a value", "38", mapping.Ohms, 0, "38 ohm"},
		{"on ohms one value a step", "0.4 OL 38", mapping.Ohms, 3, "0.4 ohm OL 38 ohm"},
		{"on diode volts", "0.55 OL", mapping.Diode, 0, "0.55 V OL"},
		{"out of turn", "3 1 dip=main beep", mapping.Beep, 0, "red 3, black 1, dip main: beep"},
		{"out of turn, levers as believed", "3 1 silent", mapping.Beep, 0, "red 3, black 1, all at rest: silent"},
		{"out of turn with a bunch", "1+2 3 horn=in silent", mapping.Beep, 0, "red 1+2, black 3, horn in: silent"},
		{"out of turn with a value", "3 1 0.4", mapping.Beep, 0, "red 3, black 1, all at rest: 0.4 ohm"},
		{"out of turn while on ohms", "3 1 dip=main 38", mapping.Ohms, 0, "red 3, black 1, dip main: 38 ohm"},
		{"capitals", "3 1 DIP=Main BEEP", mapping.Beep, 0, "red 3, black 1, dip main: beep"},
		{"a control beep", "1 1 silent", mapping.Beep, 0, "control beep on 1: silent"},
		{"a step that is not there", "9", mapping.Beep, 0, "!steps 1 to 7"},
		{"two figures run together", "37", mapping.Beep, 0, "!steps 1 to 7"},
		{"a step answered already", "2", mapping.Beep, 3, "!undo first"},
		{"nonsense", "4 what", mapping.Beep, 0, "!neither a step"},
		{"an end that is not there", "3 9 beep", mapping.Beep, 0, "!no end"},
		{"a position that is not there", "3 1 dip=up beep", mapping.Beep, 0, "!no position"},
		{"a switch that is not there", "3 1 kill=run beep", mapping.Beep, 0, "!no switch"},
		{"one side only", "3 dip=main beep", mapping.Beep, 0, "!two sides"},
		{"an end on both leads", "1+3 1+2 beep", mapping.Beep, 0, "!both leads"},
		{"no answer", "3 1 dip=main", mapping.Beep, 0, "!what the meter said"},
		{"more values than steps", "1 2 3 4 5 6 7 8", mapping.Ohms, 0, "!one value a step"},
		{"nothing", "  ", mapping.Beep, 0, "!nothing typed"},
	} {
		got := ""
		l, err := parseLine(c.text, pod, c.mode, 7, c.cursor, pod.Rest())
		switch {
		case err != nil:
			got = "!" + err.Error()
		case l.turn != nil:
			got = l.turn.Words(pod)
		default:
			var parts []string
			for _, v := range inOrder(l.steps, c.cursor) {
				parts = append(parts, v.words())
			}
			got = strings.Join(parts, " ")
		}
		if strings.HasPrefix(c.want, "!") {
			if err == nil || !strings.Contains(got, c.want[1:]) {
				t.Errorf("%s: %q gave %q, want a refusal with %q", c.why, c.text, got, c.want[1:])
			}
			continue
		}
		if got != c.want {
			t.Errorf("%s: %q gave %q, want %q", c.why, c.text, got, c.want)
		}
	}
}

func TestParseSwitches(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"dip low* main", "dip low* main"},
		{"dip low main", "dip low* main"},
		{"horn out* in!", "horn out* in!"},
		{"horn! out in", "!without marks"},
		{"turn", "turn left off* right"},
		{"dip low* main (HI LO)", "dip low* main (HI LO)"},
		{"lights off* park on", "lights off* park on"},
		{"gate", "!needs its positions"},
		{"gate open", "!name at least two"},
		{"gate open* shut*", "!star one only"},
		{"gate open open", "!two positions"},
		{"", "!no switch named"},
	} {
		sws, err := parseSwitches(c.text)
		got := ""
		if err != nil {
			got = "!" + err.Error()
		} else {
			got = switchLine(sws[0])
		}
		if strings.HasPrefix(c.want, "!") && err != nil && strings.Contains(got, c.want[1:]) {
			continue
		}
		if got != c.want {
			t.Errorf("%q gave %q, want %q", c.text, got, c.want)
		}
	}
	sws, err := parseSwitches("dip, turn, horn")
	if err != nil || len(sws) != 3 || !sws[2].Momentary || sws[1].Rest != "off" {
		t.Errorf("three usual ones: %v %v", sws, err)
	}
	sws, err = parseSwitches("turn Horn dip kill, beam off* on")
	if err != nil || len(sws) != 5 || !sws[1].Momentary || sws[3].Rest != "off" || sws[4].Name != "beam" {
		t.Errorf("four usual ones on one line, and another: %v %v", sws, err)
	}
	if sws, err = parseSwitches("turn left right"); err != nil || len(sws) != 1 {
		t.Errorf("one switch with its positions: %v %v", sws, err)
	}
	if _, err = parseSwitches("beam dip horn"); err == nil || !strings.Contains(err.Error(), "beam needs its positions") {
		t.Errorf("a name without positions among usual ones: %v", err)
	}
	for name, text := range usualSwitches {
		sw, err := parseSwitch(text)
		if err != nil || string(sw.Name) != name {
			t.Errorf("the usual %s: %v", name, err)
		}
		if back, err := parseSwitch(switchLine(sw)); err != nil || switchLine(back) != switchLine(sw) {
			t.Errorf("%s does not read back", text)
		}
	}
}

func TestParseCount(t *testing.T) {
	for _, c := range []struct {
		text string
		n    int
		want string
	}{
		{"8", 8, ""}, {"bu, bu/wh gy", 3, "BU/WH"}, {"BU BUWH", 2, "BU/WH"}, {"eight", 0, ""}, {"0", 0, ""}, {"48", 0, ""}, {"-3", 0, ""}, {"", 0, ""},
	} {
		ends, err := parseCount(c.text)
		if len(ends) != c.n || (err == nil) != (c.n > 0) {
			t.Errorf("%q: %d ends, %v", c.text, len(ends), err)
		}
		if c.want != "" && err == nil && ends[1].Colours() != c.want {
			t.Errorf("%q: the second is %s", c.text, ends[1].Colours())
		}
	}
}

// A change of the pod only ever adds or names.
// TestAmendKeepsToTheMost: a change may not take a pod over what the engine holds.
func TestAmendKeepsToTheMost(t *testing.T) {
	pod := examplePod()
	pod.Switches = nil
	for i := range 8 {
		sw := mapping.Switch{Name: mapping.SwitchID(fmt.Sprint("s", i)), Rest: "a"}
		for q := range 8 - i/7 {
			sw.Positions = append(sw.Positions, mapping.PositionID(rune('a'+q)))
		}
		pod.Switches = append(pod.Switches, sw)
	}
	full, _, err := amend(pod, "position s7 last")
	if err != nil {
		t.Fatal(err)
	}
	if p, _, err := amend(full, "switch more out* in"); err == nil || !strings.Contains(err.Error(), "66 positions in all: split it") || len(p.Switches) != 8 {
		t.Errorf("%v, %d switches", err, len(p.Switches))
	}
}

func TestAmend(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"end 9 rd/bk", "added end 9"},
		{"end 1", "!there is an end 1 already"},
		{"end", "!which end"},
		{"end a+b", "!cannot have +"},
		{"body", "metal body"},
		{"switch flash out* in!", "added flash out* in!"},
		{"switch dip low* main", "!there is a switch dip already"},
		{"position dip half after low", "dip low* half main"},
		{"position dip half", "dip low* main half"},
		{"position dip low", "!dip has a position low already"},
		{"position dip half after up", "!no position"},
		{"colour 3 blue white", "end 3 is blue, white tracer"},
		{"colour 3 GNYE", "protective earth"},
		{"colour 3 pinkish-mud", "!"},
		{"cavity 3 A4", "end 3 is cavity A4. A4 is wire 5's as well: two wires in one cavity, or a slip?"},
		{"cavity 5 A4", "end 5 is cavity A4"},
		{"switch turn horn", "!there is a switch horn already"},
		{"switch turn kill", "added turn left off* right, kill off* run; readings so far count as taken with turn off, kill off"},
		{"legend dip HI LO", "dip shows HI LO"},
		{"rename 3 4", "!is no change"},
	} {
		pod := examplePod()
		p, say, err := amend(pod, c.text)
		if want, refused := strings.CutPrefix(c.want, "!"); refused {
			if err == nil || !strings.Contains(err.Error(), want) {
				t.Errorf("%q: %q %v, want a refusal with %q", c.text, say, err, want)
			}
			continue
		}
		if err != nil || !strings.Contains(say, c.want) {
			t.Errorf("%q: %q %v, want %q", c.text, say, err, c.want)
		}
		if len(p.Ends) < len(pod.Ends) || len(p.Switches) < len(pod.Switches) {
			t.Errorf("%q took something away", c.text)
		}
		if pod.Switches[0].Index("half") >= 0 || pod.Switches[0].Legend != "" || pod.Ends[2].Cavity != "" {
			t.Errorf("%q changed the pod that it was given", c.text)
		}
	}
}

// Nothing that is typed makes the grammar panic, and a refusal is one sentence.
func FuzzParseLine(f *testing.F) {
	for _, s := range []string{"3 7", "0.4", "OL", "3 7 dip=main beep", "1+2 3 =", "~", "=beep", "\x1b[31m", "9999999999999999999", "1+1 2 b", ". . ."} {
		f.Add(s, 0)
	}
	pod := examplePod()
	f.Fuzz(func(t *testing.T, text string, mode int) {
		l, err := parseLine(text, pod, mapping.Mode(((mode%3)+3)%3), 7, 2, nil)
		if err != nil {
			if strings.ContainsAny(err.Error(), "\n\x1b") {
				t.Errorf("a refusal with a line break or an escape: %q", err)
			}
			return
		}
		if l.turn == nil && len(inOrder(l.steps, 2)) == 0 {
			t.Errorf("%q was taken and says nothing", text)
		}
	})
}

// Flags that differ in their capitals only are two flags: what is typed to the
// letter is meant, and what could be either is asked for.
func TestCapitalsTellFlagsApart(t *testing.T) {
	pod := mapping.Pod{Name: "left", Ends: []mapping.End{{ID: "A"}, {ID: "a"}, {ID: "3"}, {ID: "CD"}, {ID: "cd"}},
		Switches: []mapping.Switch{
			{Name: "Dip", Positions: []mapping.PositionID{"low", "main"}, Rest: "low"},
			{Name: "dip", Positions: []mapping.PositionID{"ON", "on", "off"}, Rest: "off"},
		}}
	for text, want := range map[string]string{
		"a 3 beep":         "red a, black 3, all at rest: beep",
		"A 3 beep":         "red A, black 3, all at rest: beep",
		"A a beep":         "red A, black a, all at rest: beep",
		"a 3 dip=on beep":  "red a, black 3, dip on: beep",
		"a 3 dip=OFF beep": "red a, black 3, all at rest: beep",
		"Cd 3 beep":        `there is no end "Cd" here: this pod has A a 3 CD cd`,
		"a 3 DIP=on beep":  `there is no switch "DIP" here: this pod has Dip dip`,
		"a 3 dip=On beep":  `dip has no position "On": it has ON on off`,
	} {
		l, err := parseLine(text, pod, mapping.Beep, 0, 0, pod.Rest())
		got := ""
		if err != nil {
			got = err.Error()
		} else {
			got = l.turn.Words(pod)
		}
		if got != want {
			t.Errorf("%q gave %q, want %q", text, got, want)
		}
	}
}
