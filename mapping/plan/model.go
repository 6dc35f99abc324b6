package plan

import (
	"strings"

	"bellout/mapping"
)

// Plan is a whole harness. Lengths are in metres, sizes in mm2, temperatures
// in degrees Celsius, electrical units plain (volts, amps, ohms, watts).
//
// Everything that can be wired has points, written "name.terminal":
//
//	battery.+ battery.-        the battery's lugs
//	main.in main.out           the main fuse
//	charge.in charge.out       the charging fuse (in: regulator side)
//	alternator.+ alternator.-  the regulator's output
//	block.15 block.30          the block's two feeds (ignition, battery)
//	W1                         the output of way 1, behind its fuse
//	left.3                     end 3 of pod "left"
//	horn.+ horn.-              a load
//	R1.30 .87 .87a .85 .86     a relay
//	D1.+ D1.-                  a diode (+ is the anode), resistor, link
//	F1.49 F1.49a F1.31         a flasher
//	PL.4                       cavity 4 of plug PL; a wire lands on the half
//	                           of the module that it lies in
//	S1, E1                     a splice, an earth point
type Plan struct {
	Name     string `toml:"name"` // the job, one machine
	Date     string `toml:"date"` // as the builder gives it; no clock is read
	Revision string `toml:"revision"`
	By       string `toml:"by"`
	Note     string `toml:"note"`

	Volts       float64 `toml:"volts"`        // nominal: 6, 12, 24 or 48, 12 unless said
	Temperature float64 `toml:"temperature"`  // of the harness in use, 60 unless said
	Insulation  float64 `toml:"insulation"`   // temperature rating of the wire, 105 unless said
	DropPercent float64 `toml:"drop_percent"` // most drop there and back for what runs on, 5 unless said

	Supply   Supply     `toml:"supply"`
	Block    Block      `toml:"block"`
	Modules  []Module   `toml:"module"`
	Pods     []Pod      `toml:"pod"`
	Loads    []Load     `toml:"load"`
	Relays   []Relay    `toml:"relay"`
	Parts    []Part     `toml:"part"`
	Earths   []Earth    `toml:"earth"`
	Splices  []Splice   `toml:"splice"`
	Plugs    []Plug     `toml:"plug"`
	Wires    []Wire     `toml:"wire"`
	Expected []Expected `toml:"expected"`
	Bypasses []Bypass   `toml:"bypass"`
}

// Supply is the battery, its main fuse and what charges it.
type Supply struct {
	Battery         string  `toml:"battery"`          // "lead" or "lithium"
	AmpHours        float64 `toml:"amp_hours"`        // 0: not said
	MainFuse        float64 `toml:"main_fuse"`        // amps; 0: none, which is a finding
	MainFuseMM      float64 `toml:"main_fuse_mm"`     // wire from battery plus to the main fuse, millimetres
	AlternatorWatts float64 `toml:"alternator_watts"` // 0: nothing charges
	ChargeFuse      float64 `toml:"charge_fuse"`      // amps; fuse between regulator and battery
	ChargeFuseMM    float64 `toml:"charge_fuse_mm"`   // wire from the charging fuse to the battery, millimetres
	ContactAmps     float64 `toml:"contact_amps"`     // what the ignition barrel's contact may carry, 0: 10
}

// Feed says where a way gets its current.
type Feed string

// The two feeds of a distribution block.
const (
	FromIgnition Feed = "ignition" // bus 15: dead when the key is off
	FromBattery  Feed = "battery"  // bus 30: always live
)

// Block is the distribution block. It lies in Module.
type Block struct {
	Module string `toml:"module"`
	Ways   []Way  `toml:"way"`
}

// Way is one fused output of the block.
type Way struct {
	Name string  `toml:"name"` // "W1"; also the name of its point
	Fuse float64 `toml:"fuse"` // amps; 0: to be worked out
	Feed Feed    `toml:"feed"`
	What string  `toml:"what"`
}

// Loom is the module name of everything that is in no module: the trunk.
const Loom = "loom"

// Module is one area of the machine that unplugs as a whole. Wires of the
// trunk lie in module "loom", which need not be listed.
type Module struct {
	Name  string `toml:"name"`
	Place string `toml:"place"` // where on the machine
}

