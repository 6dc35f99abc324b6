package inference

import (
	"fmt"
	"testing"

	"bellout/mapping"
)

// TestInterlockOfTwoButtonsOnALargePod: a pod with so many settings that only some are
// compared shows whether the kill switch has a say in what clutch and start do together:
// the two maps differ in no setting with fewer than three switches moved.
func TestInterlockOfTwoButtonsOnALargePod(t *testing.T) {
	pod := mapping.Pod{Name: "large", Switches: []mapping.Switch{
		{Name: "kill", Positions: []mapping.PositionID{"off", "run"}, Rest: "run"},
		{Name: "clutch", Positions: []mapping.PositionID{"released", "pulled"}, Rest: "released", Momentary: true},
		{Name: "start", Positions: []mapping.PositionID{"out", "in"}, Rest: "out", Momentary: true},
	}}
	for i := range 6 {
		pod.Ends = append(pod.Ends, mapping.End{ID: mapping.EndID(fmt.Sprint(i + 1))})
		pod.Switches = append(pod.Switches, mapping.Switch{
			Name: mapping.SwitchID(fmt.Sprintf("lever%d", i)), Positions: []mapping.PositionID{"low", "high"}, Rest: "low",
		})
	}
	p := newProblem(pod, nil)
	if len(p.telling) >= p.settingsCount() {
		t.Fatalf("all of %d settings are compared", len(p.telling))
	}
	pulled, in, run := uint64(0b10<<2), uint64(0b10<<4), uint64(0b10)
	both := throw(0, 1, 1, pulled).narrowed(2, in)
	free, killed := &hyp{atoms: []atom{both}}, &hyp{atoms: []atom{both.narrowed(0, run)}}
	if p.signature(free) == p.signature(killed) {
		t.Error("whether the starter works with the kill switch off makes no difference")
	}
	if held := p.handsToTell(free, killed); held != 2 {
		t.Errorf("told apart with %d buttons held, want 2", held)
	}
}
