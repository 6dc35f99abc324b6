package plan

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"bellout/mapping"
)

// withoutUnused takes the functions from ends that are to be insulated or left on the old
// plug: such an end gets no cavity, feeds nothing and is fed by nothing.
func withoutUnused(pods []NewPod) []NewPod {
	out := slices.Clone(pods)
	for i := range out {
		out[i].Functions = maps.Clone(out[i].Functions)
		for _, e := range slices.Concat(out[i].Insulate, out[i].Leave) {
			delete(out[i].Functions, e)
		}
	}
	return out
}

// chooseSides feeds the first end of every pair that can change places and leads to
// something usual, and lets the second be the output. It says which, a sentence each.
// The functions of the pods are changed.
func chooseSides(pods []NewPod) []string {
	var out []string
	for _, x := range pods {
		pairs := map[string][]mapping.EndID{}
		for _, e := range x.Desc.Ends {
			if what, isPair := x.Functions[e.ID].pair(); isPair {
				pairs[what] = append(pairs[what], e.ID)
			}
		}
		for _, what := range slices.Sorted(maps.Keys(pairs)) {
			ends := pairs[what]
			din := x.Functions[ends[0]].Din
			output := Function{What: what, Din: din}
			if len(ends) != 2 || loadsOf(output.job()) == nil {
				continue
			}
			x.Functions[ends[0]], x.Functions[ends[1]] = Function{What: what + " feed"}, output
			out = append(out, fmt.Sprintf("%s is fed at %s and comes out at %s: the two can change places.",
				what, pointsOf(x.Name, ends[:1]), pointsOf(x.Name, ends[1:])))
		}
	}
	return out
}

// pair is what the pair is for that an end belongs to, if its two ends can change places.
func (f Function) pair() (what string, ok bool) {
	what, _, ok = strings.Cut(f.What, ", pair with ")
	return what, ok && f.Either
}

// leftOver says what a first plan leaves to the builder, a sentence each: the
// wires to insulate, and what has a cavity but no wire in the loom.
func (b *builder) leftOver(pods []NewPod) []string {
	var out []string
	for i, x := range pods {
		if len(x.Insulate) > 0 {
			out = append(out, fmt.Sprintf("Insulated, in no plug: %s.", pointsOf(x.Name, x.Insulate)))
		}
		if len(x.Leave) > 0 {
			out = append(out, fmt.Sprintf("Left on the old plug, in no new one: %s.", pointsOf(x.Name, x.Leave)))
		}
		var order []string
		ends := map[string][]mapping.EndID{}
		pair, either := map[string]bool{}, map[string]bool{}
		for _, e := range x.Desc.Ends {
			f := x.Functions[e.ID]
			if !b.endsAtPlug(i, e.ID) {
				continue
			}
			what, isPair := f.pair()
			if what == "" {
				what = f.Din
			}
			if len(ends[what]) == 0 {
				order = append(order, what)
			}
			ends[what] = append(ends[what], e.ID)
			either[what], pair[what] = either[what] || f.Either, pair[what] || isPair
		}
		for _, what := range order {
			do := "give it a load or a feed, or insulate it"
			switch {
			case pair[what]:
				do = "choose which end is fed, and give the other its load"
			case either[what]:
				do = "choose which is which, and wire it"
			}
			out = append(out, fmt.Sprintf("%s not wired (%s): %s.", what, pointsOf(x.Name, ends[what]), do))
		}
	}
	return out
}

// note puts sentences into the plan's note as far as paper has room for them,
// and says so where it has not.
func (b *builder) note(left []string) {
	const more = " More is left open: bellout plan check lists it."
	for _, s := range left {
		if len([]rune(b.p.Note+" "+s+more)) > mapping.MaxNote {
			b.p.Note += more
			return
		}
		b.p.Note += " " + s
	}
}

// endsAtPlug tells whether a pod's wire comes to a cavity that nothing goes on
// from.
func (b *builder) endsAtPlug(pod int, e mapping.EndID) bool {
	from := b.p.Pods[pod].Name + "." + string(e)
	i := slices.IndexFunc(b.p.Wires, func(w Wire) bool { return w.From == from })
	if i < 0 {
		return false
	}
	at := b.p.Wires[i].To
	return !slices.ContainsFunc(b.p.Wires, func(w Wire) bool { return w.From == at || w.To == at && w.From != from })
}

func pointsOf(pod string, ends []mapping.EndID) string {
	var s []string
	for _, e := range ends {
		s = append(s, pod+"."+string(e))
	}
	return strings.Join(s, ", ")
}

// meant marks what Check finds of an end that is insulated or left: that it is bare is
// the builder's decision, and stands on the page.
func (b *builder) meant(pods []NewPod) {
	why := map[string]string{}
	for _, x := range pods {
		for _, e := range x.Insulate {
			why[x.Name+"."+string(e)] = "to be insulated, as decided: cut staggered, sealed, folded back"
		}
		for _, e := range x.Leave {
			why[x.Name+"."+string(e)] = "stays on the old plug, as decided: the plug is to be closed and tied up"
		}
	}
	if len(why) == 0 {
		return
	}
	for _, f := range Check(b.p) {
		if f.Kind == BareEnd && why[f.Where] != "" {
			b.p.Expected = append(b.p.Expected, Expected{Kind: f.Kind, Where: f.Where, Why: why[f.Where]})
		}
	}
}
