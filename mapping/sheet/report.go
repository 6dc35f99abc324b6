package sheet

import (
	"fmt"
	"slices"
	"strings"

	"bellout/mapping/plan"
)

// section is a part of the paper after the diagram, the same for PDF, HTML and
// text.
type section struct {
	title  string
	care   []string // cautions, set apart
	notes  []string
	tables []table
}

// table has a head and rows. A cell that is Tick is a box to tick, one that is
// Blank a line to write on. A grid is a plug's face: bordered cells of one size,
// no head.
type table struct {
	title string
	under []string // lines under the title
	head  []string
	rows  [][]string
	grid  bool
}

// What a cell is when it is no text.
const (
	tick  = "[ ]"
	blank = "____"
)

// report is everything after the diagram.
func report(in Input) []section {
	return []section{
		stateSection(in),
		cutSection(in),
		plugSection(in),
		joinSection(in),
		labelSection(in),
		countSection(in),
		waySection(in),
		unplugSection(in),
		proofSection(in),
		powerSection(in),
		{title: "Roadside: how it reads when healthy", care: caution(plan.AtAnyTime), notes: healthy(in)},
	}
}

// stateSection says what this plan is and in what order it is built.
func stateSection(in Input) section {
	s := section{title: buildTitle, care: append(bypasses(in), caution(plan.AtContinuity, plan.AtCut, plan.AtFuses, plan.AtInterlock, plan.AtElectrician)...)}
	s.notes = append(s.notes, headLine(in.Plan)+". "+gradeLine(in.Plan)+".")
	if in.Plan.Note != "" {
		s.notes = append(s.notes, in.Plan.Note)
	}
	if in.lacking() {
		s.notes = append(s.notes, lackingNote)
	}
	open := table{title: "FINDINGS: settle these before anything is cut", head: []string{"", "Kind", "Where", "Setting", "What is wrong"}}
	known := table{title: "Meant, not a mistake", head: []string{"Kind", "Where", "Why"}}
	for _, f := range in.Findings {
		if f.Meant {
			// One line for all that stops with one fuse for one reason.
			first, rest, _ := strings.Cut(f.Where, ": ")
			if n := len(known.rows); n > 0 && rest != "" && known.rows[n-1][0] == f.Kind && known.rows[n-1][2] == f.Why &&
				strings.HasPrefix(known.rows[n-1][1], first+": ") {
				known.rows[n-1][1] += ", " + rest
				continue
			}
			known.rows = append(known.rows, []string{f.Kind, f.Where, f.Why})
			continue
		}
		open.rows = append(open.rows, []string{tick, f.Kind, f.Where, f.Setting, f.Say})
	}
	order := table{title: "Order of work", head: []string{"", "Step"}}
	for i, step := range assembly(in) {
		order.rows = append(order.rows, []string{tick, fmt.Sprintf("%d. %s", i+1, step)})
	}
	for _, t := range []table{open, known, order} {
		if len(t.rows) > 0 {
			s.tables = append(s.tables, t)
		}
	}
	return s
}

// assembly is the order in which the harness is built.
func assembly(in Input) []string {
	var plugs []string
	for _, p := range in.Plan.Plugs {
		plugs = append(plugs, p.Name)
	}
	steps := []string{
		"Lay the trunk on the machine, mark the branches; slack for full lock both ways and 30 mm more; no plug on a bend.",
		"Cut the wires of the cut list, a flag at both ends of each before the next is cut.",
	}
	if len(in.Plan.Splices) > 0 {
		steps = append(steps, "Make the splices, heat-shrink over each, a flag on each.")
	}
	steps = append(steps, "Earth points: bare metal, ring terminals, grease after tightening.")
	if len(plugs) > 0 {
		steps = append(steps, "Terminals: strip 4 to 5 mm, seal on first, crimp, tug, into its cavity, click, tug again. Plugs: "+strings.Join(plugs, ", ")+".")
	}
	return append(steps,
		"Distribution block and relays; every fuse stays out.",
		"Insulate and fold back the pod wires that are not used.",
		"Read every plug again, cavity by cavity, against the proof list.",
		"Cold checks, then first power. Tape the loom only after both.")
}

// cutSection is the list of wires to cut, module by module.
func cutSection(in Input) section {
	s := section{title: "Cut list", notes: []string{
		"Lengths as planned; leave slack at a bend. Colour: base/tracer. Ends: the terminal at From / at To; s: with a seal.",
	}}
	for _, w := range sortedWires(in.Plan) {
		if n := len(s.tables); n == 0 || s.tables[n-1].title != title(w.In) {
			s.tables = append(s.tables, table{title: title(w.In), head: []string{"", "Wire", "From", "To", "mm2", "Colour", "Length m", "Ends", "For"}})
		}
		a, b := endOf(in.Plan, w, w.From), endOf(in.Plan, w, w.To)
		length := blank
		if w.Length > 0 {
			length = fmt.Sprintf("%.2f", w.Length)
		}
		t := &s.tables[len(s.tables)-1]
		t.rows = append(t.rows, []string{tick, w.Name, w.From, w.To, size(w.MM2), code(w), length, a.short() + " / " + b.short(), w.What})
	}
	return s
}

