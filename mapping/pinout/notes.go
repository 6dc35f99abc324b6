package pinout

import (
	"fmt"
	"strings"

	"bellout/mapping"
)

// weakOhms is what the ohms pass notes a contact for (common practice): 1 ohm
// over the leads.
const weakOhms = 1.0

// pageNotes says in words what a reader of the page must know besides the
// table: what is not known, what is shared, what does nothing.
func (b *builder) pageNotes(p Pinout) []string {
	out := append([]string{}, b.doubts()...)
	for _, l := range p.Unresolved {
		out = append(out, "not settled: whether "+l.Between[0]+" and "+l.Between[1]+" are joined, "+l.When)
	}
	for _, e := range b.pod.Ends {
		var users []string
		for _, c := range b.claims[e.ID] {
			if (c.side == common || c.side == feed) && c.sw != "" {
				if s := b.sw(c.sw); len(users) == 0 || users[len(users)-1] != s {
					users = append(users, s)
				}
			}
		}
		if len(users) > 1 {
			out = append(out, b.id(e.ID)+" is shared by "+strings.Join(users, ", ")+": what it feeds is on one fuse")
		}
	}
	for _, l := range p.Links {
		if l.Ohms != nil && *l.Ohms > weakOhms {
			out = append(out, fmt.Sprintf("%s-%s (%s) reads up to %s over the leads: dirt or a worn contact; work it 20 times and read again, and until then let it switch a relay and no lamp", l.Between[0], l.Between[1], l.When, mapping.Resistance(*l.Ohms)))
		}
	}
	for _, net := range p.Bridged {
		out = append(out, strings.Join(net, " and ")+" are always joined: never give them two ways; a wire that is not used is live whenever its partner is")
	}
	var silent, untried []string
	for _, e := range b.dead() {
		if b.deadGrade(e) == mapping.NotTested {
			untried = append(untried, b.id(e))
		} else {
			silent = append(silent, b.id(e))
		}
	}
	if len(silent) > 0 {
		out = append(out, strings.Join(silent, ", ")+": reaches nothing that was tried")
	}
	if len(untried) > 0 {
		out = append(out, strings.Join(untried, ", ")+": not read against every other end in every position; silence and untested are not the same")
	}
	for _, t := range p.Tables {
		if len(t.Ends) == 0 && len(t.Through) == 0 && !t.Untried {
			out = append(out, "switch "+t.Switch+" changes nothing so far: it may be silent by itself and need a partner, or work a component")
		}
	}
	for _, e := range b.pod.Ends {
		if w := mapping.IECWarning(e.Base, e.Tracer); w != "" {
			out = append(out, b.id(e.ID)+": "+w)
		}
	}
	return append(out, b.notes...)
}

// cautions are those that matter on this page.
func (b *builder) cautions(p Pinout) []string {
	out := append([]string(nil), b.warn...)
	if p.Face == FaceNotStated {
		out = append(out, "Cavity numbers without a face are worth nothing: seen from the wires and seen from the mating face they are mirror images. Write down which is meant.")
	}
	for _, e := range p.Ends {
		if e.Terminal == "2" {
			out = append(out, "An earthing kill wire on an ignition supply is a dead short in OFF: never join the two.")
			break
		}
	}
	return append(out,
		"Before the plug is cut off: photograph both faces, leave 50 to 100 mm of tail on the old plug, flag both sides of each cut, one wire at a time.",
		"Test with the pod unplugged, or with battery negative off. Local law says which lamps, brake and horn a road needs.",
	)
}
