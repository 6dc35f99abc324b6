package inference

import (
	"math/rand/v2"
	"slices"

	"bellout/mapping"
)

// Effort of the sampler. More is slower and fairer; figures in DEVELOPERS.md.
const (
	chainCount = 64  // the planner keeps them in one word, a bit each
	firstTries = 400 // for each chain, before the first reading
	splitTries = 60  // for each chain, after a reading that they did not agree on
	sweepTries = 120 // for each chain, after a sweep
	mostGroups = 24  // parts of a sweep that are taken in one by one
	lostBits   = 25  // a chain so much dearer than the cheapest map has lost its way for good

	longSession = 300.0 // readings from which on the walks are shortened
	lumpAfter   = 1000  // readings from which on several sweeps are taken in at once

	restartChains = 8
	restartTries  = 400
	resetBits     = 18 // a chain so much dearer than the better quarter has lost its way
)

// Engine is the incremental form of Infer and Next for one pod: it is used by
// one goroutine at a time, and equals the pure form at every step, since it is
// a fold over the sweeps in the order in which they were taken.
type Engine struct {
	pod      mapping.Pod
	readings []mapping.Reading
	steps    []milestone // the latest ones, and a few of those before
	result   *Result     // of the latest step, once asked for
}

// milestone is the state after so many steps, and which readings the last of them took
// in.
type milestone struct {
	*state
	number   int
	from, to int
}

const (
	recentSteps = 4  // kept, for readings that are taken back
	olderSteps  = 32 // of so many, one is kept
)

// state is what the engine holds after some sweeps. It is never changed once
// it is built.
type state struct {
	p       *problem
	raw     []obs // as read
	faults  []fault
	best    *hyp
	total   float64 // price of best with runs, prior included
	chains  []*chain
	stuck   []fault // what each chain believes of the bench at the latest reading
	ev      *evidence
	added   [handsAny + 1]float64 // see weighAdditions
	adding  *adding               // of the best map
	rivals  []rival               // other maps that the readings leave possible, cheapest first
	further []*hyp                // maps more than one change away that are kept in mind
	away    float64               // share of the samples' time spent with other maps, where they were watched
	same    float64               // weight of further drawings of the best map, where they were looked for
	courses courses

	looks looks // taken at the best map

	unsaid []unsaid // questions put that got no answer

	count  *count
	counts bool // every near rival is listed, see counted
	hands  int  // how many buttons can be held at once
}

// withHands is the same state for other leads: what cannot be held cannot be
// asked.
func (s *state) withHands(l mapping.Leads) *state {
	c := *s
	c.hands = l.MostHeld()
	return &c
}

// Infer concludes everything that the readings say about the pod. It is total
// and deterministic, and independent of the order in which the slice holds the
// readings; bad evidence is a result, never an error. The pod must be valid.
func Infer(pod mapping.Pod, readings []mapping.Reading) Result {
	return NewEngine(pod, readings).Result()
}

// Next proposes the sweep that takes away most doubt for each second at the
// bench, as far as the search for bunches finds it. It is false when the stop
// rule is met, when nothing that can be asked would help, when so many readings
// were taken that more would not, and for a pod of fewer than two ends.
func Next(pod mapping.Pod, readings []mapping.Reading, bench mapping.Bench) (Proposal, bool) {
	return NewEngine(pod, readings).Next(bench)
}

// NewEngine begins with the readings that there are.
func NewEngine(pod mapping.Pod, readings []mapping.Reading) *Engine {
	e := &Engine{pod: pod}
	e.Add(readings...)
	return e
}

// Add takes further readings.
func (e *Engine) Add(readings ...mapping.Reading) {
	all := slices.Concat(e.readings, readings)
	slices.SortStableFunc(all, compareReadings)
	same := 0
	for same < len(e.readings) && compareReadings(all[same], e.readings[same]) == 0 {
		same++
	}
	e.readings = all
	e.steps = slices.DeleteFunc(e.steps, func(s milestone) bool { return s.to > same })
	// The last step may have been short, or its sweep may have grown: fold it
	// anew.
	if n := len(e.steps); n > 1 {
		s := &e.steps[n-1]
		if s.to < len(all) && (s.to-s.from < stepSize(s.from) || sameSweep(all[s.to-1], all[s.to])) {
			e.steps = e.steps[:n-1]
		}
	}
}

