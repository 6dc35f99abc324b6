package tui

import (
	"errors"
	"io"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bellout/mapping"
	"bellout/tui/ears"
)

// Ears hear the meter's beep, so that both hands can stay on the pod. Learn
// listens to probes held together and remembers the tone; it comes before Next.
// Idle keeps a live sound fresh until stop is closed, before Learn. Begin and
// Cancel may be called while Next waits. NewEars gives the real ones.
type Ears interface {
	Idle(stop <-chan struct{})
	Learn(time.Duration) error
	Begin(ears.Hands) int
	Cancel()
	Next() (ears.Heard, error)
}

// NewEars makes an ear of package ears fit for Options.Ears. Its sound is live.
func NewEars(e *ears.Ear) Ears { return ear{e} }

// NewTape is NewEars for a recording: it stands still until it is listened to.
func NewTape(e *ears.Ear) Ears { return tape{ear{e}} }

type ear struct{ *ears.Ear }

type tape struct{ ear }

// Idle does nothing: a tape has no old sound to be rid of.
func (tape) Idle(<-chan struct{}) {}

func (e ear) Learn(d time.Duration) error {
	tone, err := e.Ear.Learn(d)
	if err != nil {
		return err
	}
	return e.Use(tone)
}

// calibration is how long the probes are held together to learn the tone.
const calibration = 3 * time.Second

// toneLearnt comes from the learning command to the session.
type toneLearnt struct{ err, voice error }

// stepSaid comes when the step in hand has been said: its clock begins.
type stepSaid struct {
	turn int
	err  error // of the voice
}

// heardOne comes from the listening command to the session.
type heardOne struct {
	heard ears.Heard
	err   error
}

// hearing is the state of hands-free work. A sweep is listened to only after
// the builder has said that the clips are on: a silence while they are being
// moved is no silence of the pod.
type hearing struct {
	learning bool
	learnt   bool
	ask      *asked        // the sweep that is listened to
	number   int           // of the step that is on; 0: it is still being said
	turn     int           // grows with every step that is said
	stop     chan struct{} // ends the idling
	idle     chan struct{} // closed when the idling has ended; nil: none is on
}

// idleEars keeps the sound fresh until it is learnt from.
func (a *app) idleEars() tea.Cmd {
	e := a.o.Ears
	if e == nil || a.o.Plain {
		return nil
	}
	stop, idle := make(chan struct{}), make(chan struct{})
	a.hear.stop, a.hear.idle = stop, idle
	return func() tea.Msg {
		defer close(idle)
		e.Idle(stop)
		return nil
	}
}

// learn says what to do, waits for the idling to end and learns the meter's tone.
func (a *app) learn() tea.Cmd {
	e, tell := a.o.Ears, a.tell("Hold the probes together now.")
	stop, idle := a.hear.stop, a.hear.idle
	a.hear.idle = nil
	return func() tea.Msg {
		told := tell()
		if idle != nil {
			close(stop)
			<-idle
		}
		return toneLearnt{e.Learn(calibration), told}
	}
}

// listen begins to hear the sweep in hand, or stops. The first time it learns
// the meter's tone.
func (s *session) listen() tea.Cmd {
	e := s.app.o.Ears
	h := &s.app.hear
	switch {
	case e == nil:
		s.app.lookAt("bellout has no ears: start it with --listen and a command that records sound")
		return nil
	case h.learning:
		return nil
	case !h.learnt:
		h.learning = true
		s.app.lookAt("hold the probes together for three seconds, now: learning your meter's beep")
		return s.app.learn()
	case h.ask != nil:
		s.deafen()
		s.app.say("ears off; the keys answer")
		return nil
	case s.ask == nil:
		s.app.lookAt("no sweep is in hand to listen to")
		return nil
	}
	h.ask = s.ask
	s.app.say("listening: work the levers step by step; silence ends a step by itself")
	return s.nextHeard()
}

// nextHeard says the step in hand. The ear begins it when that has been said:
// nobody moves a lever before he knows which.
func (s *session) nextHeard() tea.Cmd {
	h := &s.app.hear
	s.app.o.Ears.Cancel()
	h.turn, h.number = h.turn+1, 0
	turn, tell := h.turn, s.app.tell(s.stepAloud())
	return func() tea.Msg { return stepSaid{turn, tell()} }
}

// onStepSaid begins the step, unless it was answered or left in the meantime.
func (a *app) onStepSaid(m stepSaid) {
	a.onSpoken(m.err)
	if h := &a.hear; h.ask != nil && m.turn == h.turn && a.ses != nil && a.ses.ask == h.ask {
		h.number = a.o.Ears.Begin(a.ses.hands())
	}
}

func (s *session) stepAloud() string {
	if s.ask == nil || s.ask.sweep.Control {
		return ""
	}
	return strings.ReplaceAll(s.stepNow(), "→", "to")
}

// deafen stops listening until the builder asks again.
func (s *session) deafen() {
	if h := &s.app.hear; h.ask != nil {
		h.ask = nil
		s.app.o.Ears.Cancel()
	}
}

func (a *app) onTone(m toneLearnt) tea.Cmd {
	a.hear.learning = false
	if m.err != nil {
		return tea.Batch(a.refuse(m.err), a.speak(m.err.Error()), a.idleEars())
	}
	a.hear.learnt = true
	a.say("learnt your meter's beep; " + a.key(onProbe, actListen) + " listens to a sweep once the clips are on")
	a.onSpoken(m.voice)
	return tea.Batch(a.ring(false), a.speak("Learnt your meter's beep."), a.waitHeard())
}

// waitHeard waits for the next thing heard; something always waits, so that the
// recorder's pipe never fills with old sound.
func (a *app) waitHeard() tea.Cmd {
	e := a.o.Ears
	return func() tea.Msg {
		h, err := e.Next()
		return heardOne{h, err}
	}
}

// onHeard enters a reading made by ear; it is one like any other and is undone
// like any other.
func (a *app) onHeard(m heardOne) tea.Cmd {
	h := &a.hear
	if m.err != nil {
		h.learnt, h.ask = false, nil
		a.o.Ears = nil
		if errors.Is(m.err, io.EOF) {
			a.lookAt("the sound has ended; the keys answer from here on")
		} else {
			a.lookAt("the ears are off: " + m.err.Error())
		}
		return tea.Batch(a.ring(true), a.speak(a.note))
	}
	s := a.ses
	if s == nil || h.ask == nil || m.heard.Number != h.number || m.heard.Step.Result == ears.NoResult {
		return a.waitHeard()
	}
	if s.ask != h.ask || a.saveErr != nil {
		s.deafen()
		return a.waitHeard()
	}
	a.active = a.o.Now()
	o := map[ears.StepResult]mapping.Outcome{
		ears.Beep: mapping.Sounded, ears.Silence: mapping.Silent, ears.Flickered: mapping.Flicker,
	}[m.heard.Step.Result]
	// answer begins the next step by itself, as after a key.
	return tea.Batch(s.answer(said{outcome: o}), a.waitHeard())
}

// heardOn goes on listening after an answer, however it was given: with the
// same sweep's next step, or not at all.
func (s *session) heardOn(k *asked) tea.Cmd {
	h := &s.app.hear
	switch {
	case h.ask == nil:
		return nil
	case h.ask == k && !k.done():
		return s.nextHeard()
	}
	s.deafen()
	return nil
}
