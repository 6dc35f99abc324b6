package simbench

import (
	"math"
	"math/rand/v2"
	"slices"
)

// equivalents lists maps that say the same as the truth in every setting with
// one or two links moved to other ends (a net of three can be drawn three ways):
// what is one link away from any of them is one link away from the truth.
func (p *prover) equivalents() []ModelMap {
	want := signature(p.truth)
	out := []ModelMap{p.base}
	n := len(p.w.Pod.Ends)
	for i := 0; i < len(out) && len(out) < 24; i++ {
		for k, l := range out[i] {
			for e := range n {
				for _, keep := range []int{l.A, l.B} {
					if e == l.A || e == l.B {
						continue
					}
					m := slices.Clone(out[i])
					m[k] = ModelLink{min(keep, e), max(keep, e), l.Terms}
					m = p.o.merged(m)
					if len(m) == len(p.base) && signature(p.netsOf(m)) == want && !slices.ContainsFunc(out, func(x ModelMap) bool { return sameMap(x, m) }) {
						out = append(out, m)
					}
				}
			}
		}
	}
	return out
}

func sameMap(x, y ModelMap) bool {
	return !slices.ContainsFunc(x, func(l ModelLink) bool {
		return !slices.ContainsFunc(y, func(k ModelLink) bool {
			return l.A == k.A && l.B == k.B && slices.Equal(l.Terms, k.Terms)
		})
	})
}

// counterexamples walks among the maps that fit the true answers to some plans
// and lists those that say something else than the truth and are less than 12
// bits dearer, so that a proof has to deal with them: maps that differ by more
// than one link.
func (p *prover) counterexamples(ps []plan, r *rand.Rand) []ModelMap {
	rs := p.readings(ps)
	price := func(m ModelMap) float64 {
		t := p.o.Prior(m)
		joined := m.remembering(len(p.w.Pod.Ends))
		for _, x := range rs {
			t += p.o.under(joined, x, benchFault{sw: -1})
			if t > 400 {
				break
			}
		}
		return t
	}
	base := price(p.base)
	want := signature(p.truth)
	found := map[string]bool{}
	var out []ModelMap
	for range 3 {
		now, v := p.base, base
		for step := range 2500 {
			next := p.edit(now, r)
			if next == nil {
				continue
			}
			nv := price(next)
			heat := 1.5
			if step%500 < 100 {
				heat = 4
			}
			if nv > v && r.Float64() >= math.Exp2((v-nv)/heat) {
				continue
			}
			now, v = next, nv
			if v > base+12 || len(out) >= 60 {
				continue
			}
			if s := signature(p.netsOf(now)); s != want && !found[s] {
				found[s] = true
				out = append(out, now)
			}
		}
	}
	return out
}

// readings gives the true answers to some plans.
func (p *prover) readings(ps []plan) []ModelReading {
	var out []ModelReading
	for _, s := range ps {
		for _, at := range s.steps {
			out = append(out, ModelReading{red: s.red.list(), black: s.black.list(), lever: p.all[at],
				beep: beeps(p.truth[at], s.red, s.black)})
		}
	}
	return out
}

// edit changes one or two links of a map at random.
func (p *prover) edit(m ModelMap, r *rand.Rand) ModelMap {
	out := slices.Clone(m)
	for range 1 + r.IntN(2) {
		n := len(p.w.Pod.Ends)
		a := r.IntN(n)
		b := (a + 1 + r.IntN(n-1)) % n
		if len(out) == 0 || r.IntN(4) == 0 {
			out = append(out, ModelLink{min(a, b), max(a, b), p.anyTerms(r)})
			continue
		}
		i := r.IntN(len(out))
		l := out[i]
		switch r.IntN(4) {
		case 0:
			out = slices.Delete(out, i, i+1)
		case 1:
			out[i].Terms = p.anyTerms(r)
		default:
			keep := l.A
			if r.IntN(2) == 0 {
				keep = l.B
			}
			if keep == b {
				return nil
			}
			out[i] = ModelLink{min(keep, b), max(keep, b), l.Terms}
		}
	}
	return p.o.merged(out)
}

// anyTerms draws a condition of up to two switches.
func (p *prover) anyTerms(r *rand.Rand) []ModelTerm {
	k := len(p.o.rest)
	depth := min(k, []int{0, 1, 1, 1, 2}[r.IntN(5)])
	var out []ModelTerm
	for _, s := range r.Perm(k)[:depth] {
		all := p.o.all(s)
		out = append(out, ModelTerm{s, 1 + r.Uint32N(all-1)})
	}
	slices.SortFunc(out, func(a, b ModelTerm) int { return a.Switch - b.Switch })
	return out
}

// learn takes further rivals; it tells how many were new.
func (p *prover) learn(ms []ModelMap, claims []Claim) int {
	n := 0
	for _, m := range ms {
		nets := p.netsOf(m)
		s := signature(nets)
		if p.seen[s] {
			continue
		}
		p.seen[s] = true
		d := p.o.Prior(m) - p.o.Prior(p.base)
		p.rivals = append(p.rivals, rivalMap{nets: nets, weight: math.Exp2(-d), bits: float32(d)})
		n++
	}
	if n > 0 {
		clear(p.known)
		clear(p.setUps)
		p.demand(claims)
	}
	return n
}
