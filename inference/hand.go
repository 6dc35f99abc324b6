package inference

import "math"

// hand is how often a silence is false, by what the builder's hand is taken for.
// While the best map explains every reading it is taken for a careful one: a false
// silence 4 in 100, and rarer the more beeps were expected and heard. As soon as
// something is odd, for one that errs as the trade says: a button not pressed home 4 in
// 100 and a lever not where it was put 2 in 100 besides, which make a silence at a joined
// pair as likely as the probe does.
type hand struct {
	erring bool
	silent silences
}

// silences is what a silence says against a link, in bits, by what may make it false:
// so many levers of its condition, and buttonRisk more if a button is held for it.
type silences [2 * buttonRisk]float32

const buttonRisk = 4 // more than the levers of a condition

// silenceSpread is how far hands and meters are alike: the rate of false silences is
// taken for gamma distributed over builders, with this shape and the trade's mean.
const silenceSpread = 3.0

// newHand is an erring hand, or a careful one from which so many beeps were expected
// and heard.
func newHand(erring bool, heard int) hand {
	h := hand{erring: erring}
	for risk := range h.silent {
		rate := math.Exp2(-priceSilence)
		if erring {
			rate += float64(risk%buttonRisk)*math.Exp2(-priceLever) + float64(risk/buttonRisk)*math.Exp2(-priceHalf)
		} else {
			rate = silenceSpread / (silenceSpread/rate + float64(heard))
		}
		h.silent[risk] = float32(-math.Log2(rate))
	}
	return h
}

// heard counts the beeps, control beeps aside: while nothing is odd, each of them was
// expected, and no silence in its place.
func (s *state) heard() int {
	n := 0
	for i := range s.raw {
		if s.raw[i].closed && !s.raw[i].control {
			n++
		}
	}
	return n
}

// anythingOdd tells whether the best map leaves anything to a mishap.
func (s *state) anythingOdd() bool { return s.total-s.p.prior(s.best) > 1e-6 }

// unlistedToo is how much there is to doubt for each doubt that is listed: over 2,100
// generated pods in an erring hand the best map was wrong twice as often as the rivals
// in the lists made it, being several changes off or behind several mishaps at once.
const unlistedToo = 2.0

// unlisted is that factor. Where every near rival is counted, nothing is left out.
func (s *state) unlisted() float64 {
	if s.p.hand.erring && !s.counts {
		return unlistedToo
	}
	return 1
}

// From byLook bits on, what no hand can test is taken for what it looks like.
const (
	bitsByLook       = 6.0
	bitsByLookErring = 11.0
)

func (h *hand) byLook() float64 {
	if h.erring {
		return bitsByLookErring
	}
	return bitsByLook
}
