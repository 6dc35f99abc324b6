package inference

import "math/bits"

// dueByCond is what a first silence at a place is worth besides, by condition, in
// the weight of doubts: where one that was never read holds up the stop, somebody has
// to come back for it.
func (pl *planner) dueByCond() []float64 {
	due := make([]float64, len(pl.latching))
	bonus := dueWorth[pl.leads] * max(dueFloor, 1-pl.astray)
	if bonus == 0 || pl.worth == 0 {
		return due
	}
	unit := pl.total / (pl.worth * pl.ahead) // of a bit that tells samples apart
	for c, share := range pl.apartShare() {
		due[c] = bonus * unit * share
	}
	return due
}

// apartShare is how many of a pod's pairs of ends have to be read in a condition:
// those of its nets, in the setting of the pool where a sample joins most, as a share
// of all pairs, in the mean of the samples.
func (pl *planner) apartShare() []float64 {
	p := pl.p
	share := make([]float64, len(pl.latching))
	fewest := make([]int, len(share))
	var buf []uint64
	for _, c := range pl.s.chains {
		for k := range fewest {
			fewest[k] = p.n
		}
		for i := range pl.pool {
			buf = c.h.nets(pl.pool[i].s, buf)
			nets := p.n
			for _, net := range buf {
				nets -= bits.OnesCount64(net) - 1
			}
			for _, k := range pl.pool[i].conds {
				fewest[k] = min(fewest[k], nets)
			}
		}
		for k, nets := range fewest {
			share[k] += float64(nets*(nets-1)) / float64(p.n*(p.n-1)*len(pl.s.chains))
		}
	}
	return share
}
