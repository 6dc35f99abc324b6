package tui

import (
	"errors"
	"io"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"bellout/mapping"
	"bellout/tui/ears"
)

// scriptedEars hear what a list says, one result a step begun.
type scriptedEars struct {
	results []ears.StepResult
	number  int
	begun   bool
	hands   []ears.Hands // asked for, step by step
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
func (e *scriptedEars) Begin(h ears.Hands) int {
	e.number++
	e.begun, e.hands = true, append(e.hands, h)
	return e.number
}
func (e *scriptedEars) Cancel() { e.number++; e.begun = false }
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
		if got := rs[i].OutcomeWords(); got != want {
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

// The ear's clock for a step begins when the step has been said, and a step that
// was answered by key in the meantime is not listened to any more.
func TestListensOnceTheStepIsSaid(t *testing.T) {
	e := &scriptedEars{}
	r := newRig(t, started(examplePod()), func(o *Options) {
		o.Ears, o.Quiet = e, true
		o.Speak = func(string) error { return nil }
		o.Spoken = func() {}
	})
	r.a.route(toneLearnt{})
	first := r.a.route(keyMsg("h"))
	if len(e.hands) != 0 {
		t.Fatal("it listens before the step has been said")
	}
	next := r.a.route(keyMsg("space")) // by key, while the step is being said
	r.a.settle(first)
	if len(e.hands) != 0 {
		t.Fatal("it listens to a step that has its answer")
	}
	r.a.settle(next)
	if want := []ears.Hands{{Time: 2 * time.Second, Moves: 1}}; !cmp.Equal(want, e.hands) {
		t.Errorf("for dip to main the hands have %v", e.hands)
	}
}

// Each lever and button has its own time, by the prices of the bench; without a
// voice the words have to be read.
func TestHandsHaveTheirTime(t *testing.T) {
	pod := examplePod()
	pod.Switches = append(pod.Switches, mapping.Switch{Name: "turn", Positions: []mapping.PositionID{"left", "off", "right"}, Rest: "off"})
	r := newRig(t, started(pod), func(o *Options) { o.Speak = func(string) error { return nil } })
	s := r.a.ses
	rest := pod.Rest()
	put := func(steps ...mapping.Setting) {
		s.abandon()
		r.a.settle(s.put(mapping.Sweep{Red: []mapping.EndID{"2"}, Black: []mapping.EndID{"1"}, Steps: steps}))
	}
	horn := rest.With("horn", "in")
	put(rest, rest.With("dip", "main").With("turn", "left"), rest.With("turn", "right"), horn, horn, rest)
	for i, want := range []ears.Hands{
		{Time: 6 * time.Second, Moves: 3}, // nobody vouches for a lever: its whole travel
		{Time: 4 * time.Second, Moves: 2},
		{Time: 6 * time.Second, Moves: 3},
		{Time: 7 * time.Second, Moves: 2},
		{}, // once more, and it is held already
		{Time: 2 * time.Second, Moves: 1},
	} {
		if got := s.hands(); got != want {
			t.Errorf("step %d: %v, want %v", i+1, got, want)
		}
		r.press("space")
	}
	put(rest.With("dip", "main"))
	r.a.o.Speak = nil
	if got, want := s.hands(), (ears.Hands{Time: 2900 * time.Millisecond, Moves: 1}); got != want {
		t.Errorf("dip to main, to be read: %v, want %v", got, want)
	}
	r.press("c")
	if got := s.hands(); got.Time != 3*time.Second || got.Moves != 1 {
		t.Errorf("a control beep: %v", got)
	}
}

// Whoever has both hands on the probes hears what became of the learning.
func TestLearningIsSpoken(t *testing.T) {
	var said []string
	e := &scriptedEars{learn: errors.New("no steady tone was heard")}
	r := newRig(t, started(examplePod()), func(o *Options) {
		o.Quiet, o.Ears = true, e
		o.Speak = func(s string) error { said = append(said, s); return nil }
	})
	said = nil
	r.press("h")
	e.learn = nil
	r.press("h")
	want := []string{
		"Hold the probes together now.", "no steady tone was heard",
		"Hold the probes together now.", "Learnt your meter's beep.", "the sound has ended; the keys answer from here on",
	}
	if d := cmp.Diff(want, said); d != "" {
		t.Error(d)
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
	said = nil
	r.press("u")
	want = []string{"undone: 1 answer taken back; set all as shown. Red on 2, black on 1. dip to low, hold horn in."}
	if d := cmp.Diff(want, said); d != "" {
		t.Error(d)
	}
	r.a.o.Speak = func(string) error { return errors.New("no such voice") }
	r.press("space")
	r.sees("the speech program failed and is off now: no such voice")
	r.press("space")
}
