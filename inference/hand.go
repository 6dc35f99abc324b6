package inference

import "math"

// hand is how often a silence is false, by what the builder's hand is taken for.
// While the best map explains every reading it is taken for a careful one: a false
// silence 4 in 100. As soon as something is odd, for one that errs as the trade
// says: a button not pressed home 4 in 100 and a lever not where it was put 2 in 100
// besides, which make a silence at a joined pair as likely as the probe does.
type hand struct {
	erring bool
	silent silences
}

// silences is what a silence says against a link, in bits, by what may make it false:
// so many levers of its condition, and buttonRisk more if a button is held for it.
type silences [2 * buttonRisk]float32

const buttonRisk = 4 // more than the levers of a condition

// bitsUnstated is how much likelier a link of one switch is than the prior states
// (BenchmarkPriorBalance: 6 to 7 for 4). It counts in an erring hand, where silences
// alone no longer make up for it.
const bitsUnstated = 0.6

func newHand(erring bool) hand {
	h := hand{erring: erring}
	for risk := range h.silent {
		rate := math.Exp2(-priceSilence)
		if erring {
			rate += float64(risk%buttonRisk)*math.Exp2(-priceLever) + float64(risk/buttonRisk)*math.Exp2(-priceHalf)
		}
		h.silent[risk] = float32(-math.Log2(rate))
	}
	return h
}

// anythingOdd tells whether the best map leaves anything to a mishap.
func (s *state) anythingOdd() bool { return s.total-s.p.prior(s.best) > 1e-6 }

// unstated is what a link of so many switches is likelier than the prior says, in bits.
func (h *hand) unstated(depth int) float64 {
	if h.erring && depth <= 1 {
		return bitsUnstated
	}
	return 0
}

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
