package tui

import (
	"io"
	"time"

	"bellout/inference"
	"bellout/mapping"
)

// Keeper keeps a job's log. Append returns the entries with the numbers under
// which they are kept, and returns only when they are on disk.
type Keeper interface {
	Append(entries ...mapping.Entry) ([]mapping.Entry, error)
}

// Engine concludes and proposes for one pod. It is used by one goroutine at a
// time. Advance takes in the next few of the readings that it has, and tells how many
// it has taken in and whether there are more. NewEngine gives the real one.
type Engine interface {
	Add(readings ...mapping.Reading)
	Advance() (in int, more bool)
	Fork() Engine
	Findings() Findings
	Next(bench mapping.Bench) (inference.Proposal, bool)
}

// Findings is what an engine concludes at one moment. Summary has the map, the
// doubts and what is open; the others answer for single claims.
type Findings interface {
	Summary() inference.Result
	Joined(s mapping.Setting, a, b mapping.EndID) inference.Verdict
	Why(s mapping.Setting, a, b mapping.EndID) []mapping.ReadingID
}

// Player stands in for pod and meter, for practice. Meter says what the meter
// shows at one step of a sweep, counted from 0; a control beep is step 0. It is
// called once each time a step comes up, so it may err by chance.
// Coach is a sentence from an old hand about the sweep in hand, or empty.
type Player interface {
	Meter(s mapping.Sweep, step int) (mapping.Outcome, float64)
	Coach(s mapping.Sweep, step int) string
}

// Judge is a Player that knows the truth: in how many of all settings a map is
// right. With it the practice ends with a score.
type Judge interface {
	Right(m mapping.Map) (right, all int)
}

// Sheets makes what leaves the program: the pinout as text for the screen, and
// the same written somewhere in one of Formats. Export says where. Labels is
// the format of what is stuck on the wires before they are cut.
type Sheets interface {
	Formats() []string
	Text(w *mapping.PodWork, r inference.Result) (string, error)
	Export(format string, pod mapping.PodKey, w *mapping.PodWork, r inference.Result) (where string, err error)
}

// Labels is the format of Sheets.Export that makes labels for the wires.
const Labels = "labels"

// Options is what the terminal interface is started with. Keeper, NewEngine,
// In, Out and Now are required.
type Options struct {
	Keeper    Keeper
	Log       []mapping.Entry // the job so far, in order
	Pod       mapping.PodKey  // pod to open; empty: the list, or describe the first
	NewEngine func(pod mapping.Pod, readings []mapping.Reading) Engine
	Leads     mapping.Leads // offered when a sitting begins
	Harness   Harness       // nil: no plan here
	Sheets    Sheets        // nil: the screen's own table, no export
	Player    Player        // nil: the builder answers
	Speak     func(sentence string) error
	Spoken    func()              // waits until what Speak was given has been said; nil: Speak does
	Ears      Ears                // nil: no hands-free answers
	Keys      map[string][]string // action to keys, over the usual ones
	Theme     string              // "dark", "light" or "none"; empty is "dark"
	Quiet     bool                // no bell
	Plain     bool                // line mode
	Screen    bool                // Out is a terminal that can be drawn on
	Columns   int                 // of that terminal, for line mode; 0: not known
	Bounce    time.Duration       // a second answer key within it is refused; 0: 80 ms; below 0: never
	CrashLog  io.Writer           // where a panic's trace is kept; nil: standard error only
	In        io.Reader
	Out       io.Writer
	Now       func() time.Time
}
