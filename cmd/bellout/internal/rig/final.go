package rig

import (
	"math"

	"bellout/inference"
	"bellout/mapping/plan"
)

type final struct {
	Map        plan.MapText `json:"map"`
	Confidence float64      `json:"confidence"`
	Readings   int          `json:"readings"`
}

// encodeFinal writes the last line: the map, how sure, and how many readings
// are kept. Confidence is cut, not rounded, to four places: nothing that falls
// short of certainty is shown as 1.
func encodeFinal(r inference.Result, kept int) ([]byte, error) {
	unresolved := plan.LinkTexts(r.Map.Unresolved)
	for i := range unresolved {
		unresolved[i].Grade = "" // nobody vouches for it
	}
	return line(final{
		Map:        plan.MapText{Links: plan.LinkTexts(r.Map.Links), Unresolved: unresolved},
		Confidence: math.Floor(math.Min(math.Max(r.Confidence, 0), 1)*1e4) / 1e4,
		Readings:   kept,
	})
}
