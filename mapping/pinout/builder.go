package pinout

import (
	"cmp"
	"slices"
	"strings"

	"bellout/mapping"
)

// builder holds what is worked out on the way to a pinout.
type builder struct {
	in     Input
	pod    mapping.Pod
	ev     Evidence
	known  []mapping.Link // the links of the map that are no mere questions
	open   []question     // the pairs that are not settled
	order  map[mapping.EndID]int
	always map[mapping.EndID][]mapping.EndID // the permanent net of each end
	atoms  []atom
	claims map[mapping.EndID][]claim
	warn   []string
	notes  []string
}

func newBuilder(in Input) *builder {
	if in.Work == nil {
		in.Work = &mapping.PodWork{}
	}
	b := &builder{
		in: in, pod: in.Work.Pod, ev: in.Evidence,
		order: map[mapping.EndID]int{}, always: map[mapping.EndID][]mapping.EndID{},
		claims: map[mapping.EndID][]claim{},
	}
	if b.ev == nil {
		b.ev = FromMap(b.pod, in.Map)
	}
	for i, e := range b.pod.Ends {
		b.order[e.ID] = i
	}
	for _, l := range in.Map.Links {
		if l.Grade.Known() {
			b.known = append(b.known, l)
		}
	}
	b.open = questions(in)
	slices.SortStableFunc(b.open, func(x, y question) int {
		return cmp.Or(cmp.Compare(b.order[x.a], b.order[y.a]), cmp.Compare(b.order[x.b], b.order[y.b]))
	})
	var fixed mapping.Map
	for _, l := range b.known {
		if len(l.When) == 0 {
			fixed.Links = append(fixed.Links, l)
		}
	}
	for _, net := range fixed.Nets(b.pod, nil) {
		for _, e := range net {
			b.always[e] = net
		}
	}
	b.atoms = b.reduce(split(b.known))
	return b
}

func (b *builder) text(s string) string         { return mapping.Clean(s, mapping.MaxText) }
func (b *builder) id(e mapping.EndID) string    { return mapping.Clean(string(e), mapping.MaxName) }
func (b *builder) sw(s mapping.SwitchID) string { return mapping.Clean(string(s), mapping.MaxName) }

// called is a switch in a sentence: "switch s1", but "switch 4" for a switch
// that is named so.
func (b *builder) called(s mapping.SwitchID) string {
	if name := b.sw(s); slices.Contains(words(name), "switch") || slices.Contains(words(name), "button") {
		return name
	}
	return "switch " + b.sw(s)
}

func (b *builder) counts() Counts {
	c := Counts{Readings: len(b.in.Work.Live())}
	c.StruckOut = len(b.in.Work.Readings) - c.Readings
	n := mapping.Map{Links: slices.Concat(b.known, b.unsettled())}.Tally()
	c.Proved, c.Likely, c.Open = n[mapping.Proved], n[mapping.Likely], n[mapping.OpenQuestion]
	c.NotTested, c.Doubts = n[mapping.NotTested], len(b.in.Doubts)
	return c
}

// links puts links in words, with the readings behind them.
func (b *builder) links(links []mapping.Link) []Link {
	out := []Link{}
	for _, l := range links {
		w := Link{Ohms: b.ohms(l), Readings: []mapping.ReadingID{}, Between: [2]string{b.id(l.A), b.id(l.B)}, When: b.when(l.When), Grade: Graded(l.Grade)}
		conds := l.When
		if len(conds) == 0 {
			conds = []mapping.Condition{nil}
		}
		for _, c := range conds {
			w.Readings = append(w.Readings, b.ev.Why(b.setting(c), l.A, l.B)...)
		}
		slices.Sort(w.Readings)
		w.Readings = slices.Compact(w.Readings)
		out = append(out, w)
	}
	return out
}

// ohms is what was read across a link; nil where nothing was.
func (b *builder) ohms(l mapping.Link) *float64 {
	worst, ok := b.in.Work.OhmsOf(l)
	if !ok {
		return nil
	}
	return &worst
}

