package plan

import (
	"fmt"
	"slices"
	"strings"
)

// clicks answers for a starter whose relay works and that does not turn, or turns slowly.
func (r *road) clicks() []string {
	motors := r.of(Motor)
	if len(motors) == 0 || !r.said.starter() && !r.said.says("start", "engine turns") || !r.said.says("click", "slow", "lazy", "sluggish", "weak", "labour") {
		return nil
	}
	li := motors[0]
	l := r.n.loads[li]
	feed, back := r.route(li)
	_, relays := r.toWork(li)
	d := r.doors(li)
	plus, minus := r.n.names[l.plusP], r.n.names[l.minusP]
	next := fmt.Sprintf("the lugs fall below that: the battery, flat or old; they hold: every lug on %s, and the earth strap %s", strings.Join(feed, " > "), strings.Join(back, " > "))
	if len(relays) > 0 {
		rs := relays[len(relays)-1]
		next += fmt.Sprintf(", and relay %s, less than %s V from 30 to 87; no click at all: its coil waits for %s", rs, r.volts(0.2), r.doorsText(d.all()))
	}
	return five(r.fuseLine(motors[:1])+"; it is good, or it would neither click nor turn", "none in the thick wires; their lugs: "+strings.Join(feed, ", "), r.wireTo(feed, plus),
		fmt.Sprintf("while it is pressed %s V or more at the battery's lugs, less than %s V from battery plus to %s and less than %s V from %s to battery minus", r.volts(9.6), r.volts(0.5), plus, r.volts(0.3), minus), next)
}

// interlock answers for a starter or an engine that works in some gear, or with some lever, only.
func (r *road) interlock() []string {
	h := r.said
	works := r.of(Motor, Start)
	if !h.starter() && !h.says("start") {
		if works = nil; h.engine() {
			works = r.of(Ignition)
		}
	}
	if !h.says("in neutral", "in gear", "with clutch", "with the clutch", "clutch pulled", "stand ", "sidestand") || len(works) == 0 || h.lasting() {
		return nil
	}
	li := works[0]
	neutral := !h.says("only in neutral", "only start in neutral", "in gear", "clutch", "neutral only") && h.says("neutral")
	feed, _ := r.route(li)
	_, relays := r.toWork(li)
	if coil := -1; len(relays) > 0 {
		if coil = r.f.coil(relays[len(relays)-1]); coil >= 0 && r.f.best[coil] != nil {
			li = coil
		}
	}
	l := r.n.loads[li]
	st := r.workingWith(li, neutral)
	if st == nil {
		return nil
	}
	own, back := r.n.wayOf(st, l)
	path := slices.Concat(own, back)
	contacts := r.contactsWhere(func(c contact) bool { return r.n.holds(c, st.set) && r.n.onPath(path, c) })
	pl, cavity := r.lastCavity(path)
	mine := back
	for _, x := range r.byPod(contacts) { // the clutch or the stand, not what feeds the start button
		if slices.ContainsFunc(splitWords(strings.Join(x.switches, " ")), func(w string) bool { return h.says(w+" ") && w != "start" }) {
			mine = x.ends // it is named
		}
		for _, end := range x.ends {
			if i := slices.IndexFunc(r.p.Plugs, func(pl Plug) bool { return strings.HasPrefix(end, pl.Name+".") }); i >= 0 && slices.Contains(mine, end) {
				pl, cavity = r.p.Plugs[i], end
			}
		}
	}
	var used []int
	for _, ci := range contacts {
		for _, sw := range r.n.contacts[ci].switches() {
			if !slices.Contains(used, sw) {
				used = append(used, sw)
			}
		}
	}
	set := r.n.settingText(st.set, used)
	expect := fmt.Sprintf("with key on, %s: %s V across the coil's 86 and 85, and less than %s V from %s to battery minus", set, trim(r.p.Volts), r.volts(0.5), strings.Join(back[:min(1, len(back))], ""))
	if r.diodeTests(path) != "" {
		expect += fmt.Sprintf(", %s more where a diode lies in between", trim(diodeVolts))
	}
	return five(r.fuseLine([]int{li})+"; it is good if all works otherwise", r.plugLine(pl, cavity)+"; the contacts on the way: "+r.doorsText(contacts), r.wireTo(path, cavity), expect,
		"a contact that stays open, one after another with the fuse out, a beep in that setting: "+r.doorsText(contacts)+"; then along "+strings.Join(path, " > ")+r.diodeTests(path)+"; what it works is good: "+strings.Join(feed, " > "))
}

// workingWith is a state in which a load works with the gearbox in neutral, or out of it.
func (r *road) workingWith(li int, neutral bool) *state {
	n := r.n
	var best *state
	held := 1 << 20
	for _, g := range n.groups() {
		if n.count(g) > maxSettings || !slices.Contains(g.loads, li) {
			continue
		}
		n.every(g, func(_ int, s *state) bool {
			if !s.fed(n.loads[li]) {
				return true
			}
			for i, sw := range n.switches {
				if q := sw.sw.Index("neutral"); q >= 0 && (s.set[i] == q) != neutral {
					return true
				}
			}
			if h := n.held(s.set); h < held {
				held, best = h, n.stateIn(s.set)
			}
			return true
		})
	}
	return best
}

// named gives the contacts of a switch that a symptom names.
func (r *road) named() []int {
	words := r.said.words()
	return r.contactsWhere(func(c contact) bool {
		pod := r.p.Pods[c.pod]
		return slices.ContainsFunc(c.switches(), func(sw int) bool {
			name := splitWords(string(r.n.switches[sw].sw.Name))
			if len(pod.Desc.Switches) == 1 { // a lever switch goes by its pod's name
				name = append(name, splitWords(pod.Name)...)
			}
			return slices.ContainsFunc(name, func(w string) bool { return slices.Contains(words, w) })
		})
	})
}

// switchNamed answers for a switch: which cavities its contacts join, and what hangs behind it.
func (r *road) switchNamed() []string {
	contacts, h := r.named(), r.said
	if len(contacts) == 0 || (len(r.picked) > 0 || h.says("telltale", "light ", "lamp ")) && !h.says("switch", "lever ", "contact", "sensor", "sender") {
		return nil
	}
	var behind []int
	for li, l := range r.n.loads {
		if l.load >= 0 && r.f.best[li] != nil && slices.ContainsFunc(r.doors(li).all(), func(ci int) bool { return slices.Contains(contacts, ci) }) {
			behind = append(behind, li)
		}
	}
	if len(behind) == 0 {
		return nil
	}
	c := r.n.contacts[contacts[0]]
	at := r.cavityOf(r.p.Pods[c.pod], c.pb)
	wire := r.wireAt(at)
	if wire == "" {
		wire = r.wireTo(r.wholeWay(behind[0]), at)
	}
	return five(r.fuseLine(behind), "its contacts: "+r.doorsText(contacts), wire,
		fmt.Sprintf("plug apart, between those cavities on the switch's side: a beep in the positions of %s and OL in the others", r.positions(contacts)),
		"it does: the switch is good, look behind it, at "+r.names(behind)+"; it does not: clean its contact, or a wire broken where the pod's own wires bend")
}

// positions says in which positions some contacts hold.
func (r *road) positions(contacts []int) string {
	var out []string
	for _, ci := range contacts {
		c := r.n.contacts[ci]
		link := r.p.Pods[c.pod].Map.Links[c.link]
		for _, cond := range link.When {
			if text := conditionText(cond); !slices.Contains(out, text) {
				out = append(out, text)
			}
		}
	}
	return strings.Join(out, "; ")
}
