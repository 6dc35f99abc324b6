package plan

import (
	"fmt"
	"math/bits"
	"slices"
	"strings"
)

// Kinds of findings that exhaustion gives.
const (
	TiedWays    = "tied-ways"         // two ways' outputs on one net
	ShortToGnd  = "short"             // a way or the feed at earth without a load
	Bypassed    = "fuse-bypassed"     // a way's output joined to a feed around its fuse
	Unfused     = "unfused"           // a load fed by no way's fuse
	FedKeyOff   = "fed-key-off"       // a load fed with the key off
	NeverFed    = "never-fed"         // a load that no setting feeds
	BackFeed    = "back-feed"         // a load that glows through another
	NotAsMeant  = "not-as-meant"      // fed when it is not meant to be, or the other way
	Reversed    = "reversed"          // a one-way load fed the wrong way round
	Chatter     = "relay-chatters"    // a relay that finds no rest
	TooMany     = "too-many-settings" // more combinations than can be tried
	glowPercent = 10.0                // of nominal voltage: a lamp glows, a relay may hold (common practice)
)

// tally is one thing that happens in some settings of a group.
type tally struct {
	kind, where string
	found       []bool
	say         func(s *state) (string, []string) // asked at the first setting
}

// prover tries every setting of a network.
type prover struct {
	n       *network
	keys    []int    // switches that are a key
	off     []uint32 // their off positions
	works   [][][]term
	tallies map[string]*tally
	order   []string
	total   int
	g       group
	fed     []bool // loads fed in some setting
}

// prove gives the findings of all settings, gravest first.
func prove(n *network) []Finding {
	p := &prover{n: n, fed: make([]bool, len(n.loads))}
	p.keys, p.off = n.keys()
	p.works = n.works()
	var out []Finding
	for _, g := range n.groups() {
		out = append(out, p.group(g)...)
	}
	slices.SortStableFunc(out, byGravity)
	return out
}

func (n *network) keys() (keys []int, off []uint32) {
	for i, sw := range n.switches {
		pod := n.plan.Pods[sw.pod]
		if pod.Key != string(sw.sw.Name) || pod.Key == "" {
			continue
		}
		var m uint32
		for _, q := range pod.KeyOff {
			for k, have := range sw.sw.Positions {
				if string(have) == q {
					m |= 1 << k
				}
			}
		}
		keys, off = append(keys, i), append(off, m)
	}
	return keys, off
}

func (p *prover) keyOff(s *state) bool {
	for i, k := range p.keys {
		if p.off[i]&(1<<s.set[k]) == 0 {
			return false
		}
	}
	return len(p.keys) > 0
}

func (p *prover) group(g group) []Finding {
	n := p.n
	p.g, p.total = g, n.count(g)
	if p.total > maxSettings {
		return []Finding{{Kind: TooMany, Where: n.switches[g.switches[0]].name, Say: fmt.Sprintf(
			"%d switches act on one another here, more settings than %d: split the circuit or the pod", len(g.switches), maxSettings)}}
	}
	p.tallies, p.order = map[string]*tally{}, nil
	n.every(g, func(i int, s *state) bool {
		p.netsOf(i, s)
		p.loadsOf(i, s)
		p.glow(i, s)
		return true
	})
	var out []Finding
	for _, l := range g.loads {
		if !p.fed[l] && n.loads[l].load >= 0 && !n.loads[l].stops {
			out = append(out, Finding{Kind: NeverFed, Where: n.loads[l].name,
				Say: fmt.Sprintf("no setting of any switch feeds %s: see that both its sides are wired", n.loads[l].name)})
		}
	}
	s := newState(n)
	for _, key := range p.order {
		t := p.tallies[key]
		text, first := n.cube(g, t.found)
		for i, sw := range n.switches {
			s.set[i] = sw.rest
		}
		n.put(g, first, s.set)
		n.eval(s)
		say, path := t.say(s)
		out = append(out, Finding{Kind: t.kind, Where: t.where, Setting: text, Say: say, Path: path})
	}
	return out
}

func (p *prover) note(i int, kind, where string, say func(*state) (string, []string)) {
	key := kind + "\x00" + where
	t := p.tallies[key]
	if t == nil {
		t = &tally{kind: kind, where: where, found: make([]bool, p.total), say: say}
		p.tallies[key] = t
		p.order = append(p.order, key)
	}
	t.found[i] = true
}

// netsOf looks for ties, shorts and fuses gone round.
func (p *prover) netsOf(i int, s *state) {
	n := p.n
	if s.chatter != "" {
		name := s.chatter
		p.note(i, Chatter, name, func(*state) (string, []string) {
			return fmt.Sprintf("%s switches its own coil off and on again: feed the coil from somewhere else", name), nil
		})
	}
	for r := range n.nodes {
		if s.root[r] != r || s.ways[r] == 0 && !s.plus[r] {
			continue
		}
		p.netOf(i, s, r)
	}
}

