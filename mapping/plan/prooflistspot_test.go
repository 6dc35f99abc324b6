package plan

import (
	"math"
	"slices"
	"strings"
	"testing"

	"bellout/mapping"
)

// With a hazard switch the busiest setting lights both sides; what is read cold is the side of
// the lever that is printed, and of it alone.
func TestColdOhmsAreOfThePrintedSetting(t *testing.T) {
	p := small(t, lamp("left", "L", "E1", 10)+lamp("right", "R", "E1", 10))
	p.Loads[0].Kind, p.Loads[1].Kind = "indicator 10 W", "indicator 10 W"
	pod := &p.Pods[0]
	pod.Desc.Switches = append(pod.Desc.Switches, mapping.Switch{Name: "hazard", Positions: []mapping.PositionID{"off", "on"}, Rest: "off"})
	for i := range pod.Map.Links {
		pod.Map.Links[i].When = append(slices.Clone(pod.Map.Links[i].When), mapping.Condition{{Switch: "hazard", Positions: []mapping.PositionID{"on"}}})
	}
	list := ProofList(p)
	for _, side := range []string{"left", "right"} {
		c := list[slices.IndexFunc(list, func(c ProofCheck) bool { return c.ID == "4-"+side })]
		cold := 12.0 * 12 / 10 * 0.09 // one lamp, by hand
		if want := cold*1.5 + 0.3; !strings.Contains(c.Set, "turn.t="+side) || strings.Contains(c.Set, "hazard=on") || math.Abs(c.Max-want) > 0.1 {
			t.Errorf("%+v, want up to %.2f ohm", c, want)
		}
	}
	for _, c := range list {
		if strings.HasPrefix(c.ID, "5-") && !strings.HasPrefix(c.Do, "Fuses, relays and loads out") {
			t.Errorf("%+v", c)
		}
	}
}
