package mapping

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// The colours of IEC 60757:2021 table 1, in the table's order; the order in
// which the standard joins the codes of one conductor.
var colourTable = []struct {
	code Colour
	name string
}{
	{"BK", "black"}, {"BN", "brown"}, {"RD", "red"}, {"OG", "orange"}, {"YE", "yellow"},
	{"GN", "green"}, {"BU", "blue"}, {"VT", "violet"}, {"GY", "grey"}, {"WH", "white"},
	{"PK", "pink"}, {"GD", "gold"}, {"TQ", "turquoise"}, {"SR", "silver"},
}

// Colours lists the codes of IEC 60757 in the order of its table 1, the
// combination GNYE aside.
func Colours() []Colour {
	out := make([]Colour, len(colourTable))
	for i, c := range colourTable {
		out[i] = c.code
	}
	return out
}

// Order is the colour's place in table 1 of IEC 60757, from 1; 0 for a code
// that the table does not have.
func (c Colour) Order() int {
	return 1 + slices.IndexFunc(colourTable, func(e struct {
		code Colour
		name string
	}) bool {
		return e.code == c
	})
}

// Name is the colour in English, or the code itself where it is none of the
// table's.
func (c Colour) Name() string {
	if n := c.Order(); n > 0 {
		return colourTable[n-1].name
	}
	return string(c)
}

// JoinIEC is the code of one conductor of several colours: the codes joined
// with nothing between, in table order and not base before tracer
// (IEC 60757:2021 clause 5.1). It loses which colour is the base. A colour
// given twice is written once; codes that the table does not have come last.
// Green with yellow is the table's own combination, GNYE.
func JoinIEC(colours ...Colour) string {
	var in []Colour
	for _, c := range colours {
		if c != "" && !slices.Contains(in, c) {
			in = append(in, c)
		}
	}
	if len(in) == 2 && slices.Contains(in, "GN") && slices.Contains(in, "YE") {
		return greenYellow
	}
	slices.SortStableFunc(in, func(a, b Colour) int { return cmp.Compare(a.rank(), b.rank()) })
	var s strings.Builder
	for _, c := range in {
		s.WriteString(string(c))
	}
	return s.String()
}

// greenYellow is the one combination that has a line of its own in the table,
// after all single colours.
const greenYellow = "GNYE"

// CoreList names the separate cores of a cable, joined with plus signs in
// table order (the 1983 edition of IEC 60757): BK+BK+BN+BU+GNYE. Each core is
// the joined code of one conductor, as JoinIEC gives it.
func CoreList(cores ...string) string {
	list := slices.Clone(cores)
	key := func(c string) []int {
		if c == greenYellow {
			return []int{len(colourTable) + 2}
		}
		var k []int
		for i := 0; i+2 <= len(c); i += 2 {
			k = append(k, Colour(c[i:i+2]).rank())
		}
		return k
	}
	slices.SortStableFunc(list, func(a, b string) int {
		return cmp.Or(slices.Compare(key(a), key(b)), cmp.Compare(a, b))
	})
	return strings.Join(list, "+")
}

// IEC is the joined code of the end's colours, as JoinIEC gives it.
func (e End) IEC() string { return JoinIEC(e.Base, e.Tracer) }

// Colours shows base before tracer, "BU/WH", as the trade writes it; a metal
// body is "metal", and "" means that nobody has said.
func (e End) Colours() string {
	switch {
	case e.Kind == Body:
		return "metal"
	case e.Tracer != "":
		return string(e.Base) + "/" + string(e.Tracer)
	}
	return string(e.Base)
}

// KnownColours gives the pod with colours that may be shown: of a description
// that another program made, what can be read for one code is that code, and a
// wire's colours are left out where they cannot. The second result says so in a
// sentence; it is empty where nothing was left out.
func (p Pod) KnownColours() (Pod, string) {
	var odd []string
	p.Ends = slices.Clone(p.Ends)
	for i := range p.Ends {
		e := &p.Ends[i]
		base, known := e.Base.known()
		tracer, too := e.Tracer.known()
		if !known || !too {
			said := strings.Trim(string(e.Base)+"/"+string(e.Tracer), "/")
			odd = append(odd, fmt.Sprintf("%q of end %s", Clean(said, MaxName), Clean(string(e.ID), MaxName)))
			base, tracer = "", ""
		}
		e.Base, e.Tracer = base, tracer
	}
	if odd == nil {
		return p, ""
	}
	return p, Clean("left out as no colour code: "+strings.Join(odd, ", ")+"; say those colours again", MaxNote)
}

// known gives the one code that a colour can be read for, if there is one.
func (c Colour) known() (Colour, bool) {
	if c == "" || c.Order() > 0 {
		return c, true
	}
	code, second, err := ParseColours(string(c))
	return code, err == nil && code != "" && second == ""
}

// IECWarning tells when a conductor's colours are the combination that
// IEC 60757 reserves; empty otherwise. Vehicle looms use green with yellow
// freely, so it is a warning and never a refusal.
func IECWarning(base, tracer Colour) string {
	if (base == "GN" && tracer == "YE") || (base == "YE" && tracer == "GN") {
		return "GNYE: IEC 60757 keeps green with yellow for protective earth; vehicle looms use it for anything, so trust the flag and not the colour"
	}
	return ""
}

func (c Colour) rank() int {
	if n := c.Order(); n > 0 {
		return n
	}
	return len(colourTable) + 1
}

// SplitColours reads codes as written, base before tracer: "BUWH" is a blue
// wire with a white tracer. Lower case means the same (IEC 60757). One or two
// colours; "" is a wire whose colour nobody has said.
func SplitColours(code string) (base, tracer Colour, err error) {
	up := strings.ToUpper(code)
	if up == "" {
		return "", "", nil
	}
	if len(up) != 2 && len(up) != 4 {
		return "", "", fmt.Errorf("colour %q is not one or two codes of two letters: write it as BU, or BUWH for blue with a white tracer", Clean(code, MaxName))
	}
	for i := 0; i < len(up); i += 2 {
		c := Colour(up[i : i+2])
		if c.Order() == 0 {
			return "", "", fmt.Errorf("colour %q is no code of IEC 60757: use %s", Clean(up[i:i+2], MaxName), codeList())
		}
		if i == 0 {
			base = c
		} else {
			tracer = c
		}
	}
	return base, tracer, nil
}

func codeList() string {
	var s []string
	for _, c := range colourTable {
		s = append(s, string(c.code))
	}
	return strings.Join(s, " ")
}
