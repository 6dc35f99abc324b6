package rig

import (
	"math"

	"bellout/inference"
	"bellout/mapping"
)

// wireLink is a link as it goes over the wire. An empty When means always.
type wireLink struct {
	Between [2]mapping.EndID      `json:"between"`
	When    []map[string][]string `json:"when"`
	Grade   string                `json:"grade,omitempty"`
}

type wireMap struct {
	Links      []wireLink `json:"links"`
	Unresolved []wireLink `json:"unresolved"`
}

type final struct {
	Map        wireMap `json:"map"`
	Confidence float64 `json:"confidence"`
	Readings   int     `json:"readings"`
}

// encodeFinal writes the last line: the map, how sure, and how many readings
// are kept. Confidence is cut, not rounded, to four places: nothing that falls
// short of certainty is shown as 1.
func encodeFinal(r inference.Result, kept int) ([]byte, error) {
	return line(final{
		Map: wireMap{
			Links:      wireLinks(r.Map.Links, true),
			Unresolved: wireLinks(r.Map.Unresolved, false),
		},
		Confidence: math.Floor(math.Min(math.Max(r.Confidence, 0), 1)*1e4) / 1e4,
		Readings:   kept,
	})
}

func wireLinks(links []mapping.Link, graded bool) []wireLink {
	out := make([]wireLink, 0, len(links))
	for _, l := range links {
		w := wireLink{Between: [2]mapping.EndID{l.A, l.B}, When: make([]map[string][]string, 0, len(l.When))}
		for _, c := range l.When {
			entry := make(map[string][]string, len(c))
			for _, t := range c {
				for _, p := range t.Positions {
					entry[string(t.Switch)] = append(entry[string(t.Switch)], string(p))
				}
			}
			w.When = append(w.When, entry)
		}
		if graded {
			w.Grade = l.Grade.String()
		}
		out = append(out, w)
	}
	return out
}
