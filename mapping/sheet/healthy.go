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
		"Battery, engine at fast idle: 13.5 to 14.5 V",
		"Key off, ammeter in the main lead: under 1 mA (5 mA with a clock)",
		"A module's earth to battery minus: 0.1 ohm or less over the leads",
		"Lamp lit, battery plus to its plus: 0.5 V at most; its minus to battery minus: 0.2 V at most",
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
		}
		out = append(out, s)
	}
	for _, r := range in.Plan.Relays {
		ohms := r.CoilOhms
		if ohms == 0 {
			ohms = 85
		}
		out = append(out, fmt.Sprintf("Relay %s, 85 to 86: about %s ohm", r.Name, number(ohms)))
		break
	}
	return out
}

func nominal(p plan.Plan) float64 {
	if p.Volts > 0 {
		return p.Volts
	}
	return 12
}

// Cautions of the trade, each shown once where it matters. They defer to the
// law of the place and to a qualified person.
const (
	cautionLaw      = "Local roadworthiness and lighting law says what must be fitted, how bright, what colour, when lit and how fast it flashes: check before riding. This page does not know your law."
	cautionHot      = "Hot smell, hot plug, a fuse that blows twice: stop. Never a bigger fuse."
	cautionStarter  = "Starter motor cable: thick, insulated boots, not through the block. A short here welds spanners and starts fires: battery off."
	cautionLithium  = "Lithium battery: it can feed hundreds of amps into a short; keep to its maker's charger and regulator voltage."
	cautionLocks    = "Stand, clutch and neutral interlocks save lives. AN INTERLOCK THAT IS BYPASSED MUST BE SHOWN ON THIS PAGE IN CAPITALS."
	cautionPerson   = "For anti-lock brakes, airbag, engine control bus, immobiliser, high-voltage battery, capacitor-discharge ignition, an inspection, or a fuse that blows again unexplained: a qualified vehicle electrician."
	cautionCut      = "Before cutting a plug off: it cannot be undone. Photograph both faces, settle what is unresolved, leave 50 to 100 mm of tail on the old plug, one wire at a time, flags on both sides of the cut."
	cautionUnplug   = "Continuity and ohms: battery negative off and the pod unplugged. If in doubt DC volts first: they must read 0."
	cautionZero     = "Touch the probes together first: does it beep? Write down the leads' ohms and take them off every reading. Leads: ______ ohm"
	cautionHalogen  = "A cold halogen lamp looks like a short to a cheap meter: do the checks with lamps out first."
	cautionFirst    = "Glasses on, extinguisher at hand, battery vented, rings and watch off, not alone."
	cautionNegative = "Disconnect battery negative first and reconnect it last."
	cautionSeries   = "Main fuse out, a 12 V 21 W lamp in its place: it lets through 1.75 A at most. Bright: a short, switch off. Dim: a small load."
)

// pageCautions are the cautions of the diagram: what matters at the roadside.
// The others stand on the build sheet and at the first power.
func pageCautions(in Input) []string {
	out := []string{cautionHot, cautionLaw}
	if in.Plan.Supply.Battery == "lithium" {
		out = append(out, cautionLithium)
	}
	if hasStarter(in) {
		out = append(out, cautionStarter)
	}
	return out
}

func hasStarter(in Input) bool {
	return slices.ContainsFunc(in.Plan.Loads, func(l plan.Load) bool { return l.Kind == "starter motor" })
}
