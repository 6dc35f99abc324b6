package plan

import "slices"

// feeds are the points from which current comes with no way's fuse between. A
// bar of the block counts as live though the key may be off just now.
func feeds() []string { return []string{"battery.+", "block.15", "block.30"} }

// shortPath names the points from a way, or from "feed", to earth.
func (n *network) shortPath(s *state, from string) []string {
	if from != "feed" {
		return n.path(s, from, "battery.-")
	}
	for _, f := range feeds() {
		if path := n.path(s, f, "battery.-"); path != nil {
			return path
		}
	}
	return nil
}

// shortWords says what a short comes to: whether a fuse is in its path, and
// whether a lever has a say in it.
func (p *prover) shortWords(from string, path []string) string {
	m := p.n.plan.Supply
	bar := from == "feed" && !slices.Contains(path, "battery.+")
	main := m.MainFuse > 0 && (bar || slices.Contains(path, "main.in") && slices.Contains(path, "main.out"))
	charge := m.ChargeFuse > 0 && slices.Contains(path, "charge.in") && slices.Contains(path, "charge.out")
	always := !slices.Contains(p.tallies[ShortToGnd+"\x00"+from].found, false)
	when := "as soon as the levers stand so"
	switch {
	case bar && always:
		when = "as soon as the block is live"
	case always:
		when = "at once"
	}
	if from != "feed" || main || charge {
		return "the fuse blows " + when
	}
	return "no fuse is in that path and its wires burn " + when + ", take them apart"
}

// feedShortHere tells whether the way that a feed takes to earth lies in this
// group: seen from another, it would seem not to depend on any switch.
func (p *prover) feedShortHere(s *state) bool {
	n := p.n
	for _, from := range feeds() {
		start, ok := n.at[from]
		if !ok {
			continue
		}
		path := walk(n.links(s, false), start, func(i int) bool { return n.node[i] == n.minus })
		if path == nil {
			continue
		}
		inside := false
		for _, at := range path {
			if k := n.node[at]; k != n.plus && k != n.minus {
				if p.g.nodes[k] {
					return true
				}
				inside = true
			}
		}
		if !inside {
			return p.g.nodes[n.plus] || p.g.nodes[n.minus]
		}
	}
	return false
}

// blown tells whether a way's output is at earth with no load between: its fuse is gone, and
// what its wires would carry is no figure to size anything by.
func (s *state) blown(w wayEdge) bool { return s.earth[s.root[w.out]] }

// dead tells whether a feed is at earth: nothing works in such a setting.
func (s *state) dead() bool {
	for r := range s.plus {
		if s.plus[r] && s.earth[r] && s.root[r] == r {
			return true
		}
	}
	return false
}