// joinSection lists splices and earth points.
func joinSection(in Input) section {
	sp := table{title: "Splices", head: []string{"", "Splice", "Where", "Wires"}}
	for _, s := range in.Plan.Splices {
		place := s.Place
		if s.Module != "" && s.Module != plan.Loom {
			place = strings.TrimSuffix(s.Module+", "+place, ", ")
		}
		var wires []string
		for _, w := range sortedWires(in.Plan) {
			if w.From == s.Name {
				wires = append(wires, w.Name+" "+spec(w)+" to "+w.To)
			} else if w.To == s.Name {
				wires = append(wires, w.Name+" "+spec(w)+" from "+w.From)
			}
		}
		sp.rows = append(sp.rows, []string{tick, s.Name, place, strings.Join(wires, "; ")})
	}
	ea := table{title: "Earth points", head: []string{"", "What lands there"}}
	for _, l := range earthLines(in) {
		ea.rows = append(ea.rows, []string{tick, l})
	}
	un := table{title: "Pod wires not used", head: []string{"", "Wire"}}
	for _, l := range unused(in) {
		un.rows = append(un.rows, []string{tick, l})
	}
	s := section{title: "Splices, earths, wires left over"}
	for _, t := range []table{sp, ea, un} {
		if len(t.rows) > 0 {
			s.tables = append(s.tables, t)
		}
	}
	return s
}

// labelSection lists the labels to make.
func labelSection(in Input) section {
	t := table{head: []string{"", "Label", "How many", "Where it goes"}}
	var wires []string
	for _, w := range sortedWires(in.Plan) {
		wires = append(wires, w.Name)
	}
	t.rows = append(t.rows, []string{tick, strings.Join(wires, " "), fmt.Sprintf("2 of each, %d", 2*len(wires)), "both ends of the wire, 30 mm from the terminal"})
	for _, p := range in.Plan.Plugs {
		t.rows = append(t.rows, []string{tick, p.Name + " " + p.Module, "2", "both halves of the plug"})
	}
	for _, w := range in.Plan.Block.Ways {
		t.rows = append(t.rows, []string{tick, strings.TrimSpace(w.Name + " " + number(w.Fuse) + " A " + w.What), "1", "beside its fuse"})
	}
	for _, r := range in.Plan.Relays {
		t.rows = append(t.rows, []string{tick, strings.TrimSpace(r.Name + " " + r.What), "1", "relay"})
	}
	for _, e := range in.Plan.Earths {
		t.rows = append(t.rows, []string{tick, e.Name, "1", "earth point"})
	}
	if in.Plan.Supply.MainFuse > 0 {
		t.rows = append(t.rows, []string{tick, "Main fuse " + number(in.Plan.Supply.MainFuse) + " A", "1", "at the battery"})
	}
	return section{title: "Labels", tables: []table{t}}
}

// waySection gives the fused ways with what was worked out.
func waySection(in Input) section {
	t := table{head: []string{"Way", "Fuse", "Feed", "Loads", "Steady", "Peak", "Fuse at most", "Opens at a short within"}}
	for _, w := range in.Worked.Ways {
		opens := "not known"
		if w.Opens > 0 {
			opens = number(w.Opens) + " s at " + fmt.Sprintf("%.0f A", w.Short)
		}
		limit := ""
		if w.Limit > 0 {
			limit = number(w.Limit) + " A (" + w.Thinnest + ")"
		}
		t.rows = append(t.rows, []string{w.Name, strings.TrimSpace(number(w.Fuse) + " A " + w.Colour), string(w.Feed),
			strings.Join(w.Loads, ", "), amps(w.Steady), amps(w.Peak), limit, opens})
	}
	s := section{title: "Ways and fuses"}
	if in.Worked.Charging.Say != "" {
		s.notes = append(s.notes, in.Worked.Charging.Say)
	}
	m := in.Worked.Main
	if m.Fuse > 0 {
		s.notes = append(s.notes, fmt.Sprintf("Main fuse %s A: %s steady, %s at most; %s through the ignition contact.", number(m.Fuse), amps(m.Steady), amps(m.Peak), amps(m.Contact)))
	}
	for _, f := range in.Shared {
		s.notes = append(s.notes, f.Say...)
	}
	for _, l := range in.Plan.Loads {
		if l.Source != "" {
			s.notes = append(s.notes, fmt.Sprintf("Figure of %s: %s.", l.Name, strings.TrimSuffix(l.Source, ".")))
		}
	}
	s.notes = append(s.notes, in.Worked.Reasons...)
	s.care = called(in, plan.AtStarter, plan.AtLithium)
	s.tables = []table{t}
	return s
}

