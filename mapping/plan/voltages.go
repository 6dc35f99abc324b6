package plan

import "math"

// The figures of a charged and charging 12 V machine (common practice). Other voltages have
// other numbers of the same cells, so everything scales with them.
const (
	restVolts12   = 12.4
	idleLow12     = 13.5
	idleHigh12    = 14.5
	runVolts12    = 13.8
	earthVolts12  = 0.2
	plusVolts12   = 0.5
	seriesWatts   = 21.0
	coilOhms12    = 85.0
	diodeVolts    = 0.8 // at most, of silicon: its own 0.5 to 0.8 V are no fault of the wires
	notSaidVolts  = 12.0
	largestLampAt = 24.0 // lamps of 21 W are made for 6, 12 and 24 V
)

// nominal is the machine's voltage, 12 V where nobody said.
func (p *Plan) nominal() float64 {
	if p.Volts > 0 {
		return p.Volts
	}
	return notSaidVolts
}

// at turns a figure of a 12 V machine into this one's.
func (p *Plan) at(volts12 float64) float64 { return round(volts12*p.nominal()/12, 3) }

// RestVolts is what a charged battery reads at rest, at the least.
func (p Plan) RestVolts() string { return trim(p.at(restVolts12)) + " V" }

// ChargingVolts is what the battery reads with the engine at a fast idle.
func (p Plan) ChargingVolts() string {
	return trim(p.at(idleLow12)) + " to " + trim(p.at(idleHigh12)) + " V"
}

// runVolts is the voltage at which loads run on.
func (p *Plan) runVolts() float64 { return p.at(runVolts12) }

// EarthVolts is the most that a load's earth side may lose.
func (p Plan) EarthVolts() float64 { return p.at(earthVolts12) }

// PlusVolts is the most that a lit lamp's plus side may lose, without a diode in it.
func (p Plan) PlusVolts() float64 { return p.at(plusVolts12) }

// SeriesLamp names the lamp that goes in the main fuse's place, and the amps that it lets
// through at most.
func (p Plan) SeriesLamp() (name string, amps float64) {
	volts := p.nominal()
	if volts > largestLampAt { // as many in a row as the voltage asks for
		row := math.Ceil(volts / 12)
		return "row of " + trim(row) + " lamps of 12 V 21 W", seriesWatts * row / volts
	}
	return trim(volts) + " V 21 W lamp", seriesWatts / volts
}

// Coil is the resistance of a relay's coil; one that nobody measured draws the watts of a
// usual one.
func (p Plan) Coil(r Relay) float64 {
	if r.CoilOhms > 0 {
		return r.CoilOhms
	}
	times := p.nominal() / 12
	return round(coilOhms12*times*times, 1)
}

// amps is a load's current at the machine's voltage, ohms its resistance when it works, and
// cold what a meter reads through it, 0 where that is nothing of use.
func (p *Plan) amps(l Load) float64 { return l.NominalAmps(p.nominal()) }

func (p *Plan) ohms(l Load) float64 {
	if a := p.amps(l); a > 0 {
		return p.nominal() / a
	}
	return 1e6
}

func (p *Plan) cold(l Load) float64 {
	k, ok := KindOf(l.Kind)
	if !ok || k.LED {
		return 0
	}
	return p.ohms(l) * k.Cold
}
