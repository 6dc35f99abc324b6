package inference

import (
	"math"
	"testing"

	"bellout/mapping"
)

// TestClaimOnOneStand: beeps of many settings may rest on one lever that was not where it
// was put. With each of them odd by itself the map without the claim is far beyond any
// rival; as one mishap it is not, and has its share of the doubt.
func TestClaimOnOneStand(t *testing.T) {
	pod := mapping.Pod{
		Name: "one stand",
		Ends: []mapping.End{{ID: "1"}, {ID: "2"}, {ID: "3"}},
		Switches: []mapping.Switch{
			{Name: "turn", Positions: []mapping.PositionID{"left", "off", "right"}, Rest: "off"},
			{Name: "lights", Positions: []mapping.PositionID{"off", "park", "on"}, Rest: "off"},
			{Name: "dip", Positions: []mapping.PositionID{"low", "main"}, Rest: "low"},
		},
	}
	var rs []mapping.Reading
	read := func(red, black mapping.EndID, s mapping.Setting, o mapping.Outcome) {
		rs = append(rs, takenAs(len(rs)+1, []mapping.EndID{red}, []mapping.EndID{black}, s, o))
	}
	for _, turn := range []mapping.PositionID{"right", "left", "off"} {
		for range 2 {
			for _, lights := range []mapping.PositionID{"off", "park", "on"} {
				for _, dip := range []mapping.PositionID{"low", "main"} {
					o := mapping.Sounded
					if turn == "left" {
						o = mapping.Silent
					}
					read("1", "2", mapping.Setting{"turn": turn, "lights": lights, "dip": dip}, o)
				}
			}
		}
	}
	for _, turn := range []mapping.PositionID{"right", "left", "off"} {
		for _, lights := range []mapping.PositionID{"off", "park", "on"} {
			for _, dip := range []mapping.PositionID{"low", "main"} {
				for _, red := range []mapping.EndID{"1", "2"} {
					read(red, "3", mapping.Setting{"turn": turn, "lights": lights, "dip": dip}, mapping.Silent)
				}
			}
		}
	}
	s := NewEngine(pod, rs).now()
	tried := 0
	for _, c := range s.claims() {
		h := c.cutFrom(s.best)
		s.p.tidy(h)
		delta := s.p.explain(h, s.raw, nil) + s.p.prior(h) - s.total
		if delta > bitsProved || s.p.signature(h) == s.p.signature(s.best) {
			continue
		}
		tried++
		if w := math.Exp2(-delta); s.doubtLeft() < w/(1+w)/2 {
			t.Errorf("a map without a claim is %.1f bits dearer, and the doubt is %.4f", delta, s.doubtLeft())
		}
		found := false
		for _, r := range s.rivals {
			found = found || s.p.signature(r.h) == s.p.signature(h)
		}
		if !found {
			t.Errorf("a map without a claim, %.1f bits dearer, is no rival", delta)
		}
	}
	if tried == 0 {
		t.Error("no claim rests on one stand of a lever")
	}
}
