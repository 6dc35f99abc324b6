package inference

import "bellout/mapping"

// state is what stands behind a result.
type state struct{}

// Infer concludes everything that the readings say about the pod. It is total
// and deterministic, and independent of the order in which the slice holds the
// readings; bad evidence is a result, never an error. The pod must be valid.
func Infer(pod mapping.Pod, readings []mapping.Reading) Result { panic("not built yet") }

// Cell is the verdict on a pair of ends with one switch in one position and
// every other switch at rest: one cell of the contact table.
func (r Result) Cell(a, b mapping.EndID, sw mapping.SwitchID, pos mapping.PositionID) Verdict {
	panic("not built yet")
}

// Joined is the verdict on a pair of ends in any setting.
func (r Result) Joined(s mapping.Setting, a, b mapping.EndID) Verdict { panic("not built yet") }

// Why names the readings that the verdict on a pair in a setting rests on, in
// the order in which they were taken.
func (r Result) Why(s mapping.Setting, a, b mapping.EndID) []mapping.ReadingID {
	panic("not built yet")
}

// Proposal is the next sweep and what is still ahead: the bench seconds that
// the planner expects to need from here, and what the textbook grid would need
// for the whole pod.
type Proposal struct {
	Sweep       mapping.Sweep
	SecondsLeft float64
	GridSeconds float64
}

// Next proposes the sweep that takes away most doubt for each second at the
// bench. It is false when the stop rule is met or nothing that can be asked
// would help.
func Next(pod mapping.Pod, readings []mapping.Reading, bench mapping.Bench) (Proposal, bool) {
	return NewEngine(pod, readings).Next(bench)
}

// Engine is the incremental form of Infer and Next for one pod: it is used by
// one goroutine at a time, and equals the pure form at every step.
type Engine struct{}

// NewEngine begins with the readings that there are.
func NewEngine(pod mapping.Pod, readings []mapping.Reading) *Engine { panic("not built yet") }

// Add takes further readings.
func (e *Engine) Add(readings ...mapping.Reading) { panic("not built yet") }

// Fork copies the engine, to work out what would follow from an answer that has
// not been given yet.
func (e *Engine) Fork() *Engine { panic("not built yet") }

// Result is what the readings so far amount to.
func (e *Engine) Result() Result { panic("not built yet") }

// Next proposes a sweep, as the function Next does.
func (e *Engine) Next(bench mapping.Bench) (Proposal, bool) { panic("not built yet") }
