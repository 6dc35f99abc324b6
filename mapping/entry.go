package mapping

import "fmt"

// PodKey names a pod within its job.
type PodKey string

// Entry is one record of a job's log. The log only ever grows: exactly one of
// the pointers is set, Seq is given by the store and grows by one, and At is
// the caller's clock in milliseconds since 1970 (0: not known). Everything
// else about a job is computed from its entries.
type Entry struct {
	Seq uint64
	At  int64
	Pod PodKey

	Title    *Title
	Describe *Pod
	Sitting  *Sitting
	Ask      *Ask
	Reading  *Reading
	Strike   *Strike
	Decision *Decision
	Remark   *Remark
	Check    *CheckResult
}

// Title names the job (one machine's worth of work).
type Title struct{ Name string }

// Sitting begins a sitting: from here on nobody vouches for levers or clips
// set before. Leads says how the meter is held in it.
type Sitting struct {
	Number int
	Leads  Leads
}

// Ask is a sweep that was put to the builder. Its ID is the sweep's.
type Ask struct{ Sweep Sweep }

// Strike strikes out readings, with the reason. Undo restores them instead.
type Strike struct {
	Readings []ReadingID
	Reason   string
	Undo     bool
}

// DecisionKind says what the builder decided.
type DecisionKind int

// The decisions that a builder can take against the program's proposal.
const (
	NameFunction DecisionKind = iota // Value: the function of End, in the builder's words
	SetTerminal                      // Value: the DIN 72552 number of End
	SetNewCavity                     // Value: the cavity of End in the new plug
	SetAside                         // the doubt made of Readings is set aside
	PlugFace                         // Value: which face of the plug is meant
	WireFate                         // Value: use, insulate or leave
	OhmThreshold                     // Value: up to how many ohms this meter beeps; in older jobs, nothing follows from it
	LeadOhms                         // Value: resistance of the leads in ohms
)

// Decision is the builder's word, overruling what the program proposed.
type Decision struct {
	Kind     DecisionKind
	End      EndID
	Readings []ReadingID
	Value    string
}

// Remark is a free note on the job, or on one reading.
type Remark struct {
	Text    string
	Reading ReadingID
}

// CheckResult is a value read while the finished harness is proved.
type CheckResult struct {
	Check string
	Value string
	Pass  bool
}

// Validate makes sure that an entry says exactly one thing, and that a pod which
// it describes can be one: whatever is computed from a job relies on that. No
// job is refused for a colour that is none; Apply leaves it out.
func (e Entry) Validate() error {
	n := 0
	for _, set := range []bool{
		e.Title != nil, e.Describe != nil, e.Sitting != nil, e.Ask != nil, e.Reading != nil,
		e.Strike != nil, e.Decision != nil, e.Remark != nil, e.Check != nil,
	} {
		if set {
			n++
		}
	}
	if n != 1 {
		return fmt.Errorf("log entry %d says %d things instead of one", e.Seq, n)
	}
	if e.Describe != nil {
		if err := e.Describe.validateForm(); err != nil {
			return fmt.Errorf("log entry %d describes what is no pod: %w", e.Seq, err)
		}
	}
	return nil
}
