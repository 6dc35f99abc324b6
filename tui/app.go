package tui

import (
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bellout/mapping"
)

// screen is one thing to look at and act on. The size is given to View at every
// frame, so none goes stale.
type screen interface {
	scope() scope
	title() string
	// typing is the line being typed, or nil; it gets every key meanwhile.
	typing() *editor
	// act does what a key means; enter and esc of a typed line come as actOpen
	// and actBack of the form scope.
	act(a action) tea.Cmd
	// take gets messages that are no keys.
	take(m tea.Msg) tea.Cmd
	// view gives at most h lines of at most w cells.
	view(w, h int) []string
}

// app is the root: it owns the job, the writes and the stack of screens.
type app struct {
	o     Options
	th    theme
	keys  keymap
	w, h  int
	job   *mapping.Job
	log   []mapping.Entry
	ses   *session // nil while no pod is open
	stack []screen

	seq, acked uint64 // last number given out; last number known to be on disk
	queue      [][]mapping.Entry
	writing    bool
	saveErr    error
	leaving    bool // the builder asked to leave and a write is not done

	hear     hearing
	bellAt   uint64 // ring once this number is on disk; 0: no
	noteAt   uint64 // the notice tells of an answer kept under this number; 0: of something else
	note     string // the line of notice
	look     bool   // the notice asks to be looked at
	quiet    bool
	cautions map[string]bool // shown in this sitting
	pressed  time.Time       // the last answer key, taken or not
	active   time.Time       // the last key of any kind

	far func(lines []string) // told how far a long thought is, where nothing is drawn
}

// newApp folds the log and opens the first screen.
func newApp(o Options) (*app, error) {
	job, err := mapping.Fold(o.Log)
	if err != nil {
		return nil, fmt.Errorf("reading the job: %w", err)
	}
	th, err := newTheme(o.Theme, o.Out)
	if err != nil {
		return nil, err
	}
	keys := newKeymap(o.Keys)
	if err := keys.check(o.Keys); err != nil {
		return nil, err
	}
	a := &app{
		o: o, th: th, keys: keys, job: job, log: append([]mapping.Entry(nil), o.Log...),
		quiet: o.Quiet, cautions: map[string]bool{}, w: 80, h: 24,
	}
	if n := len(o.Log); n > 0 {
		a.seq = o.Log[n-1].Seq
		a.acked = a.seq
	}
	return a, nil
}

// begin opens the screen that the options ask for.
func (a *app) begin() tea.Cmd {
	switch {
	case len(a.job.Order) == 0:
		a.stack = []screen{newDescribe(a)}
		return nil
	case a.o.Pod != "" && a.job.Pods[a.o.Pod] != nil:
		return a.open(a.o.Pod)
	case len(a.job.Order) == 1:
		return a.open(a.job.Order[0])
	}
	a.stack = []screen{&pods{app: a}}
	return nil
}

// open begins a sitting with a pod. Where readings have been taken before, the
// way leads over the return screen: nobody vouches for levers and clips.
func (a *app) open(key mapping.PodKey) tea.Cmd {
	work := a.job.Pods[key]
	leads := work.Leads
	if work.Session == 0 {
		leads = a.o.Leads
	}
	a.ses = newSession(a, key)
	a.ses.holding = len(work.Readings) > 0
	cmd := a.ses.sit(leads)
	a.stack = []screen{&probe{app: a}}
	a.caution("continuity")
	if len(work.Readings) > 0 {
		a.stack = append(a.stack, &comeback{app: a})
	}
	return cmd
}

func (a *app) top() screen { return a.stack[len(a.stack)-1] }

func (a *app) push(s screen) { a.stack = append(a.stack, s) }

func (a *app) pop() {
	a.hush()
	a.drop()
}

// drop leaves a screen and lets its notice stand.
func (a *app) drop() {
	if len(a.stack) > 1 {
		a.stack = a.stack[:len(a.stack)-1]
	}
}

