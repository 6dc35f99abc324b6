package inference

import (
	"cmp"
	"slices"

	"bellout/mapping"
)

// culprits prices what may have gone wrong: each clashing reading by itself,
// and what the cheapest explanation says of the bench.
func (s *state) culprits(set []obs, odd int) []Culprit {
	var out []Culprit
	if f := s.faults[odd]; f != noFault {
		c := Culprit{Kind: SlippedClip}
		if f.lever >= 0 {
			sw := s.p.pod.Switches[f.lever]
			c = Culprit{Kind: WrongLever, Switch: sw.Name, Actual: sw.Positions[f.actual]}
		}
		for i := range s.raw {
			if s.faults[i] == f && s.wrong(i) {
				c.Readings = append(c.Readings, s.raw[i].id)
			}
		}
		out = append(out, c)
	}
	for _, q := range set[:min(len(set), mostSuspects)] {
		p := *s.p
		p.obs = slices.DeleteFunc(slices.Clone(s.p.obs), func(o obs) bool { return o.id == q.id })
		h := p.descend(s.best.clone())
		raw := slices.DeleteFunc(slices.Clone(s.raw), func(o obs) bool { return o.id == q.id })
		price := priceSilence
		kind := OddReading
		if q.closed {
			price = priceBeep
		}
		if q.s&s.p.heldSlots != 0 && !q.closed {
			kind = HalfPressed
		}
		if s.comesAndGoes(q) {
			kind = Intermittent
		}
		b := p.explain(h, raw, nil) + p.prior(h) + price - s.total
		if b < culpritWindow {
			out = append(out, Culprit{Kind: kind, Readings: []mapping.ReadingID{q.id}, Bits: max(b, 0)})
		}
	}
	slices.SortStableFunc(out, func(a, b Culprit) int { return cmp.Compare(a.Bits, b.Bits) })
	return out
}

// comesAndGoes tells whether the question of a reading was answered either way more than
// once. One answer against others is more likely odd by itself, and a re-test tells.
func (s *state) comesAndGoes(q obs) bool {
	var beeps, silences int
	for i := range s.raw {
		o := &s.raw[i]
		same := o.red == q.red && o.black == q.black || o.red == q.black && o.black == q.red
		switch {
		case o.control || !same || o.s != q.s:
		case o.closed:
			beeps++
		default:
			silences++
		}
	}
	return min(beeps, silences) > 1
}
