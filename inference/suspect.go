package inference

import "math"

// suspect tells, of the silences before a control beep that failed and that is not
// explained by a clip that had slipped, how likely the clip was off. The cheapest
// explanation takes a single failed control beep for a false silence, since a slip at
// any one reading is rarer; but it may have been at any of them, and lasts from there on.
func suspect(o []obs) {
	slip, silence := math.Exp2(-priceSlip), math.Exp2(-priceSilence)
	for i := range o {
		o[i].off = 0
	}
	for i := range o {
		if !o[i].control || o[i].closed || o[i].void {
			continue
		}
		from := i
		for from > 0 && !o[from-1].closed && !o[from-1].control && o[from-1].session == o[i].session {
			from--
		}
		n := float64(i - from)
		for k := from; k < i; k++ {
			o[k].off = slip * float64(k-from+1) / (silence + slip*n)
		}
	}
}

// silent is what the reading says where it is silent, given what a silence says while
// the clip bites.
func (o *obs) silent(biting silences) silences {
	if o.off > 0 {
		for risk, v := range biting {
			biting[risk] = float32(-math.Log2(o.off + (1-o.off)*math.Exp2(-float64(v))))
		}
	}
	return biting
}
