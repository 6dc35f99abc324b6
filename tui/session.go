package tui

import (
	"maps"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"bellout/mapping"
)

// session is a sitting at one pod: the clips and levers as they are believed to
// be, the sweep in hand, and what the engine makes of it.
type session struct {
	app   *app
	key   mapping.PodKey
	work  *mapping.PodWork
	brain *brain

	bench mapping.Bench // as the last whole sweep left it
	ask   *asked        // nil: none in hand
	deeds []deed        // what undo takes back, latest last
	mode  mapping.Mode  // what the builder has set the meter to

	gen      int // grows with everything that the engine has to think over
	th       thought
	thinking bool
	takenIn  int // readings that the engine has taken in, while it thinks and says so
	ahead    map[mapping.Outcome]fork
	left     float64 // seconds that the engine expects from here
	grid     float64 // seconds that the textbook grid takes
	spent    float64 // seconds at the bench in this sitting, by the cost table
	quietRun int     // silent readings since the last beep through these clips
	doubts   int     // doubts that have been pointed out
	shows    meterShown
	holding  bool // the return screen is up: no sweep is put yet
	reclip   bool // clips may be elsewhere than on the bench above: they are shown as to be set
	reneedle bool // the same for red alone
	relever  bool // the same for the levers

	hand mapping.Setting           // of the last reading: the buttons that it held are held until they are let go
	held map[mapping.SwitchID]bool // while nobody vouches for the levers: buttons that may be held still
}

// asked is a sweep that was put to the builder, with the answers so far.
type asked struct {
	sweep mapping.Sweep
	from  mapping.Bench // the bench before it
	ids   []mapping.ReadingID
	said  []said
}

// meterShown is what the practice meter shows at a step.
type meterShown struct {
	ask  *asked
	step int
	said said
	hint string
}

// deed is something that undo can take back.
type deed struct {
	ids    []mapping.ReadingID
	ask    *asked
	at     int // answers that the sweep had before
	bench  mapping.Bench
	strike bool
	spent  float64
	back   *mapping.Entry // what takes back a decision or a change of the pod
	what   string         // and what that was
}

func (k *asked) steps() int {
	if k.sweep.Control {
		return 1
	}
	return len(k.sweep.Steps)
}

func (k *asked) done() bool { return len(k.said) >= k.steps() }

// setting is where the levers stand at a step; a control beep leaves them.
func (k *asked) setting(step int, pod mapping.Pod) mapping.Setting {
	if step < len(k.sweep.Steps) {
		return k.sweep.Steps[step]
	}
	if k.from.Levers != nil {
		return k.from.Levers
	}
	return pod.Rest()
}

func newSession(a *app, key mapping.PodKey) *session {
	w := a.job.Pods[key]
	s := &session{app: a, key: key, work: w, brain: &brain{make: a.o.NewEngine}, grid: mapping.GridSeconds(w.Pod), held: map[mapping.SwitchID]bool{}}
	s.left = -1
	return s
}

// sit begins a sitting: from here on nobody vouches for what was set before.
func (s *session) sit(leads mapping.Leads) tea.Cmd {
	s.bench = mapping.Bench{Leads: leads}
	if s.hand != nil { // in the middle of the work, with who knows what held
		s.unsure(true, true)
	}
	s.ask, s.deeds, s.hand = nil, nil, nil
	return tea.Batch(
		s.app.put(s.key, mapping.Entry{Sitting: &mapping.Sitting{Number: s.work.Session + 1, Leads: leads}}),
		s.rethink(true),
	)
}

func (s *session) name() string { return mapping.Clean(s.work.Pod.Name, mapping.MaxName) }

// levers is where the levers are believed to stand right now; nil: nobody
// vouches for them.
func (s *session) levers() mapping.Setting {
	if s.ask != nil && !s.ask.sweep.Control && len(s.ask.said) > 0 {
		return s.ask.sweep.Steps[len(s.ask.said)-1]
	}
	return s.bench.Levers
}

// standing is where the levers stand as far as the screen can take it for
// granted; nil where each has to be said again.
func (s *session) standing() mapping.Setting {
	at := s.levers()
	if s.relever || at == nil {
		return nil
	}
	at = at.Clone()
	for _, sw := range s.work.Pod.Switches {
		if sw.Momentary {
			at[sw.Name] = s.hand.At(sw)
		}
	}
	return at
}

