package inference

import (
	"cmp"
	"slices"

	"bellout/mapping"
)

// compareReadings orders readings as they were taken, and those of equal
// standing by what they say, so that no result depends on the slice's order.
func compareReadings(a, b mapping.Reading) int {
	return cmp.Or(
		cmp.Compare(a.ID, b.ID), cmp.Compare(a.Session, b.Session),
		cmp.Compare(a.Sweep, b.Sweep), cmp.Compare(a.Step, b.Step),
		slices.Compare(a.Red, b.Red), slices.Compare(a.Black, b.Black),
		cmp.Compare(settingKey(a.Setting), settingKey(b.Setting)),
		cmp.Compare(a.Outcome, b.Outcome), cmp.Compare(a.Mode, b.Mode), cmp.Compare(a.Value, b.Value),
		compareBools(a.Control, b.Control),
	)
}

func compareBools(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

func settingKey(s mapping.Setting) string {
	var parts []string
	for k, v := range s {
		parts = append(parts, string(k)+"\x00"+string(v)+"\x01")
	}
	slices.Sort(parts)
	out := ""
	for _, q := range parts {
		out += q
	}
	return out
}
