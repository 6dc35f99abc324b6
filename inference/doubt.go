package inference

import (
	"math"
	"slices"
)

const (
	mostRivals = 64  // the planner keeps them in one word, a bit each
	mostPriced = 400 // with runs, to find them

	firstPriced  = 32 // of these, before any that is cheaper than the best is taken instead of it
	mostCompared = 4  // times a best map gives way to its rival, at once

	strayShare  = 0.06 // of the samples; fewer are accounted for by the rivals
	rivalWindow = 26.0 // bits: dearer rivals are not worth a thought
	splitSearch = 34.0 // bits, likewise, for two contacts in the place of one link
	rivalSearch = 60.0 // bits, with each odd reading by itself; runs may explain many at once
)

// findRivals completes the maps that differ from the best by a change of one link
// that it has with what the samples found besides, and on the smallest pods what is
// further off, and prices them with runs.
func (s *state) findRivals() {
	p := s.p
	s.rivals = p.distinct(s.best, s.rivals, mostPriced, s.withoutClaims()...)
	keep := mostRivals
	if s.counts {
		keep = 0
	}
	s.priceAll(s.rivals, keep)
	slices.SortStableFunc(s.rivals, byDelta)
	s.keepFurther()
	if s.counts {
		s.addFurther()
	}
	for len(s.rivals) > 0 && (len(s.rivals) > mostRivals && !s.counts || s.rivals[len(s.rivals)-1].delta > rivalWindow) {
		s.rivals = s.rivals[:len(s.rivals)-1]
	}
	for i := range s.rivals {
		s.rivals[i].added = s.countedAsAddition(s.rivals[i].h)
	}
}

// near gives the maps that differ from the best by a change of one link, or by two
// contacts in its place. Links are taken on all cores.
func (s *state) near() []rival {
	n := len(s.best.atoms)
	found := make([][]rival, 2*n)
	onCores(2*n, func(next func() (int, bool)) {
		var v *variations
		var into *[]rival
		v = newVariations(s.p, s.best, 0, func(c *hyp) float64 {
			*into = append(*into, rival{h: c, delta: c.energy - s.best.energy})
			return v.limit
		})
		for i, ok := next(); ok; i, ok = next() {
			into = &found[i]
			if i < n {
				v.limit = s.best.energy + rivalSearch
				v.eachOf(s.best, i)
			} else {
				v.limit = s.best.energy + splitSearch
				v.eachSplit(s.best, i-n)
			}
		}
	})
	return slices.Concat(found...)
}

// withoutClaims gives the maps that lack one of the claims of the best map, as it is
// drawn. They are priced whatever they are worth with each odd reading by itself: a claim
// may rest on readings that one lever elsewhere explains all at once.
func (s *state) withoutClaims() []rival {
	var out []rival
	for _, c := range s.claims() {
		h := c.cutFrom(s.best)
		s.p.tidy(h)
		out = append(out, rival{h: h})
	}
	return out
}

// distinct drops rivals whose nets equal those of the best map, or of an
// earlier rival, in every setting that can tell. Of the first only so many are taken,
// always comes on top.
func (p *problem) distinct(best *hyp, rs []rival, most int, always ...rival) []rival {
	parallel(min(len(rs), most), func(i int) { p.signature(rs[i].h) }) // remembered
	seen := map[uint64]bool{p.signature(best): true}
	out := make([]rival, 0, min(len(rs), most)+len(always))
	take := func(r rival) {
		if sig := p.signature(r.h); !seen[sig] {
			seen[sig] = true
			r.held = p.handsToTell(best, r.h)
			out = append(out, r)
		}
	}
	for _, r := range rs {
		if len(out) == most {
			break
		}
		take(r)
	}
	for _, r := range always {
		take(r)
	}
	return out
}

// mostCounted is bits beyond which a further link weighs nothing.
const mostCounted = 40.0

// weighAdditions sums the weight of every map with one more link, by how many
// buttons must be held to find it.
func (s *state) weighAdditions() {
	s.adding = s.p.newAdding(s.best, s.ev)
	var sums [additionParts][handsAny + 1]float64
	s.p.additionsInParts(s.adding, mostCounted, func(part int, each func(func(a, b, cond, held int, delta float64))) {
		var mine [handsAny + 1]float64 // of a core's own: the sums lie side by side
		each(func(_, _, _, held int, d float64) {
			if d < mostCounted {
				mine[min(held, handsAny)] += math.Exp2(-d)
			}
		})
		sums[part] = mine
	})
	s.added = [handsAny + 1]float64{}
	for _, sum := range sums {
		for held, m := range sum {
			s.added[held] += m
		}
	}
}

// additionMass is the part of that which the builder has the hands to find.
func (s *state) additionMass() float64 {
	t := 0.0
	for held, m := range s.added {
		if held <= s.hands {
			t += m
		}
	}
	return t
}

// astray is the share of the samples whose nets differ from the best map's in
// some setting that the builder can hold.
func (s *state) astray() float64 {
	sig := s.p.signatureFor(s.best, s.hands)
	n := 0
	for _, c := range s.chains {
		if s.p.signatureFor(c.h, s.hands) != sig {
			n++
		}
	}
	return float64(n) / float64(len(s.chains))
}

// shares is which part of the samples holds each map, by its signature; nil while
// they agree with the best but for a few.
func (s *state) shares() map[uint64]float64 {
	if s.counts || s.astray() <= strayShare {
		return nil
	}
	out := map[uint64]float64{}
	for _, c := range s.chains {
		out[s.p.signature(c.h)] += 1 / float64(len(s.chains))
	}
	return out
}

// doubtLeft is the chance that the best map is wrong in some setting: the
// weight of its rivals against its own, and no less than what the samples show
// once that is more than a few of them.
func (s *state) doubtLeft() float64 {
	w := s.rivalMass()
	return s.withSamples(w / (1 + s.same + w))
}

// enough tells whether so little doubt is left that the work may stop. Without any
// reading but control beeps it may not, however plain the case looks.
func (s *state) enough() bool {
	read := slices.ContainsFunc(s.raw, func(o obs) bool { return !o.control })
	return s.doubtLeft() < stopDoubt && (read || s.p.n < 2)
}

// rivalMass is the weight of all rivals, further links included, that the
// builder has the hands to tell from the best map, against that map's weight of
// one.
func (s *state) rivalMass() float64 {
	w := 0.0
	for _, r := range s.rivals {
		if r.held <= s.hands {
			w += r.weight()
		}
	}
	if s.counts { // further links are among the rivals, those that make no sense too cheap
		return max(w, s.additionMass())
	}
	return (w + s.additionMass()) * s.unlisted()
}

// withSamples raises a doubt to what the samples show.
func (s *state) withSamples(d float64) float64 {
	if s.counts {
		return d
	}
	d = max(d, s.away)
	if a := s.astray(); a > strayShare {
		return max(d, a)
	}
	return d
}
