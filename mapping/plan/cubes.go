package plan

import "strings"

// cube is a set of settings in words: switches that matter, each with one
// position. found tells for each setting of the group whether the thing
// happens in it; the cube grows from the first one, dropping each switch that
// makes no difference.
func (n *network) cube(g group, found []bool) (text string, first int) {
	first = -1
	for i, f := range found {
		if f {
			first = i
			break
		}
	}
	if first < 0 {
		return "", -1
	}
	stride := make([]int, len(g.switches))
	step := 1
	for k := len(g.switches) - 1; k >= 0; k-- {
		stride[k] = step
		step *= len(n.switches[g.switches[k]].sw.Positions)
	}
	members := []int{first}
	var kept []string
	for k, sw := range g.switches {
		pos := n.switches[sw].sw.Positions
		at := first / stride[k] % len(pos)
		var wider []int
		all := true
		for _, m := range members {
			for q := range pos {
				at2 := m + (q-at)*stride[k]
				all = all && found[at2]
				wider = append(wider, at2)
			}
			if !all {
				break
			}
		}
		if all {
			members = wider
		} else {
			kept = append(kept, n.switches[sw].name+"="+string(pos[at]))
		}
	}
	return strings.Join(kept, ", "), first
}

// settingText names the switches that stand away from rest.
func (n *network) settingText(set []int, only []int) string {
	var out []string
	for _, i := range only {
		out = append(out, n.switches[i].name+"="+string(n.switches[i].sw.Positions[set[i]]))
	}
	return strings.Join(out, ", ")
}
