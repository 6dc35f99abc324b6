package sheet

import (
	"strings"
	"testing"

	"bellout/mapping/plan"
)

// The box of what is healthy has the machine's own voltage in it, and what a diode takes.
func TestHealthyIsOfTheMachinesVoltage(t *testing.T) {
	in := heron(t)
	in.Plan.Volts = 6
	got := strings.Join(healthy(in), "\n") + careSeries(in)
	for _, want := range []string{"6.75 to 7.25 V", "to its plus: 0.25 V", "battery minus: 0.1 V", "6 V 21 W lamp", "3.5 A"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in %s", want, got)
		}
	}
	if strings.Contains(got, "diode") {
		t.Error(got)
	}
	in.Plan.Parts = append(in.Plan.Parts, plan.Part{Name: "D1", Kind: "diode"})
	if got := strings.Join(healthy(in), "\n"); !strings.Contains(got, "behind a diode 0.8 V more") {
		t.Error(got)
	}
}
