package plan

import (
	"slices"
	"strings"
)

// feed lets a way feed a point: a way of its own, or the one of a point that it is tied to.
func (b *builder) feed(feed Feed, what string, to podEnd) {
	length := 1.0
	if to.pod == "" {
		length = 0.3
	}
	name := b.wayOf(to.at)
	if name == "" {
		name = "W" + itoa(len(b.p.Block.Ways)+1)
		b.p.Block.Ways = append(b.p.Block.Ways, Way{Name: name, Feed: feed, What: what})
	} else {
		w := &b.p.Block.Ways[slices.IndexFunc(b.p.Block.Ways, func(w Way) bool { return w.Name == name })]
		w.What += ", " + what
		if w.Feed != feed {
			w.Feed = FromIgnition // dead with the key off
		}
	}
	b.sources = append(b.sources, source{podEnd: to, way: name})
	b.tap(name, to.at, what, length)
}

// wayOf is the way that a point has to share with one that is fed already, "" if none.
func (b *builder) wayOf(at string) string {
	group := []string{at}
	for i := 0; i < len(group); i++ {
		for _, t := range b.tied {
			for k := range t {
				if t[k] == group[i] && !slices.Contains(group, t[1-k]) {
					group = append(group, t[1-k])
				}
			}
		}
	}
	for _, s := range b.sources {
		if slices.Contains(group, s.at) {
			return s.way
		}
	}
	return ""
}

func (b *builder) feedOf(way string) Feed {
	for _, w := range b.p.Block.Ways {
		if w.Name == way {
			return w.Feed
		}
	}
	return ""
}

// tiedFeeds gives the pairs of fed points whose ways some setting of the pods joins.
func (b *builder) tiedFeeds() [][2]string {
	var out [][2]string
	at := func(way string) string {
		return b.sources[slices.IndexFunc(b.sources, func(s source) bool { return s.way == way })].at
	}
	for _, f := range prove(compile(&b.p, nil)) {
		if f.Kind == TiedWays {
			x, y, _ := strings.Cut(f.Where, " ")
			out = append(out, [2]string{at(x), at(y)})
		}
	}
	return out
}

// tap runs a wire from a point that may feed several: where one goes off already, the two
// meet in a splice.
func (b *builder) tap(from, to, what string, length float64) {
	name := "S" + strings.ReplaceAll(from, ".", "")
	i := slices.IndexFunc(b.p.Wires, func(w Wire) bool { return w.From == from })
	switch {
	case i < 0:
		name = from
	case b.p.Wires[i].To != name:
		first := &b.p.Wires[i]
		first.From = name
		b.p.Splices = append(b.p.Splices, Splice{Name: name, Place: "by the block"})
		b.wire(from, name, Loom, first.What, 0.1)
	}
	b.wire(name, to, Loom, what, length)
}

// flasher feeds a turn switch; two of them hang on one flasher.
func (b *builder) flasher(here podEnd, what string) {
	if !slices.ContainsFunc(b.p.Parts, func(x Part) bool { return x.Name == "FL" }) {
		b.p.Parts = append(b.p.Parts, Part{Name: "FL", Kind: "flasher"})
		b.feed(FromIgnition, "indicators", podEnd{at: "FL.49"})
	}
	way := b.sources[slices.IndexFunc(b.sources, func(s source) bool { return s.at == "FL.49" })].way
	b.sources = append(b.sources, source{podEnd: here, way: way})
	b.tap("FL.49a", here.at, what, 1)
}

// starts feeds the start contacts: behind the kill contact, so that nothing cranks with kill
// off, or by a way of their own where there is none.
func (b *builder) starts() {
	for _, here := range b.behind {
		what := b.whatAt(here.at, "50")
		if b.killPod == "" {
			b.feed(FromIgnition, what, here)
			continue
		}
		if s := "S1"; b.outs["1"][0] != s {
			b.p.Splices = append(b.p.Splices, Splice{Name: s, Place: "steering head"})
			b.wire(b.outs["1"][0], s, Loom, b.whatAt(b.outs["1"][0], "1"), 0.2)
			b.outs["1"] = []string{s}
		}
		b.sources = append(b.sources, source{podEnd: here, killed: true})
		b.wire("S1", here.at, Loom, what, 0.8)
	}
}
