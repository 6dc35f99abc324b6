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
// in which nothing counts (the lever is on its way, the recorder lags).
// Timeout, counted from the begin, is the silence that ends a step. A chirp
// shorter than Chirp, counted within the step, is no beep.
type Pace struct {
	Settle  time.Duration
	Timeout time.Duration
	Chirp   time.Duration
}

// DefaultPace suits a practised hand: levers take two seconds a step (the cost
// table), cheap beepers lag by up to half a second (common practice).
func DefaultPace() Pace {
	return Pace{Settle: 700 * time.Millisecond, Timeout: 3 * time.Second, Chirp: 180 * time.Millisecond}
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
	settle, timeout, chirp int64 // samples
	active                 bool
	begin                  int64
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
	n := func(d time.Duration) int64 { return int64(d.Seconds() * float64(rate)) }
	return &Steps{settle: n(p.Settle), timeout: n(p.Timeout), chirp: n(p.Chirp)}, nil
}

// Begin starts a step at a sample. A step that was on is forgotten.
func (s *Steps) Begin(at int64) { s.active, s.begin, s.chirped = true, at, false }

// Cancel stops the step that is on, without a reading.
func (s *Steps) Cancel() { s.active = false }

// from is where a beep that is on begins to count in this step.
func (s *Steps) from() int64 { return max(s.since, s.begin+s.settle) }

// Take notes a beep's start or end. It may complete the step.
func (s *Steps) Take(e Event) (Step, bool) {
	switch e.Kind {
	case BeepStart:
		s.sounding, s.since = true, e.At
	case BeepEnd:
		was := s.sounding
		s.sounding = false
		if !s.active || !was || e.At <= s.begin+s.settle {
			return Step{}, false
		}
		if e.At-s.from() >= s.chirp {
			return s.done(Beep, s.from()+s.chirp)
		}
		// The tail of the last step's beep is no chirp of this one.
		s.chirped = s.chirped || s.since >= s.begin+s.settle
	}
	return Step{}, false
}

// Now says that the sound has been judged up to a sample, and at which one the
// beep that is on was last heard (Hearer.Last; no matter without a beep). It may
// complete the step: a beep as soon as it has lasted, silence or flicker at the
// timeout.
func (s *Steps) Now(at, last int64) (Step, bool) {
	switch {
	case !s.active:
	case s.sounding && last-s.from() >= s.chirp:
		return s.done(Beep, s.from()+s.chirp)
	case s.sounding && s.from() < s.begin+s.timeout:
		// A beep that began in time is heard out before the step ends.
	case at >= s.begin+s.timeout && s.chirped:
		return s.done(Flickered, s.begin+s.timeout)
	case at >= s.begin+s.timeout:
		return s.done(Silence, s.begin+s.timeout)
	}
	return Step{}, false
}

func (s *Steps) done(r StepResult, at int64) (Step, bool) {
	s.active = false
	return Step{Result: r, At: at}, true
}
