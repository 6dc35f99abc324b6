package inference

import (
	"bellout/mapping"
)

// query is what a step asks, whichever side red is on.
type query struct{ one, other, s uint64 }

func ask(red, black, s uint64) query { return query{min(red, black), max(red, black), s} }

// unsaid is a question that was put and not answered: the builder was not sure, or
// the probe would not go there, or the meter said neither one nor the other.
type unsaid struct {
	query
	times int // that it counts for: what cannot be reached need not be tried again
}

const (
	patience  = 2 // times that a question is put without an answer
	givenUpAt = 4 // questions unanswered, and none answered, at an end or in a position
)

// unsaid gives a reading that says nothing as a question without an answer.
func (p *problem) unsaid(r mapping.Reading) (unsaid, bool) {
	red, ok1 := p.ends(r.Red)
	black, ok2 := p.ends(r.Black)
	s, ok3 := p.setting(r.Setting)
	u := unsaid{ask(red, black, s), 1}
	if r.Outcome == mapping.CannotReach {
		u.times = patience
	}
	return u, ok1 && ok2 && ok3 && !r.Control && r.Continuity() == mapping.Unknown
}

// declined is what is not asked any more, so that the work goes on elsewhere and ends:
// questions not answered several times, ends and positions at which none ever was. What
// hangs on them is left unresolved.
type declined struct {
	questions map[query]int
	ends      uint64
	slots     uint64
}

func (s *state) declined() *declined {
	if len(s.unsaid) == 0 {
		return nil
	}
	d := &declined{questions: map[query]int{}}
	var ends [maxEnds]int
	var slots [64]int
	for _, u := range s.unsaid {
		d.questions[u.query] += u.times
		for m := u.one | u.other; m != 0; m &= m - 1 {
			ends[lowBit(m)]++
		}
		for m := u.s; m != 0; m &= m - 1 {
			slots[lowBit(m)]++
		}
	}
	var answeredEnds, answeredSlots uint64
	for i := range s.raw {
		if o := &s.raw[i]; !o.control {
			answeredEnds |= o.red | o.black
			answeredSlots |= o.s
		}
	}
	for e, n := range ends {
		if n >= givenUpAt && answeredEnds>>e&1 == 0 {
			d.ends |= 1 << e
		}
	}
	for k, n := range slots {
		if n >= givenUpAt && answeredSlots>>k&1 == 0 {
			d.slots |= 1 << k
		}
	}
	return d
}

// asks tells whether a step is among what is not asked any more.
func (d *declined) asks(red, black, s uint64) bool {
	if d == nil {
		return false
	}
	return red&^d.ends == 0 || black&^d.ends == 0 || s&d.slots != 0 ||
		d.questions[ask(red, black, s)] >= patience
}
