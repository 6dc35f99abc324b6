package mapping

import (
	"strings"
	"testing"
)

func TestWhyIsOneLineForEveryReason(t *testing.T) {
	seen := map[string]Reason{}
	for reason := Survey; reason <= Asked; reason++ {
		got := Why{Reason: reason, Switches: []SwitchID{"turn", "horn"}}.Words()
		if got == "" || strings.Contains(got, "\n") {
			t.Errorf("reason %d says %q", reason, got)
		}
		if before, ok := seen[got]; ok {
			t.Errorf("reasons %d and %d both say %q", before, reason, got)
		}
		seen[got] = reason
	}
	got := Why{Reason: Partner, Switches: []SwitchID{"turn", "horn"}}.Words()
	if want := "a switch that does nothing alone may have a partner (turn and horn)"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
