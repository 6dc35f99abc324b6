package sheet

import (
	"cmp"
	"fmt"
	"slices"

	"bellout/mapping/plan"
)

// healthy is the roadside box: five to eight key values of this harness when
// nothing is wrong. Those of the battery, the leak and the drops are common
// practice; those of loads are worked out.
func healthy(in Input) []string {
	out := []string{
		"Battery, engine at fast idle: " + in.Plan.ChargingVolts(),
		"Key off, ammeter in the main lead: under 1 mA (5 mA with a clock)",
		"A module's earth to battery minus: 0.1 ohm or less over the leads",
		fmt.Sprintf("Lamp lit, battery plus to its plus: %s V at most; its minus to battery minus: %s V at most", number(in.Plan.PlusVolts()), number(in.Plan.EarthVolts())),
	}
	if slices.ContainsFunc(in.Plan.Parts, func(x plan.Part) bool { return x.Kind == "diode" }) {
		out[len(out)-1] += "; behind a diode 0.8 V more"
	}
	loads := slices.Clone(in.Worked.Loads)
	loads = slices.DeleteFunc(loads, func(l plan.WorkedLoad) bool { return l.Way == "" })
	slices.SortStableFunc(loads, func(a, b plan.WorkedLoad) int {
		if c := cmp.Compare(b.Amps, a.Amps); c != 0 {
			return c
		}
		return byNature(a.Name, b.Name)
	})
	for i, l := range loads {
		if i == 3 {
			break
		}
		s := fmt.Sprintf("%s (%s): draws about %s", l.Name, l.Way, amps(l.Amps))
		if l.ColdOhms > 0 {
			s += fmt.Sprintf(", cold %s ohm", number(l.ColdOhms))
		}
		if l.Volts > 0 {
			s += fmt.Sprintf(", sees %.1f of %.1f V", l.Volts, nominal(in.Plan))
			if l.Diodes > 0 {
				s += ", less 0.5 to 0.8 V a diode"
			}
		}
		out = append(out, s)
	}
	if len(in.Plan.Relays) > 0 {
		r := in.Plan.Relays[0]
		out = append(out, fmt.Sprintf("Relay %s, 85 to 86: about %s ohm", r.Name, number(in.Plan.Coil(r))))
	}
	return out
}

func nominal(p plan.Plan) float64 {
	if p.Volts > 0 {
		return p.Volts
	}
	return 12
}

// What the cautions of package plan leave to the list that they stand on.
const (
	careZero    = "Touch the probes together first: does it beep? Write down the leads' ohms and take them off every reading. Leads: ______ ohm"
	careHalogen = "A cold halogen lamp looks like a short to a cheap meter: do the checks with lamps out first."
)

// careSeries says what the lamp in the main fuse's place does.
func careSeries(in Input) string {
	lamp, most := in.Plan.SeriesLamp()
	return fmt.Sprintf("Main fuse out, a %s in its place: it lets through %s A at most. Bright: a short, switch off. Dim: a small load.", lamp, number(most))
}

// caution gives the cautions of package plan for some places, in their order.
func caution(places ...string) []string {
	var out []string
	for _, c := range plan.Cautions() {
		if slices.Contains(places, c.Where) {
			out = append(out, c.Say)
		}
	}
	return out
}

// called gives the same, of those that this plan calls for.
func called(in Input, places ...string) []string {
	var out []string
	for _, c := range plan.CautionsFor(in.Plan) {
		if slices.Contains(places, c.Where) {
			out = append(out, c.Say)
		}
	}
	return out
}

// bypasses are the interlocks that the harness goes around, in capitals.
func bypasses(in Input) []string {
	var out []string
	for _, b := range in.Plan.Bypasses {
		out = append(out, b.Notice())
	}
	return out
}

// pageCautions are the cautions of the diagram: what matters at the roadside
// and to whoever changes the harness. The others stand on the lists.
func pageCautions(in Input) []string {
	return append(bypasses(in), called(in, plan.AtAnyTime, plan.AtLamps, plan.AtStarter, plan.AtInterlock, plan.AtLithium)...)
}
