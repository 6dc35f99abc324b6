package inference

import (
	"math"
	"slices"
)

// oCandidates lists every link of depth 0, 1 and 2 that a pod can have, each
// term with every set of positions but none and all.
func (o *oPod) candidates() []oLink {
	var out []oLink
	var terms [][]oTerm
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
			terms = append(terms, []oTerm{{k, m}})
		}
	}
	for k := range o.rest {
		for j := range k {
			for _, m := range masks(k) {
				for _, l := range masks(j) {
					terms = append(terms, []oTerm{{j, l}, {k, m}})
				}
			}
		}
	}
	for b := range o.pod.Ends {
		for a := range b {
			for _, t := range terms {
				out = append(out, oLink{a, b, t})
			}
		}
	}
	return out
}

// clashesAtSite tells whether two links would be one: the same ends and the
// same single switch, or no switch.
func clashesAtSite(x, y oLink) bool {
	if x.a != y.a || x.b != y.b || len(x.terms) != len(y.terms) {
		return false
	}
	switch len(x.terms) {
	case 0:
		return true
	case 1:
		return x.terms[0].sw == y.terms[0].sw
	}
	return slices.Equal(x.terms, y.terms)
}

// oClaim is a pair of ends in a setting, numbered pair by pair.
type oTable struct {
	o        *oPod
	settings [][]int
	best     float64    // price of the cheapest map
	bestMap  oMap       // that map
	turned   []float64  // per claim: price of the cheapest map that says otherwise than bestMap
	said     uint64     // claims that bestMap says are joined
	weight   float64    // sum of 2^-price over all maps counted
	agree    float64    // of it, maps that say the same as bestMap everywhere
	bySize   []float64  // price of the cheapest map with so many links
	maps     int        // maps counted
	seen     []oOpinion // cheapest map of each opinion
}

// oOpinion is what a map says of every claim, with the cheapest price at which
// any map says it.
type oOpinion struct {
	says  uint64
	price float64
}

func (o *oPod) settingsAll() [][]int {
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

// claim numbers a pair (a < b) in setting number s.
func (t *oTable) claim(s, a, b int) int {
	n := len(t.o.pod.Ends)
	return s*n*(n-1)/2 + b*(b-1)/2 + a
}

func (t *oTable) opinion(m oMap) uint64 {
	n := len(t.o.pod.Ends)
	var says uint64
	for s, lever := range t.settings {
		name := m.nets(n, lever)
		for b := range n {
			for a := range b {
				if name[a] == name[b] {
					says |= 1 << t.claim(s, a, b)
				}
			}
		}
	}
	return says
}

// joiner reads the joins off what a map says of every claim.
func (t *oTable) joiner(says uint64) oJoiner {
	return func(lever, red, black []int) bool {
		s := 0
		for k, q := range lever {
			s = s*len(t.o.pod.Switches[k].Positions) + q
		}
		for _, a := range red {
			for _, b := range black {
				if a == b || says>>t.claim(s, min(a, b), max(a, b))&1 == 1 {
					return true
				}
			}
		}
		return false
	}
}

// enumerate prices every map of up to most links against the readings. The
// pod must have at most 64 claims.
func (o *oPod) enumerate(rs []oReading, most int) *oTable {
	t := &oTable{o: o, settings: o.settingsAll(), best: math.Inf(1), bySize: make([]float64, most+1)}
	n := len(o.pod.Ends)
	claims := len(t.settings) * n * (n - 1) / 2
	if claims > 64 {
		panic("the oracle takes up to 64 claims")
	}
	for i := range t.bySize {
		t.bySize[i] = math.Inf(1)
	}
	cand := o.candidates()
	cheapest := map[uint64]float64{}
	weights := map[uint64]float64{}
	var m oMap
	var walk func(from int)
	walk = func(from int) {
		t.maps++
		says := t.opinion(m)
		price := o.prior(m) + o.explainFast(t.joiner(says), rs)
		if v, ok := cheapest[says]; !ok || price < v {
			cheapest[says] = price
		}
		weights[says] += math.Exp2(-price)
		t.weight += math.Exp2(-price)
		t.bySize[len(m)] = min(t.bySize[len(m)], price)
		if price < t.best {
			t.best, t.bestMap = price, slices.Clone(m)
		}
		if len(m) == most {
			return
		}
		for i := from; i < len(cand); i++ {
			if slices.ContainsFunc(m, func(x oLink) bool { return clashesAtSite(x, cand[i]) }) {
				continue
			}
			m = append(m, cand[i])
			walk(i + 1)
			m = m[:len(m)-1]
		}
	}
	walk(0)
	t.said = t.opinion(t.bestMap)
	t.agree = weights[t.said]
	t.turned = make([]float64, claims)
	for c := range t.turned {
		t.turned[c] = math.Inf(1)
	}
	for says, price := range cheapest {
		t.seen = append(t.seen, oOpinion{says, price})
		for c := range t.turned {
			if (says^t.said)>>c&1 == 1 {
				t.turned[c] = min(t.turned[c], price)
			}
		}
	}
	return t
}

// explainFast is explain, or the sum of the single readings' prices where no
// course of events with a slip or a wrong lever can be cheaper than that.
func (o *oPod) explainFast(m oJoiner, rs []oReading) float64 {
	sum := 0.0
	for _, r := range rs {
		sum += o.under(m, r, oFault{sw: -1})
	}
	if sum < oPriceLever {
		return sum
	}
	return o.explain(m, rs)
}