// put adds entries to the job and sends them to be kept. They are in the job at
// once, so that nothing waits for the disk; until the keeper has acknowledged
// them they show as being saved.
func (a *app) put(pod mapping.PodKey, entries ...mapping.Entry) tea.Cmd {
	at := a.o.Now().UnixMilli()
	batch := make([]mapping.Entry, 0, len(entries))
	for _, e := range entries {
		a.seq++
		e.Seq, e.At, e.Pod = a.seq, at, pod
		if err := a.job.Apply(e); err != nil {
			a.seq--
			a.lookAt(err.Error())
			continue
		}
		batch = append(batch, e)
		a.log = append(a.log, e)
	}
	if len(batch) == 0 {
		return nil
	}
	a.queue = append(a.queue, batch)
	return a.flush()
}

// flush starts the next write unless one is in flight.
func (a *app) flush() tea.Cmd {
	if a.writing || a.saveErr != nil || len(a.queue) == 0 {
		return nil
	}
	a.writing = true
	batch := a.queue[0]
	keeper := a.o.Keeper
	return func() tea.Msg {
		send := append([]mapping.Entry(nil), batch...)
		got, err := keeper.Append(send...)
		return saved{sent: batch, got: got, err: err}
	}
}

// onSaved acknowledges a write, or keeps it for another try.
func (a *app) onSaved(m saved) tea.Cmd {
	a.writing = false
	if m.err == nil {
		m.err = sameNumbers(m.sent, m.got)
	}
	if m.err != nil {
		a.saveErr, a.leaving = m.err, false
		return a.ring(true)
	}
	a.queue = a.queue[1:]
	a.acked = m.sent[len(m.sent)-1].Seq
	var bell tea.Cmd
	if a.bellAt != 0 && a.bellAt <= a.acked {
		a.bellAt = 0
		bell = a.ring(false)
	}
	if a.leaving && len(a.queue) == 0 {
		return tea.Quit
	}
	return tea.Batch(a.flush(), bell)
}

// sameNumbers holds the keeper to the numbers that were foreseen: answers refer
// to one another by them.
func sameNumbers(sent, got []mapping.Entry) error {
	if len(sent) != len(got) {
		return fmt.Errorf("the job file took %d of %d entries", len(got), len(sent))
	}
	for i := range sent {
		if sent[i].Seq != got[i].Seq {
			return fmt.Errorf("the job file numbers the entry %d where %d was due; leave and open the job again", got[i].Seq, sent[i].Seq)
		}
	}
	return nil
}

// unsaved counts what is not known to be on disk yet.
func (a *app) unsaved() int { return int(a.seq - a.acked) }

// say puts a sentence in the line of notice; lookAt marks it as one to look at.
func (a *app) say(s string) { a.note, a.look, a.noteAt = s, false, 0 }

func (a *app) lookAt(s string) { a.note, a.look, a.noteAt = s, true, 0 }

// hush takes away a notice that belonged to the screen being left; an answer
// that is still being saved stays in sight.
func (a *app) hush() {
	if a.noteAt <= a.acked {
		a.say("")
	}
}

// answered tells of an answer that was just put: as being saved until it is on
// disk, then as taken, with the bell.
func (a *app) answered(s string) {
	a.note, a.look, a.noteAt, a.bellAt = s, false, a.seq, a.seq
}

// ring sounds the terminal's bell: once for taken, twice for look at me.
func (a *app) ring(look bool) tea.Cmd {
	if a.quiet {
		return nil
	}
	out := a.o.Out
	return func() tea.Msg {
		_, _ = out.Write([]byte("\a"))
		if look {
			time.Sleep(180 * time.Millisecond)
			_, _ = out.Write([]byte("\a"))
		}
		return nil
	}
}

// speak reads a sentence out, where the builder has asked for that.
func (a *app) speak(sentence string) tea.Cmd {
	if a.o.Speak == nil || sentence == "" {
		return nil
	}
	say := a.o.Speak
	return func() tea.Msg { return spoken{say(sentence)} }
}

// tell gives what reads a sentence out and waits until that, or whatever was
// being said, has been said.
func (a *app) tell(sentence string) func() error {
	say, wait := a.o.Speak, a.o.Spoken
	return func() (err error) {
		if say != nil && sentence != "" {
			err = say(sentence)
		}
		if say != nil && wait != nil {
			wait()
		}
		return err
	}
}

// onSpoken turns a voice off that has failed.
func (a *app) onSpoken(err error) {
	if err != nil {
		a.o.Speak = nil
		a.lookAt("the speech program failed and is off now: " + err.Error())
	}
}
