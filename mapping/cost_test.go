package mapping

import (
	"math"
	"testing"
)

func near(a, b float64) bool { return math.Abs(a-b) < 1e-9 }

// Each case is summed by hand from the prices of cost.go.
func TestClipSeconds(t *testing.T) {
	type ids = []EndID
	for _, c := range []struct {
		leads                        Leads
		haveRed, haveBlack, red, blk ids
		want                         float64
		why                          string
	}{
		{PairLeads, ids{"1"}, ids{"2"}, ids{"1"}, ids{"2"}, 0, "nothing moves"},
		{PairLeads, ids{"1"}, ids{"2"}, ids{"3"}, ids{"2"}, 3, "needle"},
		{PairLeads, ids{"1"}, ids{"2"}, ids{"1"}, ids{"3"}, 6, "clip"},
		{PairLeads, nil, nil, ids{"1"}, ids{"2"}, 9, "both"},
		{BunchLeads, ids{"1"}, ids{"2"}, ids{"1"}, ids{"2"}, 0, "nothing moves"},
		{BunchLeads, ids{"1"}, ids{"2"}, ids{"3"}, ids{"2"}, 6, "a single end changed"},
		{BunchLeads, nil, ids{"2"}, ids{"1"}, ids{"2"}, 6, "a free clip"},
		{BunchLeads, ids{"1"}, ids{"2"}, ids{"1"}, ids{"2", "3", "4"}, 10, "two added"},
		{BunchLeads, ids{"1"}, ids{"2", "3", "4"}, ids{"1"}, ids{"3"}, 8, "two taken out"},
		{BunchLeads, ids{"1"}, ids{"2", "3"}, ids{"1"}, ids{"2", "4"}, 9, "one out, one in"},
		{BunchLeads, ids{"1"}, nil, ids{"1"}, ids{"2", "3"}, 11, "a bunch from nothing"},
		{BunchLeads, ids{"1"}, ids{"2", "3"}, ids{"1"}, ids{"4"}, 10, "one out, the last one changed"},
		{BunchLeads, ids{"1"}, ids{"2", "3"}, ids{"1"}, ids{"3", "2"}, 0, "order does not matter"},
	} {
		b := Bench{Leads: c.leads, Red: c.haveRed, Black: c.haveBlack}
		if got := ClipSeconds(b, c.red, c.blk); !near(got, c.want) {
			t.Errorf("%s, %s: %g s, want %g", c.leads, c.why, got, c.want)
		}
	}
}

func TestLeverSeconds(t *testing.T) {
	p := samplePod()
	rest := p.Rest()
	for _, c := range []struct {
		leads    Leads
		from, to Setting
		want     float64
		why      string
	}{
		{BunchLeads, rest, rest, 0, "nothing moves"},
		{BunchLeads, rest, rest.With("dip", "main"), 2, "one step"},
		{BunchLeads, rest.With("turn", "left"), rest.With("turn", "right"), 4, "two steps"},
		{BunchLeads, rest, rest.With("horn", "in"), 3, "held, both clipped"},
		{PairLeads, rest, rest.With("horn", "in"), 5, "held, needle in hand"},
		{BunchLeads, rest.With("horn", "in"), rest.With("horn", "in"), 3, "held again"},
		{BunchLeads, rest.With("horn", "in"), rest, 0, "let go"},
		{BunchLeads, nil, rest.With("dip", "main"), 0, "nobody knows where the levers were"},
		{PairLeads, nil, rest.With("horn", "in"), 5, "a held button costs all the same"},
	} {
		if got := LeverSeconds(p, c.leads, c.from, c.to); !near(got, c.want) {
			t.Errorf("%s: %g s, want %g", c.why, got, c.want)
		}
	}
}

func TestSweepSecondsAndAfter(t *testing.T) {
	p := samplePod()
	rest := p.Rest()
	b := Bench{Leads: BunchLeads, Levers: rest}
	s := Sweep{Red: []EndID{"1"}, Black: []EndID{"2"}, Steps: []Setting{rest, rest.With("dip", "main"), rest.With("horn", "in")}}
	// 2 instruction + 6 + 6 clips; readings 3 x 1.2; dip there and back 2 + 2; horn held 3.
	if got := SweepSeconds(p, b, s); !near(got, 2+12+3.6+4+3) {
		t.Errorf("the sweep takes %g s, want 24.6", got)
	}
	if got := SweepSeconds(p, b, Sweep{Control: true, Red: []EndID{"1"}, Black: []EndID{"1"}}); !near(got, 3.2) {
		t.Errorf("a control beep takes %g s, want 3.2", got)
	}
	after := b.After(p, s)
	if after.Levers["horn"] != "out" || after.Levers["dip"] != "low" || after.Red[0] != "1" || after.Black[0] != "2" {
		t.Errorf("the bench is left as %+v", after)
	}
	if s.Steps[2]["horn"] != "in" {
		t.Error("letting the button go changed the sweep that was asked")
	}
	if got := after.After(p, Sweep{Control: true, Red: []EndID{"3"}, Black: []EndID{"3"}}); got.Red[0] != "1" {
		t.Error("a control beep moved a clip")
	}
}

func TestGrid(t *testing.T) {
	p := samplePod()
	sweeps := GridSweeps(p)
	if len(sweeps) != 6 { // 4 ends: 6 pairs
		t.Fatalf("%d pairs, want 6", len(sweeps))
	}
	for _, s := range sweeps {
		if len(s.Steps) != 5 { // rest, main, left, right, horn
			t.Fatalf("%d settings for %v-%v, want 5", len(s.Steps), s.Black, s.Red)
		}
	}
	// Each pair: 2 instruction + 5 x 1.2 + dip 2, dip back with turn left 4,
	// turn right 4, turn off 2 with the horn held 5 = 25; nothing is left to put
	// back. Needle 5 x 3 (it stays at the last end for the last pair) and clip
	// 3 x 6 (black at 1, 2, 3).
	if got := GridSeconds(p); !near(got, 6*25+5*3+3*6) {
		t.Errorf("the grid takes %g s, want 183", got)
	}
	if PairLeads.MostHeld() != 1 || BunchLeads.MostHeld() != 2 {
		t.Error("a builder has another number of hands")
	}
	if PairLeads.String() != "pair" || BunchLeads.String() != "bunch" {
		t.Error("the leads have other words than the command line")
	}
}
