package tui

import (
	"reflect"
	"slices"
	"sync"
	"sync/atomic"

	"bellout/inference"
	"bellout/mapping"
)

// brain owns the engine of one pod. Commands run in their own goroutines, so
// everything goes through its lock, and nothing of the engine is touched while
// a frame is drawn.
type brain struct {
	make   func(mapping.Pod, []mapping.Reading) Engine
	latest atomic.Int64 // generation that is asked about now; older questions are not worth answering

	mu    sync.Mutex
	pod   mapping.Pod
	seen  []mapping.Reading // what the engine has been told, in order
	eng   Engine
	forks map[mapping.Outcome]fork
}

// fork is an answer that was worked out before it was given.
type fork struct {
	reading mapping.Reading
	eng     Engine
	thought thought
}

// question is a consistent copy of what the engine is to think about.
type question struct {
	gen      int
	pod      mapping.Pod
	readings []mapping.Reading
	bench    mapping.Bench
	propose  bool
}

// thought is everything that the screens show of the engine's mind at one
// generation. It is made outside the drawing and never changed afterwards.
type thought struct {
	gen   int
	find  Findings
	sum   inference.Result
	table contactTable
	next  inference.Proposal
	has   bool // next is a proposal
	asked bool // a proposal was looked for

	partly bool // the readings are not all taken in: nothing is concluded yet
	in     int  // how many are, then
}

// takenAtOnce is how many sweeps are taken in before the screen is told how far it is,
// and before a question that has grown stale is dropped. Opening a large job takes in
// hundreds.
const takenAtOnce = 16

// think concludes from the question, or says how far it has come: then it wants to be
// asked again. A fork that guessed right makes it cheap.
func (b *brain) think(q question) thought {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.stale(q) {
		return thought{gen: q.gen}
	}
	if t, ok := b.adopt(q); ok {
		return t
	}
	b.feed(q)
	in := 0
	for range takenAtOnce {
		var more bool
		if in, more = b.eng.Advance(); !more {
			return conclude(b.eng, q)
		}
	}
	return thought{gen: q.gen, partly: true, in: in}
}

// ahead works out what would follow from each likely answer to the reading in
// hand. The reading carries the number that it will be kept under.
func (b *brain) ahead(q question, r mapping.Reading, after mapping.Bench) map[mapping.Outcome]fork {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.stale(q) {
		return nil
	}
	b.feed(q)
	forks := map[mapping.Outcome]fork{}
	for _, o := range []mapping.Outcome{mapping.Silent, mapping.Sounded} {
		if b.stale(q) {
			return nil
		}
		r.Outcome = o
		e := b.eng.Fork()
		e.Add(r)
		forks[o] = fork{reading: r, eng: e, thought: conclude(e, question{
			gen: q.gen + 1, pod: q.pod, bench: after, propose: q.propose,
		})}
	}
	b.forks = forks
	return forks
}

// stale tells that the builder has gone on meanwhile.
func (b *brain) stale(q question) bool { return int64(q.gen) < b.latest.Load() }

// why asks which readings a verdict rests on.
func (b *brain) why(f Findings, s mapping.Setting, x, y mapping.EndID) (inference.Verdict, []mapping.ReadingID) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return f.Joined(s, x, y), f.Why(s, x, y)
}

// with runs something that asks a result of the engine, such as the making of a
// pinout.
func (b *brain) with(do func()) {
	b.mu.Lock()
	defer b.mu.Unlock()
	do()
}

// adopt takes over a fork that was made for exactly these readings.
func (b *brain) adopt(q question) (thought, bool) {
	n := len(b.seen)
	if b.eng == nil || len(q.readings) != n+1 || !reflect.DeepEqual(b.pod, q.pod) || !sameReadings(b.seen, q.readings[:n]) {
		return thought{}, false
	}
	last := q.readings[n]
	f, ok := b.forks[last.Outcome]
	if !ok || !reflect.DeepEqual(f.reading, last) || (q.propose && !f.thought.asked) {
		return thought{}, false
	}
	b.eng, b.forks, b.seen = f.eng, nil, slices.Clone(q.readings)
	t := f.thought
	t.gen = q.gen
	return t, true
}

// feed brings the engine up to the question's readings: the new ones are
// added; if any was struck out or the pod has changed, it begins afresh.
func (b *brain) feed(q question) {
	n := len(b.seen)
	if b.eng != nil && reflect.DeepEqual(b.pod, q.pod) && len(q.readings) >= n && sameReadings(b.seen, q.readings[:n]) {
		if len(q.readings) > n {
			b.eng.Add(q.readings[n:]...)
			b.seen, b.forks = slices.Clone(q.readings), nil
		}
		return
	}
	b.pod, b.seen, b.forks = q.pod, slices.Clone(q.readings), nil
	b.eng = b.make(q.pod, b.seen)
}

func sameReadings(a, b []mapping.Reading) bool {
	return slices.EqualFunc(a, b, func(x, y mapping.Reading) bool { return x.ID == y.ID })
}

func conclude(e Engine, q question) thought {
	f := e.Findings()
	t := thought{gen: q.gen, find: f, sum: f.Summary(), asked: q.propose}
	t.table = newContactTable(q.pod, f)
	if q.propose {
		t.next, t.has = e.Next(q.bench)
	}
	return t
}
