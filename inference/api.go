package inference

import "bellout/mapping"

// Verdict is what the engine says of one claim: joined or not, how sure, and by
// how many bits the best map would become dearer were it turned round (26 at
// the most: no further map is looked at).
type Verdict struct {
	Joined bool
	Grade  mapping.Grade
	Bits   float64
}

// Culprit is one explanation of a doubt, with its price in bits.
type Culprit struct {
	Kind     CulpritKind
	Readings []mapping.ReadingID // the readings that it makes wrong
	Switch   mapping.SwitchID    // for WrongLever
	Actual   mapping.PositionID  // where the lever must have stood
	Bits     float64
}

// CulpritKind names what may have gone wrong at the bench.
type CulpritKind int

// The kinds of culprits.
const (
	OddReading CulpritKind = iota
	SlippedClip
	WrongLever
	HalfPressed
	Intermittent
)

// Doubt is a smallest set of readings that cannot all be right: drop any one
// of them and the rest agree. Retest takes once more the one that the best map
// calls wrong; Culprits are the explanations, cheapest first.
type Doubt struct {
	Readings []mapping.ReadingID
	Culprits []Culprit
	Retest   mapping.Sweep
}

// Common is the end that more of a switch's contacts share than any other, two
// at least. Known is false while the switch's contacts are not settled; None
// says that there is no such end.
type Common struct {
	Known bool
	None  bool
	End   mapping.EndID
}

// Result is everything the engine concludes from a pod and its readings.
//
// Confidence is the chance that the map's links give the nets of every setting
// that the builder has the hands to make; what is listed as unresolved is
// vouched for neither way, so what is left over is surer than that. Done says
// that the stop rule is met.
type Result struct {
	Map         mapping.Map
	Confidence  float64
	Done        bool
	Doubts      []Doubt
	Commons     map[mapping.SwitchID]Common
	SilentOnly  []mapping.SwitchID // switches that have changed nothing so far
	OpenInWords []OpenPoint

	state *state
	adds  *additions
}

// OpenPoint is one thing that is not known yet, as data for a sentence: the
// pair and the condition under which a join is not ruled out or not confirmed.
type OpenPoint struct {
	A, B   mapping.EndID
	When   mapping.Condition
	Joined bool    // the best guess
	Bits   float64 // by how much the map in which it is otherwise is dearer
}
