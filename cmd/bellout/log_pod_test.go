package main

import (
	"testing"

	"bellout/mapping"
)

// The log says of a pod that is described again what is different.
func TestLogSaysWhatChangedInThePod(t *testing.T) {
	pod := func(change func(*mapping.Pod)) mapping.Entry {
		p := mapping.Pod{Name: "left", Ends: []mapping.End{{ID: "1", Base: "BU"}, {ID: "2"}},
			Switches: []mapping.Switch{{Name: "dip", Positions: []mapping.PositionID{"low", "main"}, Rest: "low"}}}
		if change != nil {
			change(&p)
		}
		return mapping.Entry{Pod: "left", Describe: &p}
	}
	entries := []mapping.Entry{
		pod(nil),
		pod(func(p *mapping.Pod) { p.Switches[0].Positions = []mapping.PositionID{"low", "half", "main"} }),
		pod(nil),
		pod(func(p *mapping.Pod) {
			p.Ends = append(p.Ends, mapping.End{ID: "3", Base: "GY", Tracer: "RD"}, mapping.End{ID: "BODY", Kind: mapping.Body})
			p.Ends[1].Base, p.Ends[1].Cavity = "BN", "A4"
		}),
		pod(nil),
		pod(nil),
	}
	want := []string{
		"2 ends, 1 switch described",
		"switch dip has the positions low half main",
		"switch dip has the positions low main",
		"colour of end 2: BN; cavity of end 2: A4; end 3 added GY/RD; end BODY added metal",
		"colour of end 2: not said any more; cavity of end 2: not said any more; end 3 taken out; end BODY taken out",
		"described once more, nothing changed",
	}
	for i, l := range logLines(&mapping.Job{}, entries, "", false) {
		if l.Kind != "pod" || l.Say != want[i] {
			t.Errorf("entry %d: %s %q, want %q", i, l.Kind, l.Say, want[i])
		}
	}
}
