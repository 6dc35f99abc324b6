package simbench

import (
	"math"
	"slices"

	"bellout/mapping"
)

// sharing prices what the switches' own contacts share: wires with other
// switches, and, within a switch, rows of contacts without a common end.
func (o *Model) sharing(groups []linkGroup) float64 {
	total := 0.0
	for i, g := range groups {
		if len(g.links[0].Terms) != 1 {
			continue
		}
		shared := 0
		for e, end := range o.pod.Ends {
			taken := false
			for j, other := range groups {
				taken = taken || j != i && len(other.links[0].Terms) == 1 && other.ends>>e&1 == 1
			}
			if taken && g.ends>>e&1 == 1 && end.Kind != mapping.Body {
				shared++
			}
		}
		if shared > 0 {
			room := math.Min(1, math.Max(leastRoom, 2-wiresEach*float64(len(o.pod.Switches))/float64(len(o.pod.Ends))))
			total += room * (bitsSharedFeed + bitsSharedMore*math.Min(1, float64(shared-1)) + bitsSharedMany*math.Max(0, float64(shared-2)))
		}
		total += rows(g.links)
	}
	return total
}

// rows prices the links of each connected group that are not at the end where
// most of its links are.
func rows(ls []ModelLink) float64 {
	total := 0.0
	left := slices.Clone(ls)
	for len(left) > 0 {
		part := left[:1:1]
		left = left[1:]
		for grown := true; grown; {
			grown = false
			for i, x := range left {
				if slices.ContainsFunc(part, func(y ModelLink) bool {
					return x.A == y.A || x.A == y.B || x.B == y.A || x.B == y.B
				}) {
					part = append(part, x)
					left = slices.Delete(slices.Clone(left), i, i+1)
					grown = true
					break
				}
			}
		}
		at := map[int]int{}
		away := len(part)
		for _, x := range part {
			at[x.A]++
			at[x.B]++
			away = min(away, len(part)-at[x.A], len(part)-at[x.B])
		}
		if away > 0 {
			total += bitsRow + bitsRowMore*float64(away-1)
		}
	}
	return total
}