// setting is one setting in which a condition holds, everything else at rest.
func (b *builder) setting(c mapping.Condition) mapping.Setting {
	s := b.pod.Rest()
	for _, t := range c {
		if len(t.Positions) > 0 {
			s[t.Switch] = t.Positions[0]
		}
	}
	return s
}

// when puts conditions in words: "always", "dip low", "lights on + dip
// low/half, or flash in".
func (b *builder) when(conds []mapping.Condition) string {
	if len(conds) == 0 {
		return "always"
	}
	var out []string
	for _, c := range conds {
		var terms []string
		for _, t := range c {
			terms = append(terms, b.term(t))
		}
		if len(terms) == 0 {
			return "always"
		}
		out = append(out, strings.Join(terms, " + "))
	}
	return strings.Join(out, ", or ")
}

func (b *builder) term(t mapping.Term) string {
	var at []string
	for _, q := range t.Positions {
		at = append(at, mapping.Clean(string(q), mapping.MaxName))
	}
	return b.sw(t.Switch) + " " + strings.Join(at, "/")
}

// bridges lists the nets of two ends and more that are joined in any setting.
func (b *builder) bridges() [][]mapping.EndID {
	var out [][]mapping.EndID
	for _, e := range b.pod.Ends {
		if net := b.always[e.ID]; len(net) > 1 && net[0] == e.ID {
			out = append(out, net)
		}
	}
	return out
}

// dead lists the ends that no link reaches, nor any question.
func (b *builder) dead() []mapping.EndID {
	seen := map[mapping.EndID]bool{}
	for _, l := range slices.Concat(b.known, b.unsettled()) {
		seen[l.A], seen[l.B] = true, true
	}
	var out []mapping.EndID
	for _, e := range b.pod.Ends {
		if !seen[e.ID] {
			out = append(out, e.ID)
		}
	}
	return out
}

// deadGrade is how surely an end reaches nothing: the weakest verdict over all
// its pairs with each switch moved alone.
func (b *builder) deadGrade(e mapping.EndID) mapping.Grade {
	g := mapping.Proved
	for _, s := range b.alone() {
		for _, o := range b.pod.Ends {
			if o.ID == e {
				continue
			}
			joined, v := b.ev.Verdict(s, e, o.ID)
			if joined {
				v = mapping.OpenQuestion
			}
			if g = min(g, v); g == mapping.NotTested {
				return g
			}
		}
	}
	return g
}

// cited puts the readings that the links rest on, and those in doubt, in words.
func (b *builder) cited(p Pinout) []Reading {
	want := map[mapping.ReadingID]bool{}
	for _, l := range slices.Concat(p.Links, p.Unresolved) {
		for _, r := range l.Readings {
			want[r] = true
		}
	}
	for _, d := range b.in.Doubts {
		for _, r := range d {
			want[r] = true
		}
	}
	out := []Reading{}
	for _, r := range b.in.Work.Readings {
		if want[r.ID] {
			out = append(out, Reading{ID: r.ID, Says: b.reading(r)})
			delete(want, r.ID)
		}
	}
	return out
}

func (b *builder) reading(r mapping.Reading) string {
	side := func(ends []mapping.EndID) string {
		var s []string
		for _, e := range ends {
			s = append(s, b.id(e))
		}
		return strings.Join(s, "+")
	}
	var at []string
	for _, sw := range b.pod.Switches {
		at = append(at, b.sw(sw.Name)+" "+mapping.Clean(string(r.Setting.At(sw)), mapping.MaxName))
	}
	s := side(r.Red) + " to " + side(r.Black) + ": " + r.OutcomeWords()
	if len(at) > 0 {
		s += " (" + strings.Join(at, ", ") + ")"
	}
	if note := b.text(r.Note); note != "" {
		s += "; " + note
	}
	return s
}
