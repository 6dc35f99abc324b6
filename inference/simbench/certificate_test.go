package simbench

import (
	"strings"
	"testing"

	"bellout/mapping"
)

// certified plays every pair of the test pod in every setting, so many times
// over, controls between, and gives the true map with all links graded proved.
func certified(t *testing.T, w *World, rounds int) ([]mapping.Reading, mapping.Map) {
	t.Helper()
	p := &Person{World: w, Leads: mapping.BunchLeads}
	var steps []mapping.Setting
	for _, lever := range w.Settings() {
		steps = append(steps, w.Setting(lever))
	}
	var out []mapping.Reading
	for range rounds {
		for i, a := range w.Pod.Ends {
			for _, b := range w.Pod.Ends[:i] {
				for _, s := range []mapping.Sweep{
					{Red: ends(a.ID), Black: ends(b.ID), Steps: steps},
					{Control: true, Red: ends(a.ID), Black: ends(a.ID)},
				} {
					rs, err := p.Answer(s)
					if err != nil {
						t.Fatal(err)
					}
					out = append(out, rs...)
				}
			}
		}
	}
	m := mapping.Map{Links: []mapping.Link{
		{A: "1", B: "2", Grade: mapping.Proved},
		{A: "1", B: "3", When: []mapping.Condition{{{Switch: "dip", Positions: []mapping.PositionID{"main"}}}}, Grade: mapping.Proved},
		{A: "1", B: "4", When: []mapping.Condition{{{Switch: "horn", Positions: []mapping.PositionID{"in"}}}}, Grade: mapping.Proved},
	}}
	return out, m
}

// TestCheckPassesWhatIsProved: with every cell read three times over the true
// map's links and open pairs stand.
func TestCheckPassesWhatIsProved(t *testing.T) {
	w := testWorld(t)
	readings, m := certified(t, w, 3)
	claims := []Claim{
		{at("low", "out"), "1", "2", true}, {at("low", "out"), "1", "3", false},
		{at("main", "in"), "3", "4", true}, {at("mid", "in"), "3", "4", false},
	}
	if errs := Check(w.Pod, readings, m, claims...); len(errs) > 0 {
		t.Errorf("a map read three times over was refused: %v", errs)
	}
}

// TestCheckRefusesWhatIsNot: each way of claiming too much is found.
func TestCheckRefusesWhatIsNot(t *testing.T) {
	w := testWorld(t)
	all, m := certified(t, w, 3)
	wrong := func(change func(*mapping.Map)) mapping.Map {
		c := mapping.Map{}
		c.Links = append(c.Links, m.Links...)
		change(&c)
		return c
	}
	without := func(pair string) []mapping.Reading {
		var out []mapping.Reading
		for _, r := range all {
			if r.Control || !(strings.Contains(pair, string(r.Red[0])) && strings.Contains(pair, string(r.Black[0]))) {
				out = append(out, r)
			}
		}
		return out
	}
	cases := []struct {
		name     string
		readings []mapping.Reading
		m        mapping.Map
		claims   []Claim
	}{
		{"no reading at all", nil, m, nil},
		{"link in a position too many", all, wrong(func(c *mapping.Map) {
			c.Links[1].When = []mapping.Condition{{{Switch: "dip", Positions: []mapping.PositionID{"mid", "main"}}}}
		}), nil},
		{"link without its condition", all, wrong(func(c *mapping.Map) { c.Links[2].When = nil }), nil},
		{"link to another end", all, wrong(func(c *mapping.Map) { c.Links[0].B = "4" }), nil},
		{"open pair never read", without("34 24 14 4"), m, []Claim{{at("low", "out"), "3", "4", false}}},
		{"open pair that the map joins", all, m, []Claim{{at("low", "out"), "1", "2", false}}},
		{"joined pair that the map opens", all, m, []Claim{{at("low", "out"), "1", "3", true}}},
		{"end that the pod has not", all, wrong(func(c *mapping.Map) { c.Links[0].B = "9" }), nil},
		{"position that the switch has not", all, wrong(func(c *mapping.Map) {
			c.Links[1].When = []mapping.Condition{{{Switch: "dip", Positions: []mapping.PositionID{"up"}}}}
		}), nil},
	}
	for _, c := range cases {
		if errs := Check(w.Pod, c.readings, c.m, c.claims...); len(errs) == 0 {
			t.Errorf("%s: passed", c.name)
		}
	}
}
