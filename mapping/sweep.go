package mapping

// Leads says how the meter is held. With PairLeads black is a clip and red a
// needle, one end each; with BunchLeads both sides are clipped and may hold
// several ends as one.
type Leads int

// The two ways to hold the leads.
const (
	PairLeads Leads = iota
	BunchLeads
)

// String gives the word used on the command line.
func (l Leads) String() string {
	if l == BunchLeads {
		return "bunch"
	}
	return "pair"
}

// Bench is what the builder has in hand: where the clips are and where the
// levers are believed to stand. A nil Red or Black is a free clip; a nil
// Levers means that nobody vouches for them.
type Bench struct {
	Leads  Leads
	Red    []EndID
	Black  []EndID
	Levers Setting
}

// Sweep is one instruction: clips set once, then a reading a step. Every step
// names the position of every switch. A control beep has Control set, one end
// on both sides and no steps.
type Sweep struct {
	ID      SweepID
	Red     []EndID
	Black   []EndID
	Mode    Mode
	Steps   []Setting
	Control bool
	Why     Why
}

// Reason is why an instruction is given; screens and the rig phrase it.
type Reason int

// The reasons for a sweep.
const (
	Survey   Reason = iota // little is known yet: find what follows which lever
	Separate               // several maps still fit: tell them apart
	Confirm                // one map fits best: try to prove it wrong
	Settle                 // readings clash: re-test
	BiteTest               // a control beep: does the clip still bite?
	Partner                // a silent switch: try it with a partner
	Asked                  // the builder's own reading out of turn
)

// Why is what an instruction is expected to tell, as data.
//
// Maps is the number of maps still in play that the sweep can tell apart, Bits
// the doubt it is expected to take away, Seconds its price at the bench by the
// cost table. Ends and Switches name what it is about.
type Why struct {
	Reason   Reason
	Maps     int
	Bits     float64
	Seconds  float64
	Ends     []EndID
	Switches []SwitchID
}
