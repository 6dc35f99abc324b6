package plan

import (
	"slices"
	"strings"
)

// doors are the contacts, by number, that lie between a load and its sources or earth in
// some setting, and the relays, whose coils' contacts are doors too.
type doors struct {
	feed, back, coils []int
	relays            []string
}

func (d doors) all() []int { return slices.Concat(d.feed, d.back, d.coils) }

// doors finds what can feed a load, whatever its levers do now.
func (r *road) doors(li int) doors {
	var d doors
	n := r.n
	todo := []int{li}
	for k := 0; k < len(todo); k++ {
		l := n.loads[todo[k]]
		in, out := l.plus, l.minus
		if r.f.best[todo[k]] != nil && r.works(todo[k]).backward(l) {
			in, out = out, in
		}
		feed, relays := r.between(in, true)
		back, more := r.between(out, false)
		if k == 0 {
			d.feed, d.back = feed, back
		} else {
			d.coils = append(d.coils, slices.Concat(feed, back)...)
		}
		for _, name := range slices.Concat(relays, more) {
			if coil := r.f.coil(name); coil >= 0 && !slices.Contains(todo, coil) {
				d.relays = append(d.relays, name)
				todo = append(todo, coil)
			}
		}
	}
	return d
}

// between gives the contacts and relays on the simple ways from a node to a source, or to earth.
func (r *road) between(from int, up bool) (contacts []int, relays []string) {
	n := r.n
	goal := make([]bool, n.nodes)
	goal[n.minus] = true
	if up {
		goal[n.minus], goal[n.plus] = false, true
		for _, w := range n.ways {
			goal[w.out], goal[w.bus] = true, true
		}
	}
	next := make([][]int, n.nodes)
	add := func(a, b int) { next[a] = append(next[a], b) }
	for _, c := range n.contacts {
		add(c.a, c.b)
		add(c.b, c.a)
	}
	for _, g := range n.gates {
		add(g.a, g.b)
		add(g.b, g.a)
	}
	for _, d := range n.diodes {
		if up {
			add(d.b, d.a)
		} else {
			add(d.a, d.b)
		}
	}
	stop := func(i int) bool { return goal[i] || i == n.minus || i == n.plus }
	reach := func(from, shut int, wanted func(int) bool) bool {
		seen := make([]bool, n.nodes)
		seen[from] = true
		for queue := []int{from}; len(queue) > 0; queue = queue[1:] {
			at := queue[0]
			if wanted(at) {
				return true
			}
			for _, to := range next[at] {
				if !seen[to] && to != shut && !stop(at) {
					seen[to] = true
					queue = append(queue, to)
				}
			}
		}
		return false
	}
	on := func(a, b int) bool { // there is a way from the load to a, over to b and on to a goal
		return !stop(a) && a != b && b != from && reach(from, b, func(i int) bool { return i == a }) && reach(b, a, func(i int) bool { return goal[i] })
	}
	for i, c := range n.contacts {
		if on(c.a, c.b) || on(c.b, c.a) {
			contacts = append(contacts, i)
		}
	}
	for _, g := range n.gates {
		if g.kind != blinks && (on(g.a, g.b) || on(g.b, g.a)) && !slices.Contains(relays, g.name) {
			relays = append(relays, g.name)
		}
	}
	return contacts, relays
}

// cavityOf is the cavity of a pod's plug that one of its ends comes to, else the end itself.
func (r *road) cavityOf(pod Pod, end int) string {
	found := r.n.names[end]
	for _, pl := range r.p.Plugs {
		for c := 1; c <= pl.Cavities && pl.Module == pod.Module; c++ {
			at := pl.Name + "." + itoa(c)
			if i, ok := r.n.at[at]; !ok || r.n.node[i] != r.n.node[end] || r.n.node[end] == r.n.minus {
				continue
			}
			if found == r.n.names[end] || slices.ContainsFunc(r.p.Wires, func(w Wire) bool {
				return w.From == at && w.To == r.n.names[end] || w.To == at && w.From == r.n.names[end]
			}) {
				found = at
			}
		}
	}
	return found
}

// door is a pod with those of its cavities and switches that some contacts are about.
type door struct {
	pod            Pod
	switches, ends []string
}

func (d door) String() string {
	return strings.Join(d.switches, " and ") + " (" + strings.Join(d.ends, ", ") + ")"
}

// byPod sorts contacts by their pods.
func (r *road) byPod(contacts []int) []door {
	var out []door
	add := func(list []string, s string) []string {
		if slices.Contains(list, s) {
			return list
		}
		return append(list, s)
	}
	for _, ci := range contacts {
		c := r.n.contacts[ci]
		pod := r.p.Pods[c.pod]
		k := slices.IndexFunc(out, func(d door) bool { return d.pod.Name == pod.Name })
		if k < 0 {
			k, out = len(out), append(out, door{pod: pod})
		}
		for _, sw := range c.switches() {
			out[k].switches = add(out[k].switches, r.n.switches[sw].name)
		}
		out[k].ends = add(add(out[k].ends, r.cavityOf(pod, c.pa)), r.cavityOf(pod, c.pb))
	}
	return out
}

// doorsText names the switches of some contacts with the cavities of their pods.
func (r *road) doorsText(contacts []int) string {
	var out []string
	for _, d := range r.byPod(contacts) {
		out = append(out, d.String())
	}
	if len(out) == 0 {
		return "no switch"
	}
	return strings.Join(out, ", ")
}

// contactsWhere are the contacts of some kind.
func (r *road) contactsWhere(wanted func(contact) bool) []int {
	var out []int
	for i, c := range r.n.contacts {
		if wanted(c) {
			out = append(out, i)
		}
	}
	return out
}

// podsOn names the pods that a path goes through.
func (p *Plan) podsOn(path []string) []string {
	var out []string
	for _, at := range path {
		name, _, _ := strings.Cut(at, ".")
		if slices.ContainsFunc(p.Pods, func(x Pod) bool { return x.Name == name }) && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}
