package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"bellout/mapping"
)

// podSaid says what a description of a pod says: all of it in short the first
// time, afterwards what is different.
func podSaid(before *mapping.Pod, now mapping.Pod) string {
	if before == nil {
		return fmt.Sprintf("%s, %s described", mapping.Count(len(now.Ends), "end"), mapping.Count(len(now.Switches), "switch"))
	}
	var parts []string
	for _, e := range now.Ends {
		old, was := before.End(e.ID)
		switch {
		case !was:
			parts = append(parts, strings.TrimSpace("end "+string(e.ID)+" added "+e.Colours()))
		case old.Base != e.Base || old.Tracer != e.Tracer:
			parts = append(parts, fmt.Sprintf("colour of end %s: %s", e.ID, cmp.Or(e.Colours(), "not said any more")))
		}
		if was && old.Cavity != e.Cavity {
			parts = append(parts, fmt.Sprintf("cavity of end %s: %s", e.ID, cmp.Or(e.Cavity, "not said any more")))
		}
	}
	for _, e := range before.Ends {
		if _, is := now.End(e.ID); !is {
			parts = append(parts, fmt.Sprintf("end %s taken out", e.ID))
		}
	}
	for _, sw := range now.Switches {
		old, was := before.Switch(sw.Name)
		if !was {
			parts = append(parts, fmt.Sprintf("switch %s added: %s", sw.Name, places(sw.Positions)))
			continue
		}
		if !slices.Equal(old.Positions, sw.Positions) {
			parts = append(parts, fmt.Sprintf("switch %s has the positions %s", sw.Name, places(sw.Positions)))
		}
		if old.Legend != sw.Legend {
			parts = append(parts, fmt.Sprintf("switch %s shows %s", sw.Name, cmp.Or(sw.Legend, "no legend")))
		}
	}
	for _, sw := range before.Switches {
		if _, is := now.Switch(sw.Name); !is {
			parts = append(parts, fmt.Sprintf("switch %s taken out", sw.Name))
		}
	}
	if len(parts) == 0 {
		return "described once more, nothing changed"
	}
	return mapping.Clean(strings.Join(parts, "; "), mapping.MaxNote)
}

func places(list []mapping.PositionID) string {
	out := make([]string, len(list))
	for i, q := range list {
		out[i] = string(q)
	}
	return strings.Join(out, " ")
}
