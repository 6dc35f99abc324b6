package simbench

import (
	"math"
	"testing"

	"bellout/mapping"
)

// testWorld has a fixed bridge 1+2, a latching switch 1+3 and a button 1+4.
func testWorld(t *testing.T) *World {
	t.Helper()
	w, err := ReadPod(`pod T
wires 1 BU, 2 WH, 3 GY, 4 OG
fix 1+2
sw dip latching rest=low | low: | mid: | main: 1+3
sw horn momentary rest=out | out: | in: 1+4`)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

func at(dip, horn mapping.PositionID) mapping.Setting {
	return mapping.Setting{"dip": dip, "horn": horn}
}

func ends(ids ...mapping.EndID) []mapping.EndID { return ids }

// count plays the same sweep many times and gives the share of beeps at a step.
func count(t *testing.T, p *Person, s mapping.Sweep, plays, step int) float64 {
	t.Helper()
	beeps := 0
	for range plays {
		rs, err := p.Answer(s)
		if err != nil {
			t.Fatal(err)
		}
		if rs[step].Outcome == mapping.Sounded {
			beeps++
		}
	}
	return float64(beeps) / float64(plays)
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.Abs(got-want) > within {
		t.Errorf("%s: %.4f, want %.4f", what, got, want)
	}
}

// TestPersonErrsAsStated isolates each way of going wrong and counts it.
func TestPersonErrsAsStated(t *testing.T) {
	w := testWorld(t)
	const plays = 40000
	closed := mapping.Sweep{Red: ends("1"), Black: ends("2"), Steps: []mapping.Setting{at("low", "out")}}
	open := mapping.Sweep{Red: ends("3"), Black: ends("4"), Steps: []mapping.Setting{at("low", "out")}}
	horn := mapping.Sweep{Red: ends("1"), Black: ends("4"), Steps: []mapping.Setting{at("low", "in")}}
	dip := mapping.Sweep{Red: ends("1"), Black: ends("3"), Steps: []mapping.Setting{at("low", "out"), at("main", "out"), at("main", "out")}}
	d := DefaultRates()
	only := func(r Rates) *Person { return &Person{World: w, Fallible: true, Seed: 3, Rates: r} }
	near(t, "false silence", 1-count(t, only(Rates{FalseSilence: d.FalseSilence}), closed, plays, 0), 0.04, 0.004)
	near(t, "false beep", count(t, only(Rates{FalseBeep: d.FalseBeep}), open, plays, 0), 0.005, 0.0015)
	near(t, "half pressed", 1-count(t, only(Rates{HalfPressed: d.HalfPressed}), horn, plays, 0), 0.04, 0.004)
	near(t, "wrong key", 1-count(t, only(Rates{WrongKey: d.WrongKey, KeyUndone: d.KeyUndone}), closed, plays, 0), 0.0035, 0.0012)
	near(t, "wrong lever", 1-count(t, only(Rates{WrongLever: d.WrongLever}), dip, plays, 1), 0.02, 0.003)
	perfect := &Person{World: w, Seed: 3}
	near(t, "perfect", 1-count(t, perfect, closed, 2000, 0), 0, 0)
	if len(perfect.Mishaps) > 0 {
		t.Errorf("a perfect person had mishaps: %v", perfect.Mishaps)
	}
}

// TestSlipLastsUntilControl: every reading is silent after a slip, on whatever
// ends, until a control beep was silent; then the clip bites again.
func TestSlipLastsUntilControl(t *testing.T) {
	w := testWorld(t)
	p := &Person{World: w, Fallible: true, Seed: 1, Rates: Rates{ClipSlip: 1}}
	closed := mapping.Sweep{Red: ends("1"), Black: ends("2"), Steps: []mapping.Setting{at("low", "out")}}
	first, _ := p.Answer(closed)
	p.Rates.ClipSlip = 0
	moved, _ := p.Answer(mapping.Sweep{Red: ends("1"), Black: ends("4"), Steps: []mapping.Setting{at("low", "in")}})
	control, _ := p.Answer(mapping.Sweep{Control: true, Red: ends("1"), Black: ends("1")})
	again, _ := p.Answer(closed)
	got := []mapping.Outcome{first[0].Outcome, moved[0].Outcome, control[0].Outcome, again[0].Outcome}
	want := []mapping.Outcome{mapping.Silent, mapping.Silent, mapping.Silent, mapping.Sounded}
	for i := range want {
		if got[i] != want[i] {
			t.Fatalf("outcomes %v, want %v", got, want)
		}
	}
	if !control[0].Control {
		t.Error("the control beep is not marked as one")
	}
	// With MoveRemakes at 1 a move of the clips is enough.
	p = &Person{World: w, Fallible: true, Seed: 1, Rates: Rates{ClipSlip: 1, MoveRemakes: 1}}
	p.Answer(closed)
	p.Rates.ClipSlip = 0
	moved, _ = p.Answer(mapping.Sweep{Red: ends("1"), Black: ends("4"), Steps: []mapping.Setting{at("low", "in")}})
	if moved[0].Outcome != mapping.Sounded {
		t.Error("a clip that moving makes good stayed silent")
	}
}

// TestWrongLeverPersists: the lever stands wrong, and the reading is filed under
// the believed setting, until that lever is moved again.
func TestWrongLeverPersists(t *testing.T) {
	w := testWorld(t)
	p := &Person{World: w, Fallible: true, Seed: 1, Rates: Rates{WrongLever: 1}}
	sweep := func(steps ...mapping.Setting) []mapping.Reading {
		rs, err := p.Answer(mapping.Sweep{Red: ends("1"), Black: ends("3"), Steps: steps})
		if err != nil {
			t.Fatal(err)
		}
		return rs
	}
	r := sweep(at("main", "out"))
	p.Rates.WrongLever = 1e-12
	stay := sweep(at("main", "out"), at("main", "in"))
	if r[0].Outcome != mapping.Silent || stay[0].Outcome != mapping.Silent || stay[1].Outcome != mapping.Silent {
		t.Fatal("a lever set wrong came right by itself")
	}
	if r[0].Setting["dip"] != "main" {
		t.Errorf("filed under %v, believed main", r[0].Setting)
	}
	if back := sweep(at("mid", "out"), at("main", "out")); back[1].Outcome != mapping.Sounded {
		t.Error("a lever moved again stayed wrong")
	}
}

// TestDoableRefuses what nobody could do at the bench.
func TestDoableRefuses(t *testing.T) {
	w := testWorld(t)
	rest := []mapping.Setting{at("low", "out")}
	cases := map[string]mapping.Sweep{
		"two ends on a needle": {Red: ends("1", "2"), Black: ends("3"), Steps: rest},
		"end on both sides":    {Red: ends("1"), Black: ends("1"), Steps: rest},
		"unknown end":          {Red: ends("9"), Black: ends("1"), Steps: rest},
		"no step":              {Red: ends("1"), Black: ends("2")},
		"switch left out":      {Red: ends("1"), Black: ends("2"), Steps: []mapping.Setting{{"dip": "low"}}},
		"unknown position":     {Red: ends("1"), Black: ends("2"), Steps: []mapping.Setting{at("up", "out")}},
		"control on two ends":  {Control: true, Red: ends("1"), Black: ends("2")},
	}
	for name, s := range cases {
		if Doable(w.Pod, mapping.PairLeads, s) == nil {
			t.Errorf("%s: not refused", name)
		}
	}
	two, err := ReadPod("pod T\nwires 1 BU, 2 WH\nsw a momentary rest=o | o: | i: 1+2\nsw b momentary rest=o | o: | i: 1+2\nsw c momentary rest=o | o: | i: 1+2")
	if err != nil {
		t.Fatal(err)
	}
	held := mapping.Sweep{Red: ends("1"), Black: ends("2"), Steps: []mapping.Setting{{"a": "i", "b": "i", "c": "o"}}}
	if Doable(two.Pod, mapping.PairLeads, held) == nil {
		t.Error("two buttons held with a needle in hand: not refused")
	}
	if err := Doable(two.Pod, mapping.BunchLeads, held); err != nil {
		t.Errorf("two buttons held with both leads clipped: %v", err)
	}
	held.Steps[0]["c"] = "i"
	if Doable(two.Pod, mapping.BunchLeads, held) == nil {
		t.Error("three buttons held: not refused")
	}
}