// unsure marks clips and levers as to be set again, whatever is believed of them:
// after an undo they stand as they did for what was undone, after a reading of
// the builder's own as they did for that.
func (s *session) unsure(clips, levers bool) {
	s.reclip, s.relever = s.reclip || clips, s.relever || levers
	if !levers {
		return
	}
	hands := []mapping.Setting{s.hand}
	if s.ask != nil {
		hands = append(hands, s.ask.setting(len(s.ask.said), s.work.Pod))
	}
	for _, sw := range s.work.Pod.Switches {
		for _, h := range hands {
			if sw.Momentary && h.At(sw) != sw.Rest {
				s.held[sw.Name] = true
			}
		}
	}
}

// sure takes levers and buttons to stand as the last reading had them.
func (s *session) sure() {
	s.relever = false
	clear(s.held)
}

// decide keeps the builder's word about an end, so that undo can take it back.
func (s *session) decide(kind mapping.DecisionKind, end mapping.EndID, value string) tea.Cmd {
	before, _ := s.work.Decided(kind, end)
	about := "the last thing said of it"
	if end != "" {
		about = "what was said of " + mapping.Clean(string(end), mapping.MaxName)
	}
	s.undoable(about, mapping.Entry{Decision: &mapping.Decision{Kind: kind, End: end, Value: before}})
	s.ahead = nil // the number of the next reading has changed
	return tea.Batch(s.app.put(s.key, mapping.Entry{Decision: &mapping.Decision{Kind: kind, End: end, Value: value}}), s.lookAhead())
}

// undoable puts what is no reading among the deeds.
func (s *session) undoable(what string, back mapping.Entry) {
	s.deeds = append(s.deeds, deed{back: &back, what: what})
}

// snapshot copies the work for a command that reads it while keys come in.
func (s *session) snapshot() *mapping.PodWork {
	w := *s.work
	w.Struck = maps.Clone(w.Struck)
	w.Readings, w.Decisions, w.Remarks = slices.Clone(w.Readings), slices.Clone(w.Decisions), slices.Clone(w.Remarks)
	return &w
}

// put puts a sweep to the builder, and into the log.
func (s *session) put(sw mapping.Sweep) tea.Cmd {
	sw.ID = mapping.SweepID(s.app.seq + 1)
	cmd := s.app.put(s.key, mapping.Entry{Ask: &mapping.Ask{Sweep: sw}})
	s.ask = &asked{sweep: sw, from: s.bench}
	return tea.Batch(cmd, s.lookAhead(), s.app.speak(s.aloud()))
}

// reading makes the record of an answer to a step of the sweep in hand.
func (s *session) reading(step int, v said) mapping.Reading {
	sw := s.ask.sweep
	r := mapping.Reading{
		Session: s.work.Session, Sweep: sw.ID, Step: step, Red: sw.Red, Black: sw.Black,
		Setting: s.ask.setting(step, s.work.Pod), Mode: v.mode, Outcome: v.outcome, Value: v.value, Control: sw.Control,
	}
	if v.outcome == mapping.NotSure || v.outcome == mapping.CannotReach || v.outcome == mapping.Flicker {
		r.Mode = s.mode
	}
	return r
}

