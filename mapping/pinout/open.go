package pinout

import (
	"fmt"
	"slices"
	"strings"

	"bellout/mapping"
)

// Question is a join that is not ruled out or not confirmed, under a condition;
// none is always. Joined is the best guess.
type Question struct {
	A, B   mapping.EndID
	When   mapping.Condition
	Joined bool
}

// question is what is not known of two ends, under all the conditions in which
// it is not.
type question struct {
	a, b  mapping.EndID
	grade mapping.Grade
	when  []mapping.Condition
	yes   []bool // by condition: the best guess is that it joins them
}

// questions gathers by pairs what is open, what nobody vouches for, and the
// links of the map that are mere guesses.
func questions(in Input) []question {
	var out []question
	add := func(q Question, g mapping.Grade) {
		i := slices.IndexFunc(out, func(o question) bool { return o.a == q.A && o.b == q.B })
		if i < 0 {
			i = len(out)
			out = append(out, question{a: q.A, b: q.B})
		}
		o := &out[i]
		o.grade = max(o.grade, g)
		if k := slices.IndexFunc(o.when, q.When.Equal); k >= 0 {
			o.yes[k] = o.yes[k] || q.Joined
			return
		}
		o.when, o.yes = append(o.when, q.When), append(o.yes, q.Joined)
	}
	link := func(l mapping.Link, joined bool, g mapping.Grade) {
		for _, c := range l.Whens() {
			add(Question{l.A, l.B, c, joined}, g)
		}
	}
	for _, q := range in.Questions {
		add(q, mapping.OpenQuestion)
	}
	for _, l := range in.Map.Unresolved {
		link(l, false, mapping.OpenQuestion)
	}
	for _, l := range in.Map.Links {
		if !l.Grade.Known() {
			link(l, true, l.Grade)
		}
	}
	return out
}

// Unsettled lists the pairs of which nobody knows yet whether they are joined,
// each once with the conditions in which nobody does.
func Unsettled(in Input) []mapping.Link { return newBuilder(in).unsettled() }

func (b *builder) unsettled() []mapping.Link {
	var out []mapping.Link
	for _, q := range b.open {
		out = append(out, mapping.Link{A: q.a, B: q.b, When: q.when, Grade: q.grade})
	}
	return out
}

// unresolved puts the open pairs in words.
func (b *builder) unresolved() []Link {
	out := b.links(b.unsettled())
	for i, q := range b.open {
		var parts []string
		for k, c := range q.when {
			s := b.when([]mapping.Condition{c})
			if q.yes[k] {
				s += " (perhaps joined)"
			}
			parts = append(parts, s)
		}
		out[i].When = strings.Join(parts, ", or ")
		if out[i].Grade > Graded(mapping.NotTested) && !(b.met(q.a) && b.met(q.b)) {
			out[i].Grade = Graded(mapping.NotTested)
		}
	}
	return out
}

// doubts says of each set of readings that they cannot all be right, in a line:
// what was read where, with the numbers.
func (b *builder) doubts() []string {
	var out []string
	for _, d := range b.in.Doubts {
		var what []string
		ids := map[string][]mapping.ReadingID{}
		for _, r := range b.in.Work.Readings {
			if !slices.Contains(d, r.ID) {
				continue
			}
			s := b.reading(r)
			if r.Control {
				s = "control beep on " + b.id(r.Red[0]) + ": " + r.OutcomeWords()
			}
			if len(ids[s]) == 0 {
				what = append(what, s)
			}
			ids[s] = append(ids[s], r.ID)
		}
		var parts []string
		for _, s := range what {
			parts = append(parts, fmt.Sprintf("%s, %s", numbers(Link{Readings: ids[s]}, fewRuns), s))
		}
		if len(parts) > 0 {
			out = append(out, "these readings cannot all be right: "+strings.Join(parts, "; ")+": take one of them again")
		}
	}
	return out
}

// asked tells whether a question bears on an end, and how much is known of it:
// nothing where no reading does.
func (b *builder) asked(e mapping.EndID) (g mapping.Grade, ok bool) {
	for _, q := range b.open {
		if q.a == e || q.b == e {
			g, ok = max(g, q.grade), true
		}
	}
	if !b.met(e) {
		g = mapping.NotTested
	}
	return g, ok
}

// met tells whether any reading bears on an end. An end that none does is not
// tested, whatever the best map makes of it.
func (b *builder) met(e mapping.EndID) bool {
	for _, s := range b.alone() {
		for _, o := range b.pod.Ends {
			if o.ID == e {
				continue
			}
			if _, g := b.ev.Verdict(s, e, o.ID); g > mapping.NotTested {
				return true
			}
		}
	}
	return false
}

// tried tells whether any reading bears on a switch away from its rest.
func (b *builder) tried(sw mapping.Switch) bool {
	for _, q := range sw.Positions {
		if q == sw.Rest {
			continue
		}
		s := b.pod.Rest().With(sw.Name, q)
		for i, x := range b.pod.Ends {
			for _, y := range b.pod.Ends[i+1:] {
				if _, g := b.ev.Verdict(s, x.ID, y.ID); g > mapping.NotTested {
					return true
				}
			}
		}
	}
	return false
}

// alone are the settings of no lever and of one, everything else at rest.
func (b *builder) alone() []mapping.Setting {
	rest := b.pod.Rest()
	sets := []mapping.Setting{rest}
	for _, sw := range b.pod.Switches {
		for _, q := range sw.Positions {
			if q != sw.Rest {
				sets = append(sets, rest.With(sw.Name, q))
			}
		}
	}
	return sets
}
