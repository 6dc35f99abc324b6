package plan

import "math"

const (
	// crankSeconds is how long a cable must stand the starter: three tries of ten
	// seconds with no pause between (prudence).
	crankSeconds = 30.0
	// starterMM2 is the usual starter cable (common practice), where the plan names none.
	starterMM2 = 16.0
)

// ShortTimeAmps is what a copper wire of a size in mm2 stands for some seconds while it
// warms from one temperature to another, in degrees Celsius, with no heat given off.
// Source: IEC 60949:1988, I = K S sqrt(ln((to+B)/(from+B))/t) with K = 226 A s^0.5/mm2 and
// B = 234.5 K for copper, from memory; 0 where the wire is as warm as that already.
func ShortTimeAmps(mm2, from, to, seconds float64) float64 {
	const k, b = 226, 234.5
	if !(to > from) || !(seconds > 0) {
		return 0
	}
	return k * mm2 * math.Sqrt(math.Log((to+b)/(from+b))/seconds)
}

// cranks is what a size may carry in this harness while the starter turns.
func (p *Plan) cranks(s Size) float64 {
	return max(p.carries(s), ShortTimeAmps(s.MM2, p.Temperature, p.Insulation, crankSeconds))
}

// addCrank notes what each wire carries while a starter motor turns: the motor takes its
// nominal current whatever its cables lose. What flows with the motor standing still is not
// the motor's, and is not scaled with it.
func (out *solved) addCrank(turning, still *flowing, l loadEdge) {
	took := turning.across(l) / l.ohms
	if took <= 0 {
		return
	}
	for i, a := range turning.wire {
		if more := a - still.wire[i]; more > 0.01*took {
			out.crank[i] = max(out.crank[i], still.wire[i]+more*l.nominal/took)
		}
	}
}
