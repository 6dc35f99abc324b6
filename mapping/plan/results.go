package plan

// What is computed from a plan, as data for paper, screens and commands:
//
//	Read(name string, data []byte, open Opener) (Plan, error)  // error: Mistakes
//	Write(p Plan) []byte
//	ReadMap(data []byte, pod mapping.Pod) (mapping.Map, error), WriteMap(m mapping.Map) []byte
//	Check(p Plan) []Finding              // everything, what is meant left out
//	CheckAll(p Plan) []Judged            // the same with the meant ones, marked
//	Unmeant(all []Judged) []Finding      // those that are not
//	Work(p Plan) Worked
//	Fill(p Plan) Plan                    // zero fuses and sizes filled in
//	Unplug(p Plan) []WhatIf
//	Halves(p Plan, plug string) []PlugView
//	OldToNew(p Plan) []PlugRow
//	TryPlugs(p Plan) []PlugTry
//	ProofList(p Plan) []ProofCheck
//	FirstPower(p Plan) []PowerStep
//	Roadside(p Plan, symptom string) ([]string, error)
//	Parts(p Plan) []string               // what can be read by itself: loom, modules
//	ProofReadings(p Plan, part string) []ProofReading
//	Heard(list []ProofReading, values map[string]string) map[string]bool
//	NameFault(p Plan, part string, read map[string]bool) []Suspect
//	Cautions() []Caution, CautionsFor(p Plan) []Caution
//	New(name string, pods []NewPod) (p Plan, left []string)
//	Share(loads []ShareLoad, ways int) (Sharing, error), ShareLoads(p Plan, feed Feed) []ShareLoad
//	ShareOut(p Plan) []SharedFeed        // the plan's sharing against the best one
//	SizeWire(ask WireAsk) (WireAnswer, error)

// Worked is everything that is worked out of a plan, with its reasons.
type Worked struct {
	Ways     []WorkedWay
	Wires    []WorkedWire
	Loads    []WorkedLoad
	Contacts []WorkedContact
	Main     WorkedMain
	Charging WorkedCharging
	Reasons  []string // what applies to the whole plan
}

// WorkedWay is one way's burden. Amps are at nominal voltage.
type WorkedWay struct {
	Name     string
	Feed     Feed
	Loads    []string
	Steady   float64 // steady amps, all loads of the way that can burn at once
	Peak     float64 // everything at once
	Fuse     float64 // as planned, or as proposed where the plan has 0
	Colour   string
	Proposed float64  // smallest fuse that the rules ask for, 0: none will do
	Limit    float64  // largest fuse that its thinnest wire allows
	Thinnest string   // that wire, or the pod whose own wire it is
	Short    float64  // amps at a short at the farthest load
	Opens    float64  // seconds within which the fuse then opens, 0: not known
	Reasons  []string // one sentence each
}

// WorkedWire is one wire's burden at the harness's temperature.
type WorkedWire struct {
	Name     string
	Amps     float64 // most that it carries in the settings looked at
	Cranking bool    // while the starter turns: then Carries is for half a minute
	MM2      float64 // as planned, or as proposed where the plan has 0
	Proposed float64 // smallest size that carries Amps behind its fuse
	Carries  float64 // amps that the size may carry here
	Drop     float64 // volts lost in it at Amps
	Fuse     float64 // fuse in front of it, 0: none
	Reason   string
}

// WorkedLoad is what arrives at a load.
type WorkedLoad struct {
	Name     string
	Way      string  // "" if no setting feeds it
	Amps     float64 // nominal
	Volts    float64 // at the load, worst setting
	Drop     float64 // there and back, contacts included
	Back     float64 // part of Drop on the earth side
	Diodes   int     // on its way: each takes 0.5 to 0.8 V more, which is no fault
	Percent  float64
	ColdOhms float64
	Path     []string // from way to load, and on to earth
}

