package ears

import (
	"errors"
	"fmt"
	"io"
	"sync"
	"time"
)

// Heard is one thing that Next has to tell: a beep that started or ended, or
// the reading of a step. The other one has its zero value. Number is the one
// that Begin gave for the step.
type Heard struct {
	Event  Event
	Step   Step
	Number int
}

// Ear listens to a sound and gives one reading a step. Learn, Use and Next are
// called by one goroutine at a time; Begin and Cancel by any.
type Ear struct {
	sound  *Sound
	pace   Pace
	hearer *Hearer
	steps  *Steps
	queue  []Heard
	buf    []float64
	ended  bool

	mu     sync.Mutex
	number int   // of the newest step asked for
	asked  bool  // since the last samples
	cancel bool  // asked to stop rather than to begin
	hands  Hands // of the newest step

	on int // number of the step that is on
}

// New makes an ear. It needs a tone before it can hear: Learn, then Use.
func New(sound *Sound, pace Pace) *Ear {
	return &Ear{sound: sound, pace: pace, buf: make([]float64, max(1, sound.Rate()/50))}
}

// Idle reads and forgets until stop is closed or the sound ends, so that Learn
// hears what sounds now and not what a recorder's pipe has held since the start.
// It is called by one goroutine at a time, as Learn is.
func (e *Ear) Idle(stop <-chan struct{}) {
	for {
		select {
		case <-stop:
			return
		default:
		}
		if _, err := e.sound.Read(e.buf); err != nil {
			return
		}
	}
}

// Learn listens for a time (three seconds do) and finds the meter's tone.
func (e *Ear) Learn(d time.Duration) (Tone, error) {
	n := int(d.Seconds() * float64(e.sound.Rate()))
	if n < 1 || d > time.Minute {
		return Tone{}, fmt.Errorf("a calibration of %v cannot be made: three seconds are right", d)
	}
	samples := make([]float64, n)
	got := 0
	for got < n {
		k, err := e.sound.Read(samples[got:])
		got += k
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return Tone{}, fmt.Errorf("the sound cannot be read: %w", err)
		}
	}
	return Calibrate(samples[:got], e.sound.Rate())
}

// Use begins to listen for a tone. Samples are counted from here on.
func (e *Ear) Use(t Tone) error {
	h, err := NewHearer(t, e.sound.Rate())
	if err != nil {
		return err
	}
	s, err := NewSteps(e.pace, e.sound.Rate())
	if err != nil {
		return err
	}
	e.hearer, e.steps, e.queue = h, s, nil
	return nil
}

// Begin starts a step with the next samples that come, and gives its number,
// which grows by one: the reading of a step left in the meantime carries an
// older number and is to be dropped.
func (e *Ear) Begin(h Hands) int { return e.ask(false, h) }

// Cancel stops the step that is on. A reading of it that was on its way
// carries an older number than the next step's.
func (e *Ear) Cancel() { e.ask(true, Hands{}) }

func (e *Ear) ask(cancel bool, h Hands) int {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.number++
	e.asked, e.cancel, e.hands = true, cancel, h
	return e.number
}

// obey does what the other goroutine asked for.
func (e *Ear) obey() {
	e.mu.Lock()
	defer e.mu.Unlock()
	if !e.asked {
		return
	}
	e.asked, e.on = false, e.number
	if e.cancel {
		e.steps.Cancel()
		return
	}
	e.steps.Begin(e.hearer.Heard(), e.hands)
}

// Next waits for the next thing heard. It returns io.EOF when the sound has
// ended; a step that was still on then has no reading.
func (e *Ear) Next() (Heard, error) {
	if e.hearer == nil {
		return Heard{}, errors.New("no tone has been learnt: calibrate first")
	}
	for len(e.queue) == 0 {
		if e.ended {
			return Heard{}, io.EOF
		}
		n, err := e.sound.Read(e.buf)
		e.obey()
		e.take(e.hearer.Feed(e.buf[:n]))
		if err != nil {
			if !errors.Is(err, io.EOF) {
				return Heard{}, fmt.Errorf("the sound cannot be read: %w", err)
			}
			e.ended = true
			e.take(e.hearer.Flush())
		}
	}
	h := e.queue[0]
	e.queue = e.queue[1:]
	return h, nil
}

func (e *Ear) take(events []Event) {
	for _, ev := range events {
		e.queue = append(e.queue, Heard{Event: ev})
		if st, ok := e.steps.Take(ev); ok {
			e.queue = append(e.queue, Heard{Number: e.on, Step: st})
		}
	}
	if st, ok := e.steps.Now(e.hearer.Heard(), e.hearer.Last()); ok {
		e.queue = append(e.queue, Heard{Number: e.on, Step: st})
	}
}
