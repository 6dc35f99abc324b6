package inference

// groups collects contacts that share ends.
type groups struct {
	ends     [maxEnds / 2]uint64
	size     [maxEnds / 2]uint8 // contacts of a group
	at       [maxEnds]uint8     // contacts at an end
	n        int
	contacts int
}

func (g *groups) add(ends uint64) {
	for m := ends; m != 0; m &= m - 1 {
		g.at[lowBit(m)]++
	}
	w, size := 0, uint8(1)
	for j := range g.n {
		if g.ends[j]&ends != 0 {
			ends |= g.ends[j]
			size += g.size[j]
		} else {
			g.ends[w], g.size[w] = g.ends[j], g.size[j]
			w++
		}
	}
	g.ends[w], g.size[w] = ends, size
	g.n = w + 1
	g.contacts++
}

// rowPrice prices contacts that do not hang on one common end, group by group: a
// row of three has one contact that is not at the end where most are.
func (g *groups) rowPrice() float64 {
	t := 0.0
	for j := range g.n {
		t += rowPrice(g.ends[j], g.size[j], &g.at)
	}
	return t
}

// rowPrice is that of a group with these ends and so many contacts, of which there
// are so many at each end.
func rowPrice(ends uint64, size uint8, at *[maxEnds]uint8) float64 {
	if size < 3 {
		return 0
	}
	most := uint8(0)
	for m := ends; m != 0; m &= m - 1 {
		most = max(most, at[lowBit(m)])
	}
	if size == most {
		return 0
	}
	return bitsRow + bitsRowMore*float64(size-most-1)
}

// rowPriceWith is by how much one more contact makes rowPrice dearer.
func (g *groups) rowPriceWith(ends uint64) float64 {
	at, whole, size, before := g.at, ends, uint8(1), 0.0
	for m := ends; m != 0; m &= m - 1 {
		at[lowBit(m)]++
	}
	for j := range g.n {
		if g.ends[j]&ends != 0 {
			whole |= g.ends[j]
			size += g.size[j]
			before += rowPrice(g.ends[j], g.size[j], &g.at)
		}
	}
	return rowPrice(whole, size, &at) - before
}
