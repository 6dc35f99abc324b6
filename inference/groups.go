package inference

// groups collects contacts that share ends.
type groups struct {
	ends     [maxEnds / 2]uint64
	common   [maxEnds / 2]uint64 // ends that all contacts of a group have
	n        int
	contacts int
}

func (g *groups) add(ends uint64) {
	w, common := 0, ends
	for j := range g.n {
		if g.ends[j]&ends != 0 {
			ends |= g.ends[j]
			common &= g.common[j]
		} else {
			g.ends[w], g.common[w] = g.ends[j], g.common[j]
			w++
		}
	}
	g.ends[w], g.common[w] = ends, common
	g.n = w + 1
	g.contacts++
}

// chains counts the groups without a common end.
func (g *groups) chains() int {
	n := 0
	for j := range g.n {
		if g.common[j] == 0 {
			n++
		}
	}
	return n
}
