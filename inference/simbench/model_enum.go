package simbench

import (
	"math"
	"slices"
)

// Candidates lists every link of depth 0, 1 and 2 that a pod can have, each
// term with every set of positions but none and all.
func (o *Model) Candidates() []ModelLink {
	var out []ModelLink
	var terms [][]ModelTerm
	masks := func(k int) []uint32 {
		var ms []uint32
		for m := uint32(1); m < 1<<len(o.pod.Switches[k].Positions)-1; m++ {
			ms = append(ms, m)
		}
		return ms
	}
	terms = append(terms, nil)
	for k := range o.rest {
		for _, m := range masks(k) {
			terms = append(terms, []ModelTerm{{k, m}})
		}
	}
	for k := range o.rest {
		for j := range k {
			for _, m := range masks(k) {
				for _, l := range masks(j) {
					terms = append(terms, []ModelTerm{{j, l}, {k, m}})
				}
			}
		}
	}
	for b := range o.pod.Ends {
		for a := range b {
			for _, t := range terms {
				out = append(out, ModelLink{a, b, t})
			}
		}
	}
	return out
}

// clashesAtSite tells whether two links would be one: the same ends and the
// same single switch, or no switch.
func clashesAtSite(x, y ModelLink) bool {
	if x.A != y.A || x.B != y.B || len(x.Terms) != len(y.Terms) {
		return false
	}
	switch len(x.Terms) {
	case 0:
		return true
	case 1:
		return x.Terms[0].Switch == y.Terms[0].Switch
	}
	return slices.Equal(x.Terms, y.Terms)
}

// Table is what every map of a small pod says, with its price. A claim is a
// pair of ends in a setting; claims are numbered setting by setting.
type Table struct {
	Settings [][]int    // every setting
	Best     float64    // price of the cheapest map
	BestMap  ModelMap   // that map
	Turned   []float64  // per claim: price of the cheapest map that says otherwise than BestMap
	Rival    []ModelMap // per claim: that map
	Weight   float64    // sum of 2^-price over all maps counted
	Agree    float64    // of it, the maps that say the same as BestMap everywhere
	BySize   []float64  // price of the cheapest map with so many links
	Maps     int        // maps counted
	said     uint64     // claims that BestMap says are joined
	o        *Model
	weights  map[uint64]float64 // by what the maps say of every claim
}

// Settings lists every setting of the pod, the first switch slowest.
func (o *Model) Settings() [][]int {
	out := [][]int{{}}
	for _, sw := range o.pod.Switches {
		var next [][]int
		for _, head := range out {
			for q := range sw.Positions {
				next = append(next, append(slices.Clone(head), q))
			}
		}
		out = next
	}
	return out
}

// Claim numbers a pair (a < b) in setting number s.
func (t *Table) Claim(s, a, b int) int {
	n := len(t.o.pod.Ends)
	return s*n*(n-1)/2 + b*(b-1)/2 + a
}

func (t *Table) opinion(m ModelMap) uint64 {
	n := len(t.o.pod.Ends)
	var says uint64
	for s, lever := range t.Settings {
		name := m.nets(n, lever)
		for b := range n {
			for a := range b {
				if name[a] == name[b] {
					says |= 1 << t.Claim(s, a, b)
				}
			}
		}
	}
	return says
}

// joiner reads the joins off what a map says of every claim.
func (t *Table) joiner(says uint64) joinFunc {
	return func(lever, red, black []int) bool {
		s := 0
		for k, q := range lever {
			s = s*len(t.o.pod.Switches[k].Positions) + q
		}
		for _, a := range red {
			for _, b := range black {
				if a == b || says>>t.Claim(s, min(a, b), max(a, b))&1 == 1 {
					return true
				}
			}
		}
		return false
	}
}

// Enumerate prices every map of up to most links against the readings. The
// pod must have at most 64 claims.
func (o *Model) Enumerate(rs []ModelReading, most int) *Table {
	t := &Table{o: o, Settings: o.Settings(), Best: math.Inf(1), BySize: make([]float64, most+1)}
	n := len(o.pod.Ends)
	claims := len(t.Settings) * n * (n - 1) / 2
	if claims > 64 {
		panic("the oracle takes up to 64 claims")
	}
	for i := range t.BySize {
		t.BySize[i] = math.Inf(1)
	}
	cand := o.Candidates()
	cheapest := map[uint64]float64{}
	maps := map[uint64]ModelMap{}
	weights := map[uint64]float64{}
	t.weights = weights
	var m ModelMap
	var walk func(from int)
	walk = func(from int) {
		t.Maps++
		says := t.opinion(m)
		price := o.Prior(m) + o.explainFast(t.joiner(says), rs)
		if v, ok := cheapest[says]; !ok || price < v {
			cheapest[says] = price
			maps[says] = slices.Clone(m)
		}
		weights[says] += math.Exp2(-price)
		t.Weight += math.Exp2(-price)
		t.BySize[len(m)] = min(t.BySize[len(m)], price)
		if price < t.Best {
			t.Best, t.BestMap = price, slices.Clone(m)
		}
		if len(m) == most {
			return
		}
		for i := from; i < len(cand); i++ {
			if slices.ContainsFunc(m, func(x ModelLink) bool { return clashesAtSite(x, cand[i]) }) {
				continue
			}
			m = append(m, cand[i])
			walk(i + 1)
			m = m[:len(m)-1]
		}
	}
	walk(0)
	t.said = t.opinion(t.BestMap)
	t.Agree = weights[t.said]
	t.Turned = make([]float64, claims)
	t.Rival = make([]ModelMap, claims)
	for c := range t.Turned {
		t.Turned[c] = math.Inf(1)
	}
	for says, price := range cheapest {
		for c := range t.Turned {
			if (says^t.said)>>c&1 == 1 {
				if price < t.Turned[c] || price == t.Turned[c] && len(maps[says]) < len(t.Rival[c]) {
					t.Turned[c], t.Rival[c] = price, maps[says]
				}
			}
		}
	}
	return t
}

// Joined is what the cheapest map says of a claim.
func (t *Table) Joined(claim int) bool { return t.said>>claim&1 == 1 }

// Bits is by how much the best map becomes dearer when a claim is turned
// round; infinite when no map counted does so.
func (t *Table) Bits(claim int) float64 { return t.Turned[claim] - t.Best }

// Pair gives the setting number and the ends of a claim.
func (t *Table) Pair(claim int) (s, a, b int) {
	n := len(t.o.pod.Ends)
	pairs := n * (n - 1) / 2
	s, k := claim/pairs, claim%pairs
	for b = 1; k >= b; b++ {
		k -= b
	}
	return s, k, b
}

// WeightOf is the share of the weight of all maps counted that belongs to maps
// with which ok agrees in every claim.
func (t *Table) WeightOf(ok func(claim int, joined bool) bool) float64 {
	var want, mind uint64 // claims for which ok takes one answer only, and which
	for c := range t.Turned {
		yes, no := ok(c, true), ok(c, false)
		switch {
		case yes && no:
		case yes:
			want |= 1 << c
			mind |= 1 << c
		case no:
			mind |= 1 << c
		}
	}
	sum := 0.0
	for says, w := range t.weights {
		if says&mind == want {
			sum += w
		}
	}
	return sum / t.Weight
}