// WorkedContact is one pod contact's burden.
type WorkedContact struct {
	Pod     string
	Between [2]string
	Amps    float64
	Allowed float64
	Ohms    float64 // measured, or 0.02 if nobody measured it
	Drop    float64
	Relay   bool // wants a relay
	Reason  string
}

// WorkedMain is the feed: what main fuse and barrel carry.
type WorkedMain struct {
	Steady   float64
	Peak     float64
	Fuse     float64
	Proposed float64
	Contact  float64 // amps through the ignition contact
	Reasons  []string
}

// WorkedCharging is the balance while running.
type WorkedCharging struct {
	SteadyWatts float64
	Alternator  float64
	Spare       float64
	FuseLow     float64 // alternator amps x 1.25
	FuseHigh    float64 // alternator amps x 1.5
	Say         string
}

// SharedFeed is how the loads of one feed are shared over its ways, as planned
// and at best.
type SharedFeed struct {
	Feed    Feed
	Ways    []string
	Loads   []ShareLoad
	Best    Sharing // over as many ways, by index into Ways
	Broken  int     // rules that the plan's own sharing breaks
	Fullest float64 // most steady amps on one of the plan's ways
	Say     []string

	fuses []float64 // what the plan's own ways ask for
}

// WhatIf is what happens when one plug is pulled or one way's fuse is out.
type WhatIf struct {
	Kind   string // "plug" or "fuse"
	Where  string // its name
	Dies   []string
	Lives  []string
	Beyond []string // dies outside the plug's own module
}

// PlugView is one half of a plug as drawn from one face: rows of cavity
// numbers, left to right, 0 where there is no cavity.
type PlugView struct {
	Plug  string
	Half  Half
	Title string // in words: "PL, loom half, seen from the wire entry"
	Rows  [][]int
}

// PlugRow is one cavity: what was in the old plug, what lies on both halves.
type PlugRow struct {
	Plug       string
	Cavity     int
	Old        string
	What       string
	Din        string
	LoomWire   string
	LoomCode   string // colour, base/tracer
	ModuleWire string
	ModuleCode string
	MM2        float64
	Role       string // "feed", "earth", "signal", "spare", "blank"
	Way        string // the way that feeds it, if one
}

// PlugTry is one plug pushed into the socket of another.
type PlugTry struct {
	Plug, Socket string
	Fits         bool
	Effects      []string // what would happen, "" if it does not fit
	Harm         bool     // a short, two ways tied or a load that burns unasked
}

// ProofCheck is one line of the proof list.
type ProofCheck struct {
	ID     string // stable: "3-W1"
	Group  string
	Do     string
	Red    string
	Black  string
	Set    string // levers, "" if they do not matter
	Expect string // "OL", "0.2 ohm or less over leads", "0.25 to 0.35 ohm"
	Unit   string // "ohm", "volt", "amp", "tick"
	Min    float64
	Max    float64 // 0 with Min 0: only Expect says
	Bad    string  // what a bad reading means
}

// PowerStep is one step of the order of first power.
type PowerStep struct {
	Number int
	Do     string
	Expect string
	Amps   float64 // 0: not an amps step
	Low    float64
	High   float64
	Bad    string
}

// Caution is a safety caution and where it is shown.
type Caution struct {
	Where string
	Say   string
}

// Judged is a finding with the mark that makes it meant, if one does.
type Judged struct {
	Finding
	Meant bool
	Why   string
}

// ProofReading is one reading of a finished part against the plan, the part
// unplugged from everything, fuses and relays out. Red and Black are bunches
// of points; Joined is what the plan says.
type ProofReading struct {
	ID     string // "loom:PL.3|W1"
	Red    []string
	Black  []string
	Joined bool
	Max    float64 // ohms over leads if joined
	Say    string  // "PL.3 to S5's net: beep, 0.2 ohm or less"
}

// Suspect is a fault that explains every reading: what it is and, where
// several do, the reading that would settle it.
type Suspect struct {
	Kind   string // "swapped", "open", "joined"
	Points []string
	Say    string
	Retest string
}
