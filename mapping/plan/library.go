package plan

// Kind is one entry of the library of loads. Watts are at the machine's nominal
// voltage: a lamp of 21 W is made for 6, 12 and 24 V. Cold is
// the share of its hot resistance that a filament has when cold, 1 for what is
// no filament.
type Kind struct {
	Name   string
	Watts  float64
	Amps   float64
	Duty   Duty
	Group  Group
	LED    bool
	Cold   float64
	Law    bool // what must be fitted, and how, is a matter of local law
	Source string
}

// Group is what the grouping rules look at.
type Group string

// The groups of loads.
const (
	Headlamp  Group = "headlamp"
	Rear      Group = "rear lamp"
	Position  Group = "position lamp"
	Brake     Group = "brake lamp"
	Indicator Group = "indicator"
	Horn      Group = "horn"
	Ignition  Group = "ignition"
	Start     Group = "starter coil"
	Motor     Group = "starter motor"
	Warning   Group = "warning lamp"
	Clocks    Group = "instruments"
	Accessory Group = "accessory"
)

const (
	common = "common practice"
	memory = "common practice, from memory: measure yours"
)

// magneto is a kind that nothing feeds: it runs unless its + is at earth.
const magneto = "magneto ignition"

// usbSocket is a kind that draws only what is plugged into it.
const usbSocket = "usb socket"

// Kinds gives the library: typical figures, each with where it comes from.
func Kinds() []Kind {
	return []Kind{
		{"headlamp main halogen", 60, 0, Steady, Headlamp, false, 0.085, true, common},
		{"headlamp dip halogen", 55, 0, Steady, Headlamp, false, 0.085, true, common},
		{"headlamp main led", 30, 0, Steady, Headlamp, true, 1, true, common},
		{"headlamp dip led", 25, 0, Steady, Headlamp, true, 1, true, common},
		{"tail lamp", 5, 0, Steady, Rear, false, 0.09, true, common},
		{"tail lamp led", 1, 0, Steady, Rear, true, 1, true, common},
		{"number plate lamp", 5, 0, Steady, Rear, false, 0.09, true, common},
		{"position lamp", 4, 0, Steady, Position, false, 0.09, true, common},
		{"brake lamp", 21, 0, Brief, Brake, false, 0.09, true, common},
		{"brake lamp led", 3, 0, Brief, Brake, true, 1, true, common},
		{"indicator 21 W", 21, 0, Brief, Indicator, false, 0.09, true, common},
		{"indicator 10 W", 10, 0, Brief, Indicator, false, 0.09, true, common},
		{"indicator led", 2, 0, Brief, Indicator, true, 1, true, common},
		{"horn", 42, 0, Brief, Horn, false, 0.3, true, memory},
		{"ignition coil", 48, 0, Steady, Ignition, false, 1, false, memory},
		{"ignition box", 36, 0, Steady, Ignition, true, 1, false, memory},
		{magneto, 0, 0, Steady, Ignition, true, 1, false, common + ": makes its own current, earthing its + (DIN 72552: 2) stops it"},
		{"fuel pump", 60, 0, Steady, Ignition, false, 0.3, false, memory},
		{"starter relay coil", 30, 0, Peak, Start, false, 1, false, memory},
		{"starter motor", 0, 100, Peak, Motor, false, 0.2, false, common + ": 50 to 150 A"},
		{"warning lamp", 1.2, 0, Steady, Warning, false, 0.09, true, common},
		{"warning lamp 3 W", 3, 0, Steady, Warning, false, 0.09, true, common},
		{"warning lamp led", 0.24, 0, Steady, Warning, true, 1, true, common},
		{"instruments", 4, 0, Steady, Clocks, true, 1, false, common},
		{usbSocket, 18, 0, Steady, Accessory, true, 1, false, common},
		{"heated grips", 42, 0, Steady, Accessory, false, 0.95, false, memory},
		{"accessory", 12, 0, Steady, Accessory, true, 1, false, common},
	}
}

// KindOf finds a kind by its name.
func KindOf(name string) (Kind, bool) {
	for _, k := range Kinds() {
		if k.Name == name {
			return k, true
		}
	}
	return Kind{}, false
}

// NominalAmps is the load's current at a nominal voltage: its own figure before its kind's.
func (l Load) NominalAmps(volts float64) float64 {
	k, _ := KindOf(l.Kind)
	switch {
	case l.Amps > 0:
		return l.Amps
	case l.Watts > 0:
		return l.Watts / volts
	case k.Amps > 0:
		return k.Amps
	}
	return k.Watts / volts
}

// DutyOf is the load's duty: its own before its kind's, steady if neither says.
func (l Load) DutyOf() Duty {
	if l.Duty != "" {
		return l.Duty
	}
	if k, ok := KindOf(l.Kind); ok {
		return k.Duty
	}
	return Steady
}

// GroupOf is what the grouping rules see in a load; accessory if it has no
// kind, since nobody knows what it does.
func (l Load) GroupOf() Group {
	if k, ok := KindOf(l.Kind); ok {
		return k.Group
	}
	return Accessory
}

// filament tells whether a load is a lamp with one: its resistance rises tenfold as it glows.
func (l Load) filament() bool {
	k, ok := KindOf(l.Kind)
	return ok && !k.LED && k.Cold < 0.2 && k.Group != Motor
}
