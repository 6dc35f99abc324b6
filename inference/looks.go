package inference

import "maps"

// looks is what was done already, step by step, to find a better map than the best
// or a doubt that its rivals do not show. All of it is done before the best map may
// be believed; it starts before that, so that the last step does not take long.
type looks struct {
	at        uint64         // signature of the map
	turned    map[claim]int  // claims turned round, and how many readings there were
	serious   map[query]bool // odd readings that were taken serious
	scratch   int            // searches from scratch
	exchanged int            // readings there were when links last exchanged ends; 0: never
}

// effort is how many looks of each kind one step takes at most.
type effort struct{ claims, strays, scratch int }

var (
	aFewLooks = effort{claims: 3, strays: 1, scratch: 2}
	allLooks  = effort{claims: maxAtoms * maxSwitches, strays: mostStrays, scratch: restartChains}
)

const (
	looksFrom   = 0.3 // doubt at which looks begin
	scratchFrom = 0.1 // and searches from scratch
	lastScratch = 2   // searches that are left to the last step
	lookAgain   = 15  // readings after which claims are turned round and ends exchanged again
)

func (l looks) clone() looks {
	l.turned, l.serious = maps.Clone(l.turned), maps.Clone(l.serious)
	return l
}

// looksAtBest is what was done for the best map.
func (s *state) looksAtBest() *looks {
	if sig := s.p.signature(s.best); s.looks.turned == nil || s.looks.at != sig {
		s.looks = looks{at: sig, turned: map[claim]int{}, serious: map[query]bool{}}
	}
	return &s.looks
}

// look exchanges ends of links, turns claims round, takes odd readings serious and
// searches from scratch, what has not been done yet up to an effort, with claims first
// and by themselves while the last step is not taken. What it finds is kept in mind, and
// takes its share of the samples.
func (s *state) look(w *walker, e effort) {
	s.exchange()
	if s.challenge(e.claims) && e != allLooks {
		return
	}
	l := s.looksAtBest()
	found := s.takeSerious(w, e.strays)
	most := restartChains - l.scratch
	if e != allLooks {
		most -= lastScratch
	}
	if n := min(e.scratch, most); n > 0 && (e == allLooks || s.doubtLeft() < scratchFrom) {
		l.scratch += n
		found = append(found, s.restart(w, n)...)
	}
	s.takeIn(found)
	s.fillIn(w)
}
