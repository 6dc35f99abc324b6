package pinout

import (
	"slices"
	"strings"

	"bellout/mapping"
)

// claim is what one group of contacts says an end is for.
type claim struct {
	sw       mapping.SwitchID
	function string
	terminal string
	side     side
	cap      mapping.Grade // how sure the name can be, however sure the contact
	grade    mapping.Grade // of the contact
	says, do string
	late     bool // works only with another switch, or beside it: named after what works alone
}

// side says what an end is to its contact. Of several claims on one end the
// greater side names it.
type side int

const (
	generic side = iota // the switch is not known, only its form
	either              // one of an isolated pair
	feed                // what the contact takes from
	common              // the end that the outputs share
	output              // what the contact feeds
)

// claimAll works out the claims of every group: first those whose form tells
// the ends apart, then those of hazard switches, which borrow from them, then
// pairs, which borrow from both.
func (b *builder) claimAll() {
	groups := b.groups()
	shared := map[mapping.EndID]int{}
	for _, g := range groups {
		for _, e := range g.ends {
			shared[e]++
		}
	}
	for _, e := range b.pod.Ends {
		if e.Kind == mapping.Body {
			b.claim(e.ID, claim{function: "metal of the pod: earth", terminal: "31", side: output, cap: mapping.Proved, grade: b.contactGrade(e.ID)})
		}
	}
	var hazards, pairs []*group
	for _, g := range groups {
		switch {
		case g.role == hazardRole:
			hazards = append(hazards, g)
		case len(g.ends) == 2 && g.role != keyRole:
			pairs = append(pairs, g)
		default:
			b.star(g, shared)
		}
	}
	for _, g := range hazards {
		if len(g.ends) == 2 {
			b.pair(g, shared)
		} else {
			b.star(g, shared)
		}
	}
	for _, g := range pairs {
		b.pair(g, shared)
	}
	b.nonsense(pairs)
}

func (b *builder) claim(e mapping.EndID, c claim) { b.claims[e] = append(b.claims[e], c) }

// metal tells whether an end is the pod's body, or always joined to it.
func (b *builder) metal(e mapping.EndID) bool {
	for _, x := range append([]mapping.EndID{e}, b.always[e]...) {
		if end, ok := b.pod.End(x); ok && end.Kind == mapping.Body {
			return true
		}
	}
	return false
}

// needs says what else must be set for a group that works only then.
func (b *builder) needs(g *group) string {
	if len(g.deep) == 0 {
		return ""
	}
	var terms []string
	for _, t := range g.deep {
		terms = append(terms, b.term(t))
	}
	return " (with " + strings.Join(terms, " + ") + ")"
}

// ends writes the claims down, end by end, with the builder's own word on top.
func (b *builder) ends() []End {
	w := b.in.Work
	out := []End{}
	for _, e := range b.pod.Ends {
		line := End{
			ID: b.id(e.ID), Kind: e.Kind.String(), Base: string(e.Base), Tracer: string(e.Tracer), IEC: e.IEC(),
			Colour: e.Colours(), OldCavity: b.text(e.Cavity),
		}
		b.propose(e.ID, &line)
		decided := func(k mapping.DecisionKind) string {
			v, _ := w.Decided(k, e.ID)
			return b.text(v)
		}
		line.NewCavity, line.Fate = decided(mapping.SetNewCavity), decided(mapping.WireFate)
		if f := decided(mapping.NameFunction); f != "" {
			if f != line.Function {
				line.Proposed = line.Function
			}
			line.Function, line.Overruled, line.Says, line.Do = f, true, "", ""
			line.Terminal = ""
			line.Grade = Graded(b.contactGrade(e.ID))
		}
		if t := decided(mapping.SetTerminal); t != "" {
			line.Terminal, line.Overruled = t, true
		}
		out = append(out, line)
	}
	return out
}

// contactGrade is how sure the contacts at an end are, whatever they are called.
func (b *builder) contactGrade(e mapping.EndID) mapping.Grade {
	g, found := mapping.Proved, false
	for _, a := range b.atoms {
		if b.head(a.a) == b.head(e) || b.head(a.b) == b.head(e) {
			g, found = min(g, a.grade), true
		}
	}
	for _, l := range b.known {
		if len(l.When) == 0 && (l.A == e || l.B == e) {
			g, found = min(g, l.Grade), true
		}
	}
	if !found {
		return b.deadGrade(e)
	}
	return g
}

// propose fills in function, terminal and grade from the claims on an end.
func (b *builder) propose(e mapping.EndID, line *End) {
	claims := slices.Clone(b.claims[b.head(e)])
	if b.head(e) != e {
		claims = append(claims, b.claims[e]...)
	}
	slices.SortStableFunc(claims, func(x, y claim) int {
		if x.side == y.side && x.late != y.late {
			if x.late {
				return 1
			}
			return -1
		}
		return int(y.side) - int(x.side)
	})
	if len(claims) == 0 {
		b.unclaimed(e, line)
		return
	}
	top := claims[0]
	line.Function, line.Terminal = top.function, top.terminal
	line.Grade = Graded(min(top.grade, top.cap))
	line.Says, line.Do = top.says, top.do
	also := []string{top.function}
	for _, c := range claims[1:] {
		what := c.function
		if c.terminal != "" && c.terminal != top.terminal {
			what += " (" + c.terminal + ")"
		}
		if what == top.function || slices.Contains(also, what) || c.side == either && top.side != either && c.terminal == top.terminal {
			continue
		}
		also = append(also, what)
		line.Function += "; also " + what
		if line.Says == "" {
			line.Says, line.Do = c.says, c.do
		}
		line.Grade = min(line.Grade, Graded(min(c.grade, c.cap)))
	}
	if net := b.always[e]; len(net) > 1 {
		line.Function += "; always joined to " + b.others(net, e)
	}
}

func (b *builder) others(net []mapping.EndID, e mapping.EndID) string {
	var o []string
	for _, x := range net {
		if x != e {
			o = append(o, b.id(x))
		}
	}
	return strings.Join(o, ", ")
}

// unclaimed is an end on which no contact bears.
func (b *builder) unclaimed(e mapping.EndID, line *End) {
	line.Grade = Graded(b.contactGrade(e))
	if net := b.always[e]; len(net) > 1 {
		line.Function = "always joined to " + b.others(net, e)
		if b.metal(e) {
			line.Function, line.Terminal = "earth: "+line.Function, "31"
			return
		}
		line.Says = Harmless
		line.Do = "use the thicker of them and insulate the other; work the levers 20 times, in case a contact is welded"
		return
	}
	if g, asked := b.asked(e); asked {
		line.Grade = Graded(g)
		if g > mapping.NotTested {
			line.Function = "not settled: see what is not known"
			return
		}
	}
	if mapping.Grade(line.Grade) == mapping.NotTested {
		line.Function = "not tested"
		return
	}
	line.Function = "reaches nothing: dead, broken or waiting for a partner"
	line.Says = Matters
	line.Do = "flex the loom while listening; try silent switches two at a time; then open the pod"
}
