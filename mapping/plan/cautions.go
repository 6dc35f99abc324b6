package plan

import "slices"

// The places where a caution is shown.
const (
	AtContinuity  = "start of any continuity"
	AtFirstOhms   = "first ohm entry of a sitting"
	AtDiode       = "LED or diode test"
	AtBulb        = "bulb or coil suspected"
	AtCut         = "before cutting"
	AtFuses       = "plan: fuses"
	AtStarter     = "plan: starter motor"
	AtLamps       = "plan: lamps, indicators, brake, horn, warning lamps"
	AtInterlock   = "plan: kill and interlocks"
	AtFirstPower  = "first power"
	AtLithium     = "lithium battery"
	AtAnyTime     = "any time"
	AtElectrician = "call a qualified vehicle electrician"
	AtExport      = "export"
)

// Cautions gives every caution with the place where it is shown: short, once,
// where it matters (testdata/reference/safety_cautions.csv). What the law asks is
// the law's business.
func Cautions() []Caution {
	return []Caution{
		{AtContinuity, "Pod unplugged from the machine, or battery negative off. If in doubt measure DC volts first: it must read 0."},
		{AtFirstOhms, "Touch the probes together: does it beep? Write down the ohms of the leads."},
		{AtDiode, "Meter only, or 12 V through 1 k ohm; never 12 V straight."},
		{AtBulb, "Unplug the load: a cold lamp looks like a closed contact, a halogen lamp like a short."},
		{AtCut, "Cutting cannot be undone: read the list of what is unresolved, photograph both faces of the plug, leave tails on it, cut one wire at a time."},
		{AtFuses, "No way without a fuse, no fuse bigger than its wire allows, the main fuse near the battery."},
		{AtStarter, "The starter motor is not for the block: thick cable, insulated boots, battery off while working. A short here welds spanners and starts fires."},
		{AtLamps, "Local roadworthiness and lighting law says what must be fitted, how bright, in what colour, when it may be lit and how fast it flashes: check before riding. This program does not know your law."},
		{AtInterlock, "STAND, CLUTCH AND NEUTRAL INTERLOCKS SAVE LIVES: A BYPASS IS SHOWN IN CAPITALS ON THE PAGE."},
		{AtFirstPower, "Glasses on, extinguisher at hand, battery vented, rings and watch off. Disconnect negative first and reconnect it last. First power with a lamp in series, and not alone."},
		{AtLithium, "A lithium battery can feed hundreds of amps: use its maker's charger and regulator voltage."},
		{AtAnyTime, "Hot smell, hot plug, or a fuse that blows twice: stop. Never fit a bigger fuse."},
		{AtElectrician, "Call a qualified vehicle electrician for anti-lock brakes or stability units, airbag, engine control bus, immobiliser, high-voltage traction battery, fault-finding on capacitor-discharge ignition, insurance or inspection sign-off, or a fuse that keeps blowing."},
		{AtExport, "Drawn from readings and from the plan: check it against what was built."},
	}
}

// CautionsFor gives the cautions that a plan calls for on its page.
func CautionsFor(p Plan) []Caution {
	places := []string{AtFuses, AtFirstPower, AtAnyTime, AtElectrician, AtExport}
	for _, l := range p.Loads {
		k, _ := KindOf(l.Kind)
		switch {
		case k.Group == Motor:
			places = append(places, AtStarter)
		case k.Law:
			places = append(places, AtLamps)
		}
		if k.Group == Motor || k.Group == Ignition || k.Group == Start {
			places = append(places, AtInterlock)
		}
	}
	if len(p.Bypasses) > 0 {
		places = append(places, AtInterlock)
	}
	if p.Supply.Battery == "lithium" {
		places = append(places, AtLithium)
	}
	var out []Caution
	for _, c := range Cautions() {
		if slices.Contains(places, c.Where) {
			out = append(out, c)
		}
	}
	return out
}
