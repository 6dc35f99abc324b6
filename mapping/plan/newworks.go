package plan

import (
	"slices"
	"strings"

	"bellout/mapping"
)

// cube is a set of settings: for every pod switch that matters, the positions that it may
// stand in. Switches are named as in Load.Works.
type cube map[string][]string

func (c cube) text() string {
	var names []string
	for name := range c {
		names = append(names, name)
	}
	slices.Sort(names)
	for i, name := range names {
		names[i] = name + "=" + strings.Join(c[name], "|")
	}
	return strings.Join(names, ", ")
}

// within tells whether all settings of a cube are another's.
func (c cube) within(o cube) bool {
	for name, at := range o {
		if len(c[name]) == 0 || slices.ContainsFunc(c[name], func(q string) bool { return !slices.Contains(at, q) }) {
			return false
		}
	}
	return true
}

// works says of each load when it is meant to work: while the map joins what brings it out to
// an end that is fed, with the key on and, behind the kill contact, with that closed.
func (b *builder) works(pods []NewPod) {
	pod := func(name string) NewPod {
		return pods[slices.IndexFunc(pods, func(x NewPod) bool { return x.Name == name })]
	}
	key, kill := []cube{{}}, []cube{{}}
	if b.keyed != "" {
		x := pod(b.keyed)
		key = x.joined(x.end("30"), x.end("15"))
	}
	if b.killPod != "" {
		x := pod(b.killPod)
		kill = x.joined(x.does(killIn), x.does(killOut))
	}
	for i, l := range b.p.Loads {
		var all []cube
		for _, u := range usual {
			if !slices.ContainsFunc(u.loads, func(x usualLoad) bool { return x.name == l.Name }) {
				continue
			}
			for _, out := range b.worked[u.job] {
				for _, s := range b.sources {
					if s.pod != out.pod {
						continue
					}
					cubes := pod(s.pod).joined(s.end, out.end)
					if s.killed {
						cubes = both(cubes, kill)
					}
					if s.killed || b.feedOf(s.way) == FromIgnition {
						cubes = both(cubes, key)
					}
					all = append(all, cubes...)
				}
			}
		}
		var works []string
		for _, c := range all {
			if !slices.ContainsFunc(all, func(o cube) bool { return c.within(o) && !o.within(c) }) {
				works = append(works, c.text())
			}
		}
		slices.Sort(works)
		if works = slices.Compact(works); !slices.Contains(works, "") {
			b.p.Loads[i].Works = works
		}
	}
}

// both is where two sets of settings meet.
func both(xs, ys []cube) []cube {
	var out []cube
	for _, x := range xs {
		for _, y := range ys {
			c, empty := cube{}, false
			for _, part := range []cube{x, y} {
				for name, at := range part {
					if had, ok := c[name]; ok {
						at = slices.DeleteFunc(slices.Clone(at), func(q string) bool { return !slices.Contains(had, q) })
					}
					c[name], empty = at, empty || len(at) == 0
				}
			}
			if !empty {
				out = append(out, c)
			}
		}
	}
	return out
}

// joined gives the settings in which a pod's map joins two ends, as few cubes that hold them
// all. Switches with names that a plan file cannot hold, or too many settings, give none.
func (x NewPod) joined(a, b mapping.EndID) []cube {
	var sws []mapping.Switch
	for _, sw := range x.Desc.Switches {
		if x.matters(sw.Name) {
			sws = append(sws, sw)
		}
	}
	const most = 4096
	total := 1
	for _, sw := range sws {
		if total *= len(sw.Positions); total > most {
			return nil
		}
		for _, q := range sw.Positions {
			if strings.ContainsAny(string(sw.Name)+string(q), ",=|") {
				return nil
			}
		}
	}
	holds := make([]bool, total)
	for i := range total {
		set, k := mapping.Setting{}, i
		for _, sw := range sws {
			set[sw.Name] = sw.Positions[k%len(sw.Positions)]
			k /= len(sw.Positions)
		}
		holds[i] = x.Map.Joined(x.Desc, set, a, b)
	}
	var out []cube
	done := make([]bool, total)
	for i := range total {
		if !holds[i] || done[i] {
			continue
		}
		c, step, members := cube{}, 1, []int{i}
		for _, sw := range sws {
			n := len(sw.Positions)
			at := i / step % n
			var in []string
			wider := members
			for q := range n {
				var moved []int
				for _, m := range members {
					moved = append(moved, m+(q-at)*step)
				}
				if slices.ContainsFunc(moved, func(m int) bool { return !holds[m] }) {
					continue
				}
				in = append(in, string(sw.Positions[q]))
				if q != at {
					wider = append(wider, moved...)
				}
			}
			if members = wider; len(in) < n {
				c[x.Name+"."+string(sw.Name)] = in
			}
			step *= n
		}
		for _, m := range members {
			done[m] = true
		}
		out = append(out, c)
	}
	return out
}

// matters tells whether a switch has a say in some contact.
func (x NewPod) matters(sw mapping.SwitchID) bool {
	for _, l := range x.Map.Links {
		for _, c := range l.When {
			if slices.ContainsFunc(c, func(t mapping.Term) bool { return t.Switch == sw }) {
				return true
			}
		}
	}
	return false
}