// Pod is a switch pod, barrel, sensor or lever switch with its contact table.
// The table comes from files (PodFile, MapFile: the JSON forms of the job's
// pod description and map) or stands inline as Switches and Contacts; Desc and
// Map hold what was read, either way.
type Pod struct {
	Name    string `toml:"name"`
	Module  string `toml:"module"`
	PodFile string `toml:"pod_file"`
	MapFile string `toml:"map_file"`

	Switches []InlineSwitch  `toml:"switches"`
	Contacts []InlineContact `toml:"contacts"`
	Ends     []string        `toml:"ends"` // inline: the ends, in order

	Ohms     []Measured `toml:"ohms"`      // contacts measured in ohms, leads taken off
	WireMM2  float64    `toml:"wire_mm2"`  // the pod's own wires, 0: 0.35
	MaxAmps  float64    `toml:"max_amps"`  // what a contact may carry, 0: 5 (common practice)
	Key      string     `toml:"key"`       // the switch that is the ignition key, "" if none
	KeyOff   []string   `toml:"key_off"`   // positions of Key in which the machine is off
	BodyTo   string     `toml:"body_to"`   // the earth point that the metal body touches, "" if insulated
	MadeFrom string     `toml:"made_from"` // maker's description or serial, for the page

	Desc mapping.Pod `toml:"-"`
	Map  mapping.Map `toml:"-"`
}

// InlineSwitch is a switch written in the plan itself.
type InlineSwitch struct {
	Name      string   `toml:"name"`
	Positions []string `toml:"positions"`
	Rest      string   `toml:"rest"`
	Momentary bool     `toml:"momentary"`
}

// InlineContact joins two ends while every named switch stands as said. When
// is empty for a join that is always there; "dip=low", "kill=run, start=in", "lights=park|on".
type InlineContact struct {
	Join  []string `toml:"join"` // two ends
	When  string   `toml:"when"`
	Grade string   `toml:"grade"` // "proved", "likely", "open question", "not tested"
}

// Measured is the resistance of a pod between two ends, leads taken off.
type Measured struct {
	Between []string `toml:"between"`
	Ohms    float64  `toml:"ohms"`
}

// Duty says for how long a load draws its current.
type Duty string

// The duties.
const (
	Steady Duty = "steady" // for as long as the machine runs
	Brief  Duty = "brief"  // seconds to minutes: horn, indicators, brake lamp
	Peak   Duty = "peak"   // a moment: starter coil
)

// Load is what uses current. Give Watts or Amps, or a Kind of the library
// that has them.
type Load struct {
	Name   string   `toml:"name"`
	Module string   `toml:"module"`
	Kind   string   `toml:"kind"`  // of the library, see Kinds
	Watts  float64  `toml:"watts"` // at the machine's nominal voltage (common practice)
	Amps   float64  `toml:"amps"`
	Duty   Duty     `toml:"duty"`
	Always bool     `toml:"always"` // may be fed with the key off, and is meant to be
	Works  []string `toml:"works"`  // when it is meant to work: any of these, "barrel.key=on, left.dip=main"
	Source string   `toml:"source"` // where the figure comes from
}

// Relay has terminals 30, 87 (and 87a), coil 85 and 86 (DIN 72552 names).
type Relay struct {
	Name        string  `toml:"name"`
	Module      string  `toml:"module"`
	CoilOhms    float64 `toml:"coil_ohms"`    // 0: 85
	ContactAmps float64 `toml:"contact_amps"` // 0: 30
	Suppressed  bool    `toml:"suppressed"`   // coil has a diode or resistor across it
	What        string  `toml:"what"`
}

// Part is a small component in the loom.
type Part struct {
	Name   string  `toml:"name"`
	Module string  `toml:"module"`
	Kind   string  `toml:"kind"` // "diode", "resistor", "flasher", "link" (a bare join)
	Ohms   float64 `toml:"ohms"` // resistor
	Amps   float64 `toml:"amps"` // most that it may carry, 0: not said
}

