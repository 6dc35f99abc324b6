package tui

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
