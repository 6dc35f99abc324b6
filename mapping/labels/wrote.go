package labels

import (
	"slices"
	"strings"

	"bellout/mapping/page"
)

// Wrote says whether a text is labels, in whichever form. As plain text they
// have no head; but every line stands there PerWire times, and all begin with
// the name of one pod.
func Wrote(text []byte) bool {
	if page.Wrote(text) {
		return true
	}
	lines := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
	first, _, ok := strings.Cut(lines[0], " ")
	if !ok || first == "" || len(lines)%PerWire != 0 {
		return false
	}
	for flags := range slices.Chunk(lines, PerWire) {
		if !strings.HasPrefix(flags[0], first+" ") || len(slices.Compact(flags)) != 1 {
			return false
		}
	}
	return true
}
