package tui

import (
	"fmt"
	"strconv"

	"bellout/mapping"
)

// notLive refuses a line with a voltage that comes from elsewhere than the meter.
func (l line) notLive() error {
	all := make([]said, 0, len(l.steps)+1)
	for _, v := range l.steps {
		all = append(all, v)
	}
	if r := l.turn; r != nil {
		all = append(all, said{outcome: r.Outcome, mode: r.Mode, value: r.Value})
	}
	for _, v := range all {
		if v.outcome == mapping.Value && v.mode == mapping.Diode && v.value > mapping.MostDiodeVolts {
			return fmt.Errorf("%s V means that the pod is live: take its plug off or battery minus off, then read again",
				strconv.FormatFloat(v.value, 'g', -1, 64))
		}
	}
	return nil
}