// answer records what the meter said from the step in hand on. Answers are in
// order; each goes to disk before it shows as saved.
func (s *session) answer(vs ...said) tea.Cmd {
	if s.app.saveErr != nil {
		return s.app.ring(true)
	}
	if s.ask == nil && s.thinking {
		s.app.say("one moment: the next sweep is being worked out")
		return nil
	}
	if s.ask == nil {
		s.app.lookAt("no sweep is in hand; a reading of your own is typed as 3 7 dip=main beep")
		return s.app.ring(true)
	}
	k := s.ask
	if !k.sweep.Control { // which leaves the levers, and takes the needle to the clip's own end
		s.reclip, s.reneedle = false, false
		s.sure()
		s.hand = k.sweep.Steps[min(len(k.said)+len(vs), len(k.sweep.Steps))-1]
	}
	d := deed{ask: k, at: len(k.said), bench: s.bench, spent: s.spent}
	entries := make([]mapping.Entry, 0, len(vs))
	for i, v := range vs {
		r := s.reading(len(k.said)+i, v)
		entries = append(entries, mapping.Entry{Reading: &r})
		d.ids = append(d.ids, mapping.ReadingID(s.app.seq+uint64(i)+1))
	}
	taken := s.taken(vs)
	f, known := s.foreseen(vs, d.ids)
	save := s.app.put(s.key, entries...)
	s.app.answered(taken)
	k.said = append(k.said[:len(k.said):len(k.said)], vs...)
	k.ids = append(k.ids[:len(k.ids):len(k.ids)], d.ids...)
	s.deeds = append(s.deeds, d)
	cmds := []tea.Cmd{save, s.follow(k, vs), s.heardOn(k)}
	if k.done() {
		s.spent += s.spentOn(k)
		s.bench = s.bench.After(s.work.Pod, k.sweep)
		s.ask = nil
	}
	if s.ask != nil && s.app.hear.ask == nil {
		cmds = append(cmds, s.app.speak(s.stepAloud()))
	}
	think := s.rethink(s.ask == nil)
	if known && (s.ask != nil || f.thought.asked) {
		f.thought.gen = s.gen
		think = tea.Batch(s.onThought(f.thought), s.settleFork())
	}
	return tea.Batch(append(cmds, think)...)
}

// settleFork lets the brain take the fork over for good.
func (s *session) settleFork() tea.Cmd {
	q, b := s.question(false), s.brain
	return func() tea.Msg { b.think(q); return nil }
}

// foreseen finds what was worked out ahead for exactly this answer.
func (s *session) foreseen(vs []said, ids []mapping.ReadingID) (fork, bool) {
	if len(vs) != 1 || vs[0].mode != mapping.Beep || s.ahead == nil {
		return fork{}, false
	}
	f, ok := s.ahead[vs[0].outcome]
	return f, ok && f.reading.ID == ids[0]
}

// follow counts silences through the same clips, and calls for a look when a
// control beep fails.
func (s *session) follow(k *asked, vs []said) tea.Cmd {
	failed := false
	for _, v := range vs {
		if k.sweep.Control {
			s.reclip, s.reneedle = s.reclip && v.outcome != mapping.Sounded, true
		}
		switch {
		case v.outcome == mapping.Silent && k.sweep.Control:
			failed = true
		case v.outcome == mapping.Silent:
			s.quietRun++
		default:
			s.quietRun = 0
		}
	}
	if failed {
		s.unsure(true, false)
		s.app.lookAt("the clip does not bite: set it again. If readings since it was set are in doubt, " +
			s.app.key(onProbe, actSlip) + " strikes them out from where it slipped")
		return s.app.ring(true)
	}
	return nil
}

// outOfTurn records a reading that nobody asked for.
func (s *session) outOfTurn(r mapping.Reading) tea.Cmd {
	if s.app.saveErr != nil {
		return s.app.ring(true)
	}
	r.Session = s.work.Session
	id := mapping.ReadingID(s.app.seq + 1)
	save := s.app.put(s.key, mapping.Entry{Reading: &r})
	s.deeds = append(s.deeds, deed{ids: []mapping.ReadingID{id}, bench: s.bench, spent: s.spent})
	s.spent += mapping.SecondsInstruction + mapping.SecondsReading
	say := r.Words(s.work.Pod)
	if s.ask != nil {
		say += ". Then clips and levers back as shown"
	}
	s.unsure(true, true)
	s.hand = r.Setting
	s.unsure(true, true) // with what this reading held
	s.app.answered(say)
	return tea.Batch(save, s.rethink(s.ask == nil))
}

// amendPod begins afresh with the engine after the pod itself has changed; the
// readings stay.
func (s *session) amendPod(p mapping.Pod) tea.Cmd {
	before := s.work.Pod
	s.deeds = nil
	s.undoable("the change of the pod", mapping.Entry{Describe: &before})
	return s.describe(p)
}

// describe puts another description in the place of the pod's. The sweep in hand
// was made for the one before: it is left where it is, and whoever stood up to
// look at the pod has clips and levers to set again.
func (s *session) describe(p mapping.Pod) tea.Cmd {
	s.unsure(true, true)
	s.abandon()
	s.grid = mapping.GridSeconds(p)
	return tea.Batch(s.app.put(s.key, mapping.Entry{Describe: &p}), s.rethink(true))
}
