package mapping

// ReadingID is the number under which a reading is kept in its job; it grows
// in the order in which readings were taken. Zero: not kept yet.
type ReadingID uint64

// SweepID ties the readings taken in a row with the clips left alone. Zero: a
// reading taken by itself.
type SweepID uint64

// Mode is what the meter was set to.
type Mode int

// The modes of a meter that bellout knows.
const (
	Beep Mode = iota
	Ohms
	Diode
)

// MostDiodeVolts is the most that the diode range of a bench meter can show: it
// puts 3 to 4 V on its open leads (common practice). What is above comes from a
// battery.
const MostDiodeVolts = 4.0

// Outcome is what the meter said. The zero value is no outcome at all, so that
// a forgotten field is never taken for a silence.
type Outcome int

// The outcomes. Value goes with Reading.Value; CannotReach is the builder's
// word that the probe would not go there.
const (
	NoOutcome Outcome = iota
	Sounded
	Silent
	Value
	OverRange
	Flicker
	NotSure
	CannotReach
)

// Reading is what the meter said between the red ends and the black ends in
// one setting. It is never edited, only struck out. Red is the meter's positive
// lead, so that a diode reading has its direction.
//
// Value is in ohms (mode Ohms) or volts from red to black (mode Diode).
// Session counts the sittings: between two of them nobody vouches for levers
// or clips. A control beep has Control set and the same end on both sides.
type Reading struct {
	ID      ReadingID
	Session int
	Sweep   SweepID
	Step    int
	Red     []EndID
	Black   []EndID
	Setting Setting
	Mode    Mode
	Outcome Outcome
	Value   float64
	Control bool
	Note    string
}

// BeepThreshold is the resistance in ohms at or under which a typical meter's
// continuity tone sounds; 50 in published manuals (testdata/reference
// meter_facts.csv), 30 to 120 in the field.
const BeepThreshold = 50.0

// Continuity is what a reading says about the join between its two sides.
type Continuity int

// The three answers; the zero value says nothing.
const (
	Unknown Continuity = iota
	Open
	Closed
)

// String gives the word of the rig's protocol.
func (c Continuity) String() string {
	switch c {
	case Open:
		return "open"
	case Closed:
		return "closed"
	}
	return "not sure"
}

// Continuity reads a reading as joined or not, as far as it says so: a tone,
// or ohms under the threshold, is closed; silence or over range is open. A
// value between says nothing about a bare contact (it is a component, dirt or
// fingers), nor do flicker, not sure and diode volts.
func (r Reading) Continuity() Continuity {
	switch r.Outcome {
	case Sounded:
		return Closed
	case Silent:
		return Open
	case OverRange:
		if r.Mode != Diode {
			return Open
		}
	case Value:
		if r.Mode == Ohms && r.Value <= BeepThreshold {
			return Closed
		}
	}
	return Unknown
}
