package ears

import (
	"errors"
	"time"
)

// StepResult is what was heard in one step of a sweep.
type StepResult int

// The results; the zero value is none.
const (
	NoResult StepResult = iota
	Beep
	Silence
	Flickered // a chirp too short for a contact, and nothing after it
)

// String gives the word for a result.
func (r StepResult) String() string {
	switch r {
	case Beep:
		return "beep"
	case Silence:
		return "silence"
	case Flickered:
		return "flicker"
	}
	return "nothing yet"
}

// Pace says how long things last in a step. Settle is the time after its begin
// in which nothing counts (the recorder lags). Timeout is how long is listened
// once the hands have had their time: what has not changed by then, silence or
// a tone that goes on, is the answer. A chirp shorter than Chirp, counted within
// the step, is no beep.
type Pace struct {
	Settle  time.Duration
	Timeout time.Duration
	Chirp   time.Duration
}

// DefaultPace suits cheap beepers, which lag by up to half a second (common
// practice).
func DefaultPace() Pace {
	return Pace{Settle: 700 * time.Millisecond, Timeout: 2 * time.Second, Chirp: 180 * time.Millisecond}
}

// Hands is what a step asks of the hands before its reading can be told: Time is
// how long they take, Moves how many movements that is. After a single one a
// fresh tone is the answer; on the way through several it may come from a
// setting in between, and counts when their time has passed.
type Hands struct {
	Time  time.Duration
	Moves int
}

func (p Pace) check() error {
	switch {
	case p.Settle < 0 || p.Chirp <= 0 || p.Timeout <= 0:
		return errors.New("a step's times must be above zero: give settle, timeout and chirp as durations such as 700ms")
	case p.Settle+p.Chirp >= p.Timeout:
		return errors.New("a step that ends before a beep can be told: make the timeout longer than settle and chirp together")
	}
	return nil
}

// Step is the reading of one step. At is the sample at which it was certain.
type Step struct {
	Result StepResult
	At     int64
}

// Steps turns beeps into one reading a step.
type Steps struct {
	rate                   int
	settle, timeout, chirp int64 // samples
	active                 bool
	begin                  int64
	opens                  int64 // from where on a fresh tone counts
	ends                   int64 // where what has not changed is the answer
	sounding               bool
	since                  int64
	chirped                bool
}

// NewSteps makes the step reader for sound of rate samples a second.
func NewSteps(p Pace, rate int) (*Steps, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	if err := checkRate(rate); err != nil {
		return nil, err
	}
	s := &Steps{rate: rate}
	s.settle, s.timeout, s.chirp = s.samples(p.Settle), s.samples(p.Timeout), s.samples(p.Chirp)
	return s, nil
}

func (s *Steps) samples(d time.Duration) int64 { return int64(d.Seconds() * float64(s.rate)) }

// Begin starts a step at a sample. A step that was on is forgotten.
func (s *Steps) Begin(at int64, h Hands) {
	hands := s.samples(max(0, h.Time))
	s.active, s.begin, s.chirped = true, at, false
	s.opens, s.ends = at+s.settle, at+hands+s.timeout
	if h.Moves > 1 {
		s.opens = max(s.opens, at+hands)
	}
}

// Cancel stops the step that is on, without a reading.
func (s *Steps) Cancel() { s.active = false }

// fresh tells a tone that began within this step from the one of the step before
// that merely goes on.
func (s *Steps) fresh() bool { return s.since >= s.begin }

// from is where a beep that is on begins to count in this step.
func (s *Steps) from() int64 { return max(s.since, s.opens) }

// Take notes a beep's start or end. It may complete the step.
func (s *Steps) Take(e Event) (Step, bool) {
	switch e.Kind {
	case BeepStart:
		s.sounding, s.since = true, e.At
	case BeepEnd:
		was := s.sounding
		s.sounding = false
		if !s.active || !was || !s.fresh() || e.At <= s.opens {
			return Step{}, false
		}
		if e.At-s.from() >= s.chirp {
			return s.done(Beep, s.from()+s.chirp)
		}
		s.chirped = s.chirped || s.since >= s.opens
	}
	return Step{}, false
}

// Now says that the sound has been judged up to a sample, and at which one the
// beep that is on was last heard (Hearer.Last; no matter without a beep). It may
// complete the step: a fresh beep as soon as it has lasted; a tone that goes on,
// silence and flicker when the time is up.
func (s *Steps) Now(at, last int64) (Step, bool) {
	switch {
	case !s.active:
	case s.sounding && s.fresh() && last-s.from() >= s.chirp:
		return s.done(Beep, s.from()+s.chirp)
	case s.sounding && !s.fresh() && last >= s.ends:
		return s.done(Beep, s.ends)
	case s.sounding && s.from() < s.ends:
		// A beep that began in time is heard out before the step ends.
	case at >= s.ends && s.chirped:
		return s.done(Flickered, s.ends)
	case at >= s.ends:
		return s.done(Silence, s.ends)
	}
	return Step{}, false
}

func (s *Steps) done(r StepResult, at int64) (Step, bool) {
	s.active = false
	return Step{Result: r, At: at}, true
}
