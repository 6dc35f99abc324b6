package inference

import (
	"math/bits"
	"math/rand/v2"

	"bellout/mapping"
)

const (
	// lostAt is from how many readings on, for each bit of the best map's prior, samples
	// that still disagree are taken for lost. In an erring hand those of most pods of 18
	// ends agree by 1.9 to 2.3.
	lostAt = 2.3

	// fewPairs is how many pairs of ends a sweep crosses at most then.
	fewPairs = 16
)

// lost tells that the search does not find the map though more than enough was read to
// tell it. Halves, which ask most of who knows what is likely, are then the wrong thing
// to read: what they say depends on everything at once, and what is not known yet
// cannot be climbed to. Readings across few pairs say less, of something in particular.
func (s *state) lost(leads mapping.Leads) bool {
	return leads == mapping.BunchLeads && float64(len(s.raw)) > lostAt*s.p.prior(s.best) && s.astray() > 0.5
}

// allowed tells whether a sweep may cross all pairs between two bunches.
func (pl *planner) allowed(red, black uint64) bool {
	return !pl.lost || bits.OnesCount64(red)*bits.OnesCount64(black) <= fewPairs
}

// fewStarts are bunches from which the search sets out where they have to be small: a
// few single ends, each against as many of the others.
func (pl *planner) fewStarts(rng *rand.Rand) [][2]uint64 {
	var out [][2]uint64
	if pl.red != 0 && pl.black != 0 && pl.allowed(pl.red, pl.black) {
		out = append(out, [2]uint64{pl.red, pl.black})
	}
	all := uint64(1)<<pl.p.n - 1
	for _, e := range rng.Perm(pl.p.n)[:min(4, pl.p.n)] {
		black := all &^ (1 << e)
		for bits.OnesCount64(black) > fewPairs {
			black &^= 1 << rng.IntN(pl.p.n)
		}
		out = append(out, [2]uint64{1 << e, black})
	}
	return out
}