func (p *prover) netOf(i int, s *state, r int) {
	n := p.n
	var names, mine []string // of the net, and those that this group decides
	for w := s.ways[r]; w != 0; w &= w - 1 {
		k := bits.TrailingZeros64(w)
		names = append(names, n.plan.Block.Ways[n.ways[k].way].Name)
		if slices.Contains(p.g.ways, k) {
			mine = append(mine, names[len(names)-1])
		}
	}
	switch {
	case s.earth[r]:
		who := mine
		if s.plus[r] {
			who = nil
			if p.feedShortHere(s) {
				who = []string{"feed"}
			}
		}
		for _, w := range who {
			p.note(i, ShortToGnd, w, func(st *state) (string, []string) {
				path := n.shortPath(st, w)
				return fmt.Sprintf("%s goes to earth with no load between: %s", w, p.shortWords(w, path)), path
			})
		}
	case s.plus[r] && len(names) > 0:
		for _, w := range mine {
			p.note(i, Bypassed, w, func(st *state) (string, []string) {
				path := n.path(st, w, "battery.+")
				for _, bus := range []string{"block.15", "block.30"} {
					if path == nil {
						path = n.path(st, w, bus)
					}
				}
				return fmt.Sprintf("%s is joined to a feed around its fuse: pulling the fuse leaves it live", w), path
			})
		}
	case len(mine) > 1:
		for a := range names {
			for b := a + 1; b < len(names); b++ {
				x, y := names[a], names[b]
				p.note(i, TiedWays, x+" "+y, func(st *state) (string, []string) {
					return fmt.Sprintf("%s and %s are joined: pulling one fuse leaves the circuit live and the two add up. Put both on one way, or a relay or diode between", x, y), n.path(st, x, y)
				})
			}
		}
	}
}

func (p *prover) loadsOf(i int, s *state) {
	n := p.n
	off := p.keyOff(s)
	for _, li := range p.g.loads {
		l := n.loads[li]
		fed := s.fed(l)
		if l.load < 0 {
			continue
		}
		load := n.plan.Loads[l.load]
		if l.stops {
			p.stopWire(i, s, l)
			continue
		}
		if fed {
			p.fed[li] = true
			if off && !load.Always {
				p.note(i, FedKeyOff, l.name, func(st *state) (string, []string) {
					return fmt.Sprintf("%s is fed with the key off and drains the battery: feed it from an ignition way, or mark it always = true", l.name), n.feedPath(st, l)
				})
			}
			if l.led && s.backward(l) {
				p.note(i, Reversed, l.name, func(st *state) (string, []string) {
					return fmt.Sprintf("%s works one way round only and is fed the other way: swap its two wires", l.name), n.feedPath(st, l)
				})
			}
			hot := s.root[l.plus]
			if s.backward(l) {
				hot = s.root[l.minus]
			}
			if s.plus[hot] && load.GroupOf() != Motor {
				p.note(i, Unfused, l.name, func(st *state) (string, []string) {
					return fmt.Sprintf("%s is fed by no way's fuse: take it from a way of the block", l.name), n.feedPath(st, l)
				})
			}
		}
		if p.works[l.load] == nil {
			continue
		}
		if meant(p.works[l.load], s.set) != fed {
			p.note(i, NotAsMeant, l.name, func(st *state) (string, []string) {
				if st.fed(l) {
					return fmt.Sprintf("%s works here and is not meant to: look for swapped wires or cavities", l.name), n.feedPath(st, l)
				}
				return fmt.Sprintf("%s is meant to work here and does not: look for swapped wires or cavities, or a missing one", l.name), nil
			})
		}
	}
}

// works turns what the loads are meant to do into terms; Read has checked the
// names. A condition that names no switch of the network is left out.
func (n *network) works() [][][]term {
	out := make([][][]term, len(n.plan.Loads))
	for i, l := range n.plan.Loads {
		for _, w := range l.Works {
			var cond []term
			for _, c := range splitWhen(w) {
				for k, sw := range n.switches {
					if sw.name != c.name {
						continue
					}
					var m uint32
					for q, have := range sw.sw.Positions {
						if slices.Contains(c.at, string(have)) {
							m |= 1 << q
						}
					}
					cond = append(cond, term{k, m})
				}
			}
			out[i] = append(out[i], cond)
		}
	}
	return out
}

// when is one "switch=position|position" of a condition.
type when struct {
	name string
	at   []string
}

func splitWhen(s string) []when {
	var out []when
	for part := range strings.SplitSeq(s, ",") {
		name, at, _ := strings.Cut(part, "=")
		if name = strings.TrimSpace(name); name == "" {
			continue
		}
		w := when{name: name}
		for q := range strings.SplitSeq(at, "|") {
			w.at = append(w.at, strings.TrimSpace(q))
		}
		out = append(out, w)
	}
	return out
}
