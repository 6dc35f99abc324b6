package plan

import (
	"fmt"
	"slices"
	"strings"

	"bellout/mapping"
)

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
		pair, either, stop := map[string]bool{}, map[string]bool{}, map[string]bool{}
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
			stop[what] = stop[what] || f.Din == "2"
		}
		for _, what := range order {
			do := "give it a load or a feed, or insulate it"
			switch {
			case stop[what]:
				do = "earthing it stops the engine: to the stop terminal of the ignition unit, never to a feed"
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

// nobodyKnows says which ends have a contact and no function, a sentence a pod.
func nobodyKnows(pods []NewPod) []string {
	var out []string
	for _, x := range pods {
		if ends := x.unnamed(); len(ends) > 0 {
			out = append(out, fmt.Sprintf("Nobody knows what for, in no plug: %s. Name or insulate them.", pointsOf(x.Name, ends)))
		}
	}
	return out
}

// unnamed lists the ends with a contact that have no function, and that nobody has decided on.
func (x NewPod) unnamed() []mapping.EndID {
	var out []mapping.EndID
	for _, e := range x.Desc.Ends {
		in := func(l mapping.Link) bool { return l.A == e.ID || l.B == e.ID }
		if e.Kind != mapping.Body && x.Functions[e.ID] == (Function{}) && slices.ContainsFunc(x.Map.Links, in) && !slices.Contains(slices.Concat(x.Insulate, x.Leave), e.ID) {
			out = append(out, e.ID)
		}
	}
	return out
}
