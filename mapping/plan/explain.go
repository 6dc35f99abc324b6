package plan

// Key explains one key of a plan file.
type Key struct{ Name, Say string }

// Keyed is one table of a plan file with its keys; Header is empty for the keys
// at the top of the file.
type Keyed struct {
	Header string
	Say    string
	Keys   []Key
}

// Explain gives every key of a plan file in the order of the file, for whoever
// writes one by hand. Read says what is wrong, with its line; Explain says what
// could be right.
func Explain() []Keyed {
	return []Keyed{
		{"", "the plan", []Key{
			{"name", "the machine"},
			{"date", "for the page, as you write it"},
			{"revision", "for the page"},
			{"by", "who built and read it"},
			{"note", "for the build sheet"},
			{"volts", "nominal: 6, 12, 24 or 48, 12 if not said"},
			{"temperature", "of the harness in use, degrees C, 60 if not said"},
			{"insulation", "what the wire's insulation stands, degrees C, 105 if not said"},
			{"drop_percent", "most volts lost there and back for what runs on, 5 if not said"},
		}},
		{"[supply]", "battery, main fuse, charging", []Key{
			{"battery", `"lead" or "lithium"`},
			{"amp_hours", "of the battery"},
			{"main_fuse", "amps"},
			{"main_fuse_mm", "wire from the battery to it, millimetres"},
			{"alternator_watts", "0: nothing charges"},
			{"charge_fuse", "between regulator and battery, amps"},
			{"charge_fuse_mm", "wire from it to the battery, millimetres"},
			{"contact_amps", "what the barrel's contact may carry, 10 if not said"},
		}},
		{"[block]", "the distribution block", []Key{{"module", "where it lies"}}},
		{"[[block.way]]", "one fused way", []Key{
			{"name", `"W1"; also the name of its point`},
			{"fuse", "amps, a rating of ISO 8820-3; 0 or left out: worked out"},
			{"feed", `"ignition" (live with the key on) or "battery" (always live)`},
			{"what", "what it feeds, in words"},
		}},
		{"[[module]]", "an area of the machine that unplugs as a whole", []Key{
			{"name", `the trunk is "loom" and need not be listed`},
			{"place", "where on the machine"},
		}},
		{"[[pod]]", "a switch pod, barrel, lever switch or sensor", []Key{
			{"name", "its ends are the points name.end"},
			{"module", "where it lies"},
			{"pod_file", "description of the pod, as bellout plan new writes it"},
			{"map_file", "its map, likewise"},
			{"switches", `without files: { name, positions, rest, momentary }`},
			{"contacts", `without files: { join = ["1", "2"], when = "kill=run", grade = "proved" }`},
			{"ends", "without files: its ends"},
			{"ohms", `what was measured: { between = ["1", "2"], ohms = 0.04 }, leads taken off`},
			{"wire_mm2", "of its own wires, 0.35 if not said"},
			{"max_amps", "what a contact may carry, 5 if not said (common practice)"},
			{"key", "the switch that is the ignition key, if one is"},
			{"key_off", "its positions in which the machine is off"},
			{"body_to", "the earth point that its metal body touches"},
			{"made_from", "what it is, for the page"},
		}},
		{"[[load]]", "what uses current", []Key{
			{"name", "its points are name.+ and name.-"},
			{"module", "where it lies"},
			{"kind", "of the library below"},
			{"watts", "at the machine's voltage; before the library's figure"},
			{"amps", "instead of watts"},
			{"duty", `"steady", "brief" or "peak"; before the library's`},
			{"always", "true if it is meant to be fed with the key off"},
			{"works", `when it is meant to work: ["barrel.key=on, left.dip=low|main"], any of several`},
			{"source", "where its figure comes from, printed with the ways"},
		}},
		{"[[relay]]", "points name.30, .87, .87a, .85, .86", []Key{
			{"name", ""},
			{"module", "empty for the trunk"},
			{"coil_ohms", "85 if not said"},
			{"contact_amps", "30 if not said"},
			{"suppressed", "true if a diode or resistor lies across its coil"},
			{"what", "what it is for"},
		}},
		{"[[part]]", "a diode, resistor or link: points name.+ (anode), name.-; a flasher: name.49, .49a, .31", []Key{
			{"name", ""},
			{"module", "empty for the trunk"},
			{"kind", `"diode", "resistor", "flasher" or "link"`},
			{"ohms", "of a resistor"},
			{"amps", "most that it may carry"},
		}},
		{"[[earth]]", "an earth point", []Key{
			{"name", "also the name of its point"},
			{"place", "where on the machine"},
			{"main", "true for the common stud, which has the wire to battery.-"},
			{"on_frame", "true if the metal itself carries the current"},
		}},
		{"[[splice]]", "a permanent join", []Key{
			{"name", "also the name of its point"},
			{"place", ""},
			{"module", "empty for the trunk"},
		}},
		{"[[plug]]", "joins a module to the trunk; points name.cavity", []Key{
			{"name", ""},
			{"module", ""},
			{"housing", "equal words: they fit each other"},
			{"cavities", "from 1, row by row from the top left of the face"},
			{"rows", "1 if not said"},
			{"face", `of the loom half: "wire entry" or "mating"`},
			{"shrouded", `the half whose terminals cannot be touched: "loom", "module", "both" or "none"`},
			{"loom_kind", `"plug" or "socket", as the maker says of the loom half`},
			{"keying", "what keeps it apart from a like housing"},
			{"place", "plugs at one place are within reach of each other"},
			{"terminal", `"2.8 mm sealed"`},
			{"fill", "{ cavity, what, din, old, blank }: function, DIN 72552 number, cavity of the old plug, closed"},
		}},
		{"[[wire]]", "from one point to another", []Key{
			{"name", ""},
			{"from", "a point"},
			{"to", "a point"},
			{"mm2", "0 or left out: worked out"},
			{"colour", "two letters of IEC 60757: BK BN RD OG YE GN BU VT GY WH PK TQ"},
			{"tracer", "two letters, if it has one"},
			{"length", "metres"},
			{"in", `the module that it lies in, "loom" if not said`},
			{"what", "what it carries, in words"},
		}},
		{"[[expected]]", "a finding that is meant", []Key{
			{"kind", "as plan check says it"},
			{"where", "as plan check says it; a * at the end stands for anything"},
			{"why", "printed on the page"},
		}},
		{"[[bypass]]", "an interlock gone around on purpose: in capitals on every page", []Key{
			{"interlock", "the stand, clutch or neutral switch"},
			{"how", "where its wires are joined"},
			{"why", ""},
		}},
	}
}

// FixedPoints are the points that every plan has.
func FixedPoints() []Key {
	return []Key{
		{"battery.+ battery.-", "the battery's lugs"},
		{"main.in main.out", "the main fuse, battery side and machine side"},
		{"charge.in charge.out", "the charging fuse, regulator side and battery side"},
		{"alternator.+ alternator.-", "the regulator's output"},
		{"block.15 block.30", "the block's feeds: ignition, battery"},
	}
}
