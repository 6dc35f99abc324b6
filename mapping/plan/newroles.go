package plan

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"bellout/mapping"
)

// What the ends of a job's pods are to a first plan, settled before anything is wired.

// withoutUnused takes the functions from ends that are to be insulated or left on the old
// plug: such an end gets no cavity, feeds nothing and is fed by nothing.
func withoutUnused(pods []NewPod) []NewPod {
	out := slices.Clone(pods)
	for i := range out {
		if out[i].Functions = maps.Clone(out[i].Functions); out[i].Functions == nil {
			out[i].Functions = map[mapping.EndID]Function{}
		}
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
			input, output := Function{What: what + " feed"}, Function{What: what, Din: x.Functions[ends[0]].Din}
			if strings.HasPrefix(what, killPair) {
				input, output = Function{What: killIn + ", " + what, Din: "15"}, Function{What: killOut + ", " + what, Din: "15"}
			} else if loadsOf(output.job()) == nil {
				continue
			}
			if len(ends) != 2 {
				continue
			}
			x.Functions[ends[0]], x.Functions[ends[1]] = input, output
			out = append(out, fmt.Sprintf("%s is fed at %s and comes out at %s: the two can change places.",
				what, pointsOf(x.Name, ends[:1]), pointsOf(x.Name, ends[1:])))
		}
	}
	return out
}

// killPair is what the pinout calls the two ends of a kill contact by itself.
const killPair = "ignition supply through kill"

// pair is what the pair is for that an end belongs to, if its two ends can change places.
func (f Function) pair() (what string, ok bool) {
	what, _, ok = strings.Cut(f.What, ", pair with ")
	return what, ok && f.Either
}

// ownNames gives pods whose name a first plan needs for something else another.
func ownNames(pods []NewPod) []NewPod {
	places := []string{"battery", "main", "charge", "alternator", "block", "frame", Loom, "front", "rear", "engine", "charging", "tray"}
	taken := slices.Clone(places)
	for _, u := range usual {
		for _, l := range u.loads {
			taken = append(taken, l.name)
		}
	}
	for i := range pods {
		for slices.Contains(taken, pods[i].Name) {
			pods[i].Name += " pod"
		}
		taken = append(taken, pods[i].Name)
		if slices.Contains(places, pods[i].Module) {
			pods[i].Module = pods[i].Name
		}
	}
	return pods
}

// joinedInside keeps one end of those that are joined inside a pod for good: two of them are
// one wire to the loom, and must not get two feeds. It says what becomes of the others.
func joinedInside(pods []NewPod) []string {
	var out []string
	for _, x := range pods {
		always := mapping.Map{}
		for _, l := range x.Map.Links {
			if slices.ContainsFunc(l.Whens(), func(c mapping.Condition) bool { return len(c) == 0 }) {
				always.Links = append(always.Links, mapping.Link{A: l.A, B: l.B})
			}
		}
		for _, net := range always.Nets(x.Desc, nil) {
			kept := slices.IndexFunc(net, func(e mapping.EndID) bool { return x.Functions[e] != Function{} || x.metal(e) })
			for i, e := range net {
				if i > kept && kept >= 0 && x.Functions[e] != (Function{}) && !x.metal(e) {
					delete(x.Functions, e)
					out = append(out, fmt.Sprintf("%s.%s is joined to %s.%s inside: insulate it, that one does for both.", x.Name, e, x.Name, net[kept]))
				}
			}
		}
	}
	return out
}

func (x NewPod) metal(id mapping.EndID) bool { return Pod{Desc: x.Desc}.metal(id) }

// keyContacts finds 30 and 15 of an ignition key of which the pinout cannot tell them: the
// contact that is closed with the key on and open with it off. Either way round will do. It
// says which, or that the key works nothing yet.
func keyContacts(pods []NewPod) []string {
	var out []string
	for _, x := range pods {
		if x.Key == "" || x.keyed() {
			continue
		}
		pairs := x.onPairs()
		if len(pairs) != 1 {
			why := "none of its contacts is closed with the key on and open with it off"
			if len(pairs) > 1 {
				var both []string
				for _, p := range pairs {
					both = append(both, p[0]+"-"+p[1])
				}
				why = "which of its contacts is 30 and 15 is not known (" + strings.Join(both, ", ") + ")"
			}
			out = append(out, fmt.Sprintf("THE KEY %s SWITCHES NOTHING YET: %s, and block.15 is live while the battery is on. Wire 30 from a way of the battery's feed, 15 to an ignition relay.", strings.ToUpper(x.Name), why))
			continue
		}
		a, b := mapping.EndID(pairs[0][0]), mapping.EndID(pairs[0][1])
		x.Functions[a], x.Functions[b] = Function{What: "key contact, from the battery", Din: "30"}, Function{What: "key contact, to the ignition relay", Din: "15"}
		out = append(out, fmt.Sprintf("%s.%s is taken as 30 and %s.%s as 15, to the ignition relay: either way round will do.", x.Name, a, x.Name, b))
	}
	return out
}

// onPairs lists the contacts of a key's pod that are closed in some position with the key on,
// and in none with it off. Ends to insulate or to leave are no contact of the plan.
func (x NewPod) onPairs() [][2]string {
	var out [][2]string
	if len(x.KeyOff) == 0 {
		return nil
	}
	for _, l := range x.Map.Links {
		if slices.ContainsFunc([]mapping.EndID{l.A, l.B}, func(e mapping.EndID) bool {
			return x.metal(e) || slices.Contains(x.Insulate, e) || slices.Contains(x.Leave, e)
		}) {
			continue
		}
		on := len(l.When) > 0
		for _, c := range l.When {
			t := slices.IndexFunc(c, func(t mapping.Term) bool { return string(t.Switch) == x.Key })
			on = on && t >= 0 && !slices.ContainsFunc(c[t].Positions, func(q mapping.PositionID) bool { return slices.Contains(x.KeyOff, string(q)) })
		}
		if on {
			out = append(out, [2]string{string(l.A), string(l.B)})
		}
	}
	return out
}