// stepSize is how many readings one step takes in at least, after so many: one
// sweep at a time at first, a tenth of what there is in a long session.
func stepSize(from int) int {
	if from < lumpAfter {
		return 1
	}
	return from / 10
}

// Fork copies the engine, to work out what would follow from an answer that has
// not been given yet.
func (e *Engine) Fork() *Engine {
	return &Engine{pod: e.pod, readings: slices.Clone(e.readings),
		steps: slices.Clone(e.steps)}
}

func sameSweep(a, b mapping.Reading) bool {
	return a.Sweep != 0 && a.Sweep == b.Sweep && a.Session == b.Session
}

// now folds what has not been folded yet and gives the latest state.
func (e *Engine) now() *state {
	for more := true; more; {
		_, more = e.Advance()
	}
	return e.steps[len(e.steps)-1].state
}

// Advance takes in the next sweep of what was added, or several in a long session, and
// tells how many readings are taken in and whether there are more. Result and Next
// take in the rest by themselves; this is for who would rather say how far it is.
func (e *Engine) Advance() (in int, more bool) {
	if len(e.steps) == 0 {
		e.steps = []milestone{{state: beginState(e.pod)}}
	}
	last := e.steps[len(e.steps)-1]
	from := last.to
	if from == len(e.readings) {
		return from, false
	}
	to := from + 1
	for to < len(e.readings) && (to-from < stepSize(from) || sameSweep(e.readings[to-1], e.readings[to])) {
		to++
	}
	number := last.number + 1
	e.steps = slices.DeleteFunc(e.steps, func(s milestone) bool {
		return number-s.number > recentSteps && s.number%olderSteps != 0
	})
	e.steps = append(e.steps, milestone{last.after(e.readings[from:to], number), number, from, to})
	return to, to < len(e.readings)
}

func beginState(pod mapping.Pod) *state {
	p := newProblem(pod, nil)
	s := &state{p: p, best: &hyp{}, ev: &evidence{}, courses: courses{taken: map[uint64]*course{}}, count: new(count), hands: mapping.BunchLeads.MostHeld()}
	w := newWalker(p, nil, rand.New(rand.NewPCG(1, 0)))
	for range chainCount {
		c := w.begin()
		w.walk(c, firstTries)
		s.chains = append(s.chains, c)
		s.stuck = append(s.stuck, noFault)
	}
	s.finish(w)
	s.courses.forget()
	return s
}

// after is the state once another sweep has been read.
func (s *state) after(readings []mapping.Reading, step int) *state {
	p := *s.p
	n := &state{p: &p, ev: &evidence{}, further: s.further,
		looks: s.looks.clone(), count: new(count)}
	p.obs = slices.Clone(s.raw)
	n.unsaid = s.unsaid[:len(s.unsaid):len(s.unsaid)]
	for _, r := range readings {
		if o, ok := p.observe(r); ok {
			p.obs = append(p.obs, o)
		} else if u, ok := p.unsaid(r); ok {
			n.unsaid = append(n.unsaid, u)
		}
	}
	p.chain()
	n.raw = p.obs
	n.hands = p.handsShown()
	p.bothAct = bothActs(n.hands == mapping.PairLeads.MostHeld())
	p.unread = bitsUnread // nothing is vouched for unread
	n.best = s.best.clone()
	n.courses = courses{known: s.courses.taken, taken: map[uint64]*course{}}
	n.believe(n.best)
	rng := rand.New(rand.NewPCG(2, uint64(step)))
	w := n.filter(s.chains, len(s.raw), rng)
	for _, c := range n.chains {
		n.stuck = append(n.stuck, w.now(c))
	}
	n.finish(w)
	n.recall(w)
	n.fillIn(w)
	left := n.doubtLeft()
	if left < stopDoubt {
		n.wander(w)
		left = n.doubtLeft()
	}
	if n.strained() || n.astray() > strayShare {
		n.rebuild(w)
		left = n.doubtLeft()
	}
	if left < looksFrom {
		n.look(w, aFewLooks)
		left = n.doubtLeft()
	}
	if left < stopDoubt {
		n.look(w, allLooks)
	}
	n.courses.forget()
	return n
}