// Earth is a point on the frame or engine. Main marks the common stud, whose
// wire goes to battery.-; an earth that is not Main needs a wire to it, unless
// OnFrame says that the metal itself carries the current.
type Earth struct {
	Name    string `toml:"name"`
	Place   string `toml:"place"`
	Main    bool   `toml:"main"`
	OnFrame bool   `toml:"on_frame"`
}

// Splice is a permanent join of wires in the loom.
type Splice struct {
	Name   string `toml:"name"`
	Place  string `toml:"place"`
	Module string `toml:"module"` // "" for the loom
}

// Half names one half of a plug.
type Half string

// The halves of a plug, neither and both.
const (
	LoomHalf   Half = "loom"
	ModuleHalf Half = "module"
	NoHalf     Half = "none"
	BothHalves Half = "both" // of Plug.Shrouded only
)

// Face says from where the cavities of a plug are counted.
type Face string

// The two faces; what is 1 on the left of one is 1 on the right of the other.
const (
	WireEntry Face = "wire entry"
	Mating    Face = "mating"
)

// Plug joins a module to the loom. Cavities are numbered from 1, row by row
// from the top left, as seen on the face given of the LOOM half.
type Plug struct {
	Name     string   `toml:"name"`
	Module   string   `toml:"module"`
	Housing  string   `toml:"housing"` // kind of housing: equal words mean that they fit each other
	Cavities int      `toml:"cavities"`
	Rows     int      `toml:"rows"`
	Face     Face     `toml:"face"`
	Shrouded Half     `toml:"shrouded"`  // the half with the female terminals that cannot be touched
	LoomKind string   `toml:"loom_kind"` // "plug" or "socket" housing on the loom half, as its maker says
	Keying   string   `toml:"keying"`    // key, blanked cavity: equal or empty keying does not keep plugs apart
	Place    string   `toml:"place"`     // plugs at one place are within reach of each other
	Terminal string   `toml:"terminal"`  // terminal, e.g. "2.8 mm sealed"
	Fill     []Cavity `toml:"fill"`
}

// Cavity says what a cavity is for.
type Cavity struct {
	Number int    `toml:"cavity"`
	What   string `toml:"what"`  // function, in words; compared with what the wires say
	Din    string `toml:"din"`   // DIN 72552 terminal, if there is one
	Old    string `toml:"old"`   // cavity of the plug that was cut off
	Blank  bool   `toml:"blank"` // closed by a blanking or keying plug
}

// Wire goes from one point to another. In is the module in which it lies,
// "loom" for the trunk. Colour and Tracer are IEC 60757 letters, kept apart.
type Wire struct {
	Name   string  `toml:"name"`
	From   string  `toml:"from"`
	To     string  `toml:"to"`
	MM2    float64 `toml:"mm2"` // 0: to be worked out
	Colour string  `toml:"colour"`
	Tracer string  `toml:"tracer"`
	Length float64 `toml:"length"` // metres
	In     string  `toml:"in"`
	What   string  `toml:"what"`
}

// Expected marks a finding as meant: it is left out of Check's findings when
// kind and where fit. Why is printed on the page.
type Expected struct {
	Kind  string `toml:"kind"`
	Where string `toml:"where"`
	Why   string `toml:"why"`
}

// Bypass is an interlock that the harness goes around on purpose: a stand,
// clutch or neutral switch bridged or left out. It is no finding; it stands in
// capitals on every page, so that nobody relies on what is not there.
type Bypass struct {
	Interlock string `toml:"interlock"` // "side stand switch"
	How       string `toml:"how"`       // "its wires are joined in plug PE"
	Why       string `toml:"why"`
}

// Notice is the bypass as it is shown: in capitals.
func (b Bypass) Notice() string {
	s := "BYPASSED: " + strings.ToUpper(b.Interlock)
	for _, more := range []string{b.How, b.Why} {
		if more != "" {
			s += ". " + strings.ToUpper(more)
		}
	}
	return s + "."
}

// Finding is one thing that is wrong, or that was proved impossible to rule
// out. Setting names only the switches that matter, "" if none does. Path is
// the way that the current takes, point by point.
type Finding struct {
	Kind    string
	Where   string
	Setting string
	Say     string
	Path    []string
}
