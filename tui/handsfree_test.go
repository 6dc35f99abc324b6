package tui

import (
	"errors"
	"io"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"bellout/tui/ears"
)

// scriptedEars hear what a list says, one result a step begun.
type scriptedEars struct {
	results []ears.StepResult
	number  int
	begun   bool
	learn   error
	idled   int
	live    bool // Idle reads until it is stopped
}

func (e *scriptedEars) Idle(stop <-chan struct{}) {
	e.idled++
	if e.live {
		<-stop
	}
}
func (e *scriptedEars) Learn(time.Duration) error { return e.learn }
func (e *scriptedEars) Begin() int                { e.number++; e.begun = true; return e.number }
func (e *scriptedEars) Cancel()                   { e.number++; e.begun = false }
func (e *scriptedEars) Next() (ears.Heard, error) {
	if !e.begun {
		return ears.Heard{}, io.EOF // the test's sound ends where nobody listens any more
	}
	e.begun = false
	r := e.results[0]
	e.results = e.results[1:]
	return ears.Heard{Number: e.number, Step: ears.Step{Result: r}}, nil
}

// Hands free: the tone is learnt, then a whole sweep is answered by ear and
// nothing is heard between two sweeps, while clips are being moved.
func TestHandsFree(t *testing.T) {
	e := &scriptedEars{results: []ears.StepResult{ears.Silence, ears.Beep, ears.Flickered, ears.Beep}}
	r := newRig(t, started(examplePod()), func(o *Options) { o.Ears = e; o.Quiet = true })
	cmd := r.a.route(keyMsg("h"))
	r.sees("hold the probes together")
	// The tone is learnt, but the waiting is not run to its end yet.
	r.a.route(toneLearnt{})
	_ = cmd
	r.sees("learnt your meter's beep")
	r.press("h")
	r.a.settle(r.a.waitHeard())
	rs := r.a.ses.work.Readings
	if len(rs) != 3 {
		t.Fatalf("%d readings by ear of a sweep of three steps", len(rs))
	}
	for i, want := range []string{"silent", "beep", "flicker"} {
		if got := outcomeWords(rs[i]); got != want {
			t.Errorf("step %d: %s, want %s", i+1, got, want)
		}
	}
	if len(e.results) != 1 || r.a.hear.ask != nil {
		t.Error("it went on listening while the clips are being moved")
	}
	r.sees("the sound has ended")
}

func TestEarsThatCannotLearn(t *testing.T) {
	e := &scriptedEars{learn: errors.New("no tone stands out: go nearer")}
	r := newRig(t, started(examplePod()), func(o *Options) { o.Ears = e; o.Quiet = true })
	r.press("h")
	r.sees("no tone stands out")
	none := newRig(t, started(examplePod()), nil)
	none.press("h")
	none.sees("no ears")
}

// Until the tone is learnt, and again after it could not be, the sound is read
// and forgotten: a recorder's pipe holds seconds of old sound otherwise.
func TestSoundIsKeptFresh(t *testing.T) {
	e := &scriptedEars{learn: errors.New("no tone stands out"), live: true}
	r := newRig(t, started(examplePod()), func(o *Options) { o.Ears = e; o.Quiet = true })
	idle := r.a.idleEars()
	ended := make(chan struct{})
	go func() { idle(); close(ended) }()
	learn := r.a.learn()
	m := learn().(toneLearnt)
	select {
	case <-ended:
	default:
		t.Error("it learns while the old sound is still being read")
	}
	if e.idled != 1 || m.err == nil {
		t.Errorf("idled %d times, learnt %v", e.idled, m.err)
	}
	if r.a.onTone(m) == nil || r.a.hear.idle == nil {
		t.Error("after a failed learning nobody reads the sound")
	}
}

// Every instruction and every step is spoken once, in words that can be said.
func TestSpoken(t *testing.T) {
	var said []string
	r := newRig(t, started(examplePod()), func(o *Options) {
		o.Quiet = true
		o.Speak = func(s string) error { said = append(said, s); return nil }
	})
	r.press("space", "space", "space")
	want := []string{
		"Red on 2, black on 1. dip to low.", "dip to main", "dip to low, hold horn in",
		"Red on 3, black on 1. let go horn.",
	}
	if d := cmp.Diff(want, said); d != "" {
		t.Error(d)
	}
	r.a.o.Speak = func(string) error { return errors.New("no such voice") }
	r.press("space")
	r.sees("the speech program failed and is off now: no such voice")
	r.press("space")
}
