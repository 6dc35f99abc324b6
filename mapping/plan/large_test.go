package plan

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"bellout/mapping"
)

// A left pod in which six more switches have a say in every contact: 64 times
// as many settings in each part of the harness.
func TestManySettingsAreQuick(t *testing.T) {
	p := fresh(heron(t))
	left := &p.Pods[0]
	left.Desc.Switches = slices.Clone(left.Desc.Switches)
	var also mapping.Condition
	for i := range 6 {
		name := mapping.SwitchID(fmt.Sprint("more", i))
		left.Desc.Switches = append(left.Desc.Switches, mapping.Switch{Name: name, Positions: []mapping.PositionID{"a", "b"}, Rest: "a"})
		also = append(also, mapping.Term{Switch: name, Positions: []mapping.PositionID{"a"}})
	}
	for i, l := range left.Map.Links {
		var when []mapping.Condition
		for _, c := range l.When {
			when = append(when, append(slices.Clone(c), also...))
		}
		left.Map.Links[i].When = when
	}
	settings := 0
	n := compile(&p, nil)
	for _, g := range n.groups() {
		settings += n.count(g)
	}
	start := time.Now()
	fs := prove(n)
	took := time.Since(start)
	t.Logf("%d settings in %v, %d findings", settings, took, len(fs))
	if settings < 5000 || took > 5*time.Second {
		t.Errorf("%d settings took %v", settings, took)
	}
	for _, f := range fs { // the six hold lamps back where they are meant to work: that is all
		if f.Kind != NotAsMeant {
			t.Errorf("%+v", f)
		}
	}
	start = time.Now()
	Check(p)
	t.Logf("a whole check takes %v", time.Since(start))
}

// A part with more settings than can be tried is said to be so, not passed
// over.
func TestTooManySettings(t *testing.T) {
	p := fresh(heron(t))
	left := &p.Pods[0]
	left.Desc.Switches = slices.Clone(left.Desc.Switches)
	var also mapping.Condition
	for i := range 14 {
		name := mapping.SwitchID(fmt.Sprint("more", i))
		left.Desc.Switches = append(left.Desc.Switches, mapping.Switch{Name: name, Positions: []mapping.PositionID{"a", "b", "c"}, Rest: "a"})
		also = append(also, mapping.Term{Switch: name, Positions: []mapping.PositionID{"a"}})
	}
	left.Map.Links[0].When = []mapping.Condition{also}
	fs := Check(p)
	if !slices.ContainsFunc(fs, func(f Finding) bool { return f.Kind == TooMany }) {
		t.Errorf("%v", briefly(fs))
	}
}
