package tui

import "bellout/mapping"

// cautions are shown once in a sitting, where they matter. Common practice of
// the trade; each defers to somebody qualified and to local law where that is
// due.
var cautions = map[string]string{
	"continuity": "Pod unplugged from the machine, or battery negative off. In doubt: volts first, it must read 0.",
	"ohms":       "Touch the probes together first: it must beep; the ohms that it shows are your leads'. Fingers off the tips.",
	"diode":      "With the meter only, or 12 V through 1 kohm; never 12 V straight on.",
	"load":       "A bulb or a coil answers like a contact: unplug it, then read again.",
	"cut":        "Cutting cannot be undone. Photograph the plug from both faces first.",
}

// caution puts a caution in the line of notice the first time it matters.
func (a *app) caution(where string) {
	if a.cautions[where] {
		return
	}
	a.cautions[where] = true
	a.lookAt(cautions[where])
}

// cautionFor shows what matters about values as they are entered. A bulb reads
// cold at about a tenth of its hot resistance, a coil at some tens of ohms
// (common practice), so that range is suspect.
func (a *app) cautionFor(vs ...said) {
	const bulb, coil = 1.0, 200.0
	for _, v := range vs {
		switch {
		case v.outcome != mapping.Value:
		case v.mode == mapping.Diode:
			a.caution("diode")
		case v.value > bulb && v.value < coil:
			a.caution("load")
		default:
			a.caution("ohms")
		}
	}
}