// unplugSection says what stops when a plug is pulled or a fuse is out.
func unplugSection(in Input) section {
	t := table{head: []string{"Pull", "Stops", "Stops outside its own module"}}
	for _, u := range in.Unplug {
		dies := strings.Join(u.Dies, ", ")
		if dies == "" {
			dies = "nothing"
		}
		t.rows = append(t.rows, []string{u.Kind + " " + u.Where, dies, strings.Join(u.Beyond, ", ")})
	}
	s := section{title: "What stops when a plug or a fuse is pulled", tables: []table{t.once()}}
	if len(in.Tries) == 0 {
		return s
	}
	cross := table{title: "A plug in the wrong socket", head: []string{"Plug", "Into the socket of", "What happens"}}
	for _, x := range in.Tries {
		if x.Fits {
			say := strings.Join(x.Effects, "; ")
			if x.Harm {
				say = "HARM: " + say
			}
			cross.rows = append(cross.rows, []string{x.Plug, x.Socket, say})
		}
	}
	if len(cross.rows) == 0 {
		s.notes = append(s.notes, fmt.Sprintf("No plug goes into the socket of another: all %d pairs are kept apart by housing, ways or keying.", len(in.Tries)))
	} else {
		s.tables = append(s.tables, cross)
	}
	return s
}

// proofSection is the list of checks with what to expect and what was read.
func proofSection(in Input) section {
	s := section{title: "Proof list", care: append(caution(plan.AtContinuity), careZero, careHalogen),
		notes: []string{"Battery out, loads unplugged unless said, leads' ohms taken off. Wiggle the loom and turn the bars to full lock while reading: nothing may change."}}
	for _, c := range in.Proof {
		if n := len(s.tables); n == 0 || s.tables[n-1].title != c.Group {
			s.tables = append(s.tables, table{title: c.Group, head: []string{"", "Check", "Do", "Red to", "Black to", "Levers", "Expect", "Read", "If not"}})
		}
		t := &s.tables[len(s.tables)-1]
		t.rows = append(t.rows, []string{tick, c.ID, c.Do, c.Red, c.Black, c.Set, c.Expect, readOr(in, c.ID), c.Bad})
	}
	for i := range s.tables {
		s.tables[i] = s.tables[i].once("Do", "Levers", "If not")
	}
	return s
}

// once says what is the same in every row of a table a single time, under its
// title, and drops columns with nothing in them.
func (t table) once(heads ...string) table {
	for _, h := range heads {
		i := slices.Index(t.head, h)
		if i < 0 || len(t.rows) < 2 || t.rows[0][i] == "" ||
			slices.ContainsFunc(t.rows, func(r []string) bool { return r[i] != t.rows[0][i] }) {
			continue
		}
		t.under = append(t.under, h+": "+t.rows[0][i])
		t = t.without(i)
	}
	for i := len(t.head) - 1; i >= 0; i-- {
		if !slices.ContainsFunc(t.rows, func(r []string) bool { return r[i] != "" }) {
			t = t.without(i)
		}
	}
	return t
}

func (t table) without(i int) table {
	t.head = slices.Delete(slices.Clone(t.head), i, i+1)
	rows := make([][]string, len(t.rows))
	for k, r := range t.rows {
		rows[k] = slices.Delete(slices.Clone(r), i, i+1)
	}
	t.rows = rows
	return t
}

// powerSection is the order of first power.
func powerSection(in Input) section {
	t := table{head: []string{"", "Step", "Do", "Expect", "Amps", "Read", "If not"}}
	for _, p := range in.Power {
		a := ""
		if p.High > 0 {
			a = fmt.Sprintf("%.1f (%.1f to %.1f)", p.Amps, p.Low, p.High)
		}
		t.rows = append(t.rows, []string{tick, fmt.Sprint(p.Number), p.Do, p.Expect, a, blank, p.Bad})
	}
	care := append(caution(plan.AtFirstPower), careSeries(in))
	care = append(care, called(in, plan.AtLithium, plan.AtAnyTime, plan.AtLamps)...)
	return section{title: "First power", care: care, tables: []table{t.once()}}
}

func readOr(in Input, id string) string {
	if v := in.Read[id]; v != "" {
		return v
	}
	return blank
}
