package tui

import (
	"io"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bellout/inference"
	"bellout/mapping"
)

// frozenEngine answers at once and says little: the frame is what is measured.
type frozenEngine struct{ pod mapping.Pod }

func (f frozenEngine) Add(...mapping.Reading) {}
func (f frozenEngine) Advance() (int, bool)   { return 0, false }
func (f frozenEngine) Fork() Engine           { return f }
func (f frozenEngine) Findings() Findings     { return fakeFindings{&fakeEngine{pod: f.pod}} }
func (f frozenEngine) Next(mapping.Bench) (inference.Proposal, bool) {
	rest := f.pod.Rest()
	var steps []mapping.Setting
	for _, sw := range f.pod.Switches {
		for _, q := range sw.Positions {
			steps = append(steps, rest.With(sw.Name, q))
		}
	}
	return inference.Proposal{Sweep: mapping.Sweep{Red: []mapping.EndID{"A1"}, Black: []mapping.EndID{"A2"}, Steps: steps}, SecondsLeft: 60}, true
}

// loaded is a pod of 18 ends and 9 switches with 5,000 readings, one in seven
// struck out.
func loaded(tb testing.TB) *app {
	pod := bigPod(18, 9)
	log := started(pod)
	for i := range 5000 {
		sw := pod.Switches[i%9]
		log = append(log, mapping.Entry{Seq: uint64(len(log) + 1), Pod: "left", Reading: &mapping.Reading{
			Session: 1, Sweep: mapping.SweepID(1 + i/7), Step: i % 7, Red: []mapping.EndID{pod.Ends[i%18].ID}, Black: []mapping.EndID{pod.Ends[(i+5)%18].ID},
			Setting: pod.Rest().With(sw.Name, sw.Positions[i%3]), Outcome: mapping.Silent,
		}})
		if i%7 == 0 {
			log = append(log, mapping.Entry{Seq: uint64(len(log) + 1), Pod: "left", Strike: &mapping.Strike{
				Readings: []mapping.ReadingID{mapping.ReadingID(len(log))}, Reason: "the clip had slipped"}})
		}
	}
	a, err := newApp(Options{
		Keeper: &memory{log: log}, Log: log, Quiet: true, Out: io.Discard, In: strings.NewReader(""), Now: time.Now, Bounce: -1,
		NewEngine: func(p mapping.Pod, _ []mapping.Reading) Engine { return frozenEngine{p} },
	})
	if err != nil {
		tb.Fatal(err)
	}
	a.settle(a.begin())
	a.settle(a.route(keyMsg("G")))
	a.w, a.h = 80, 24
	return a
}

var bigScreens = []struct{ name, key string }{
	{"probe", ""}, {"table", "t"}, {"log", "l"}, {"known", "k"}, {"doubts", "d"}, {"cut", "g"}, {"pinout", "o"},
}

// BenchmarkFrame draws each screen of the largest job; the bound is 5 ms.
func BenchmarkFrame(b *testing.B) {
	for _, s := range bigScreens {
		b.Run(s.name, func(b *testing.B) {
			a := loaded(b)
			if s.key != "" {
				a.settle(a.route(keyMsg(s.key)))
			}
			for b.Loop() {
				a.View()
			}
		})
	}
}

// BenchmarkKey takes an answer: what the builder waits for before the screen
// says that it was taken, the write and the engine aside.
func BenchmarkKey(b *testing.B) {
	a := loaded(b)
	for b.Loop() {
		a.route(keyMsg("space"))
		if a.ses.ask == nil {
			a.settle(a.ses.rethink(true))
		}
	}
}

// A frame of the largest job takes under 5 ms on every screen (issue 4). The
// best of several is taken: other work on the machine is not the frame's.
func TestFrameTime(t *testing.T) {
	for _, s := range bigScreens {
		a := loaded(t)
		if s.key != "" {
			a.settle(a.route(keyMsg(s.key)))
		}
		best := time.Hour
		for range 15 {
			start := time.Now()
			a.View()
			best = min(best, time.Since(start))
		}
		if best > 5*time.Millisecond {
			t.Errorf("%s: a frame takes %s, 5 ms are the most", s.name, best)
		}
	}
}

// From the key to the disk costs under 5 ms beside the disk's own time, with
// 5,000 readings kept (issue 4): the keeper here takes none.
func TestKeyToSaved(t *testing.T) {
	a := loaded(t)
	best := time.Hour
	for range 9 {
		start := time.Now()
		m, ok := firstSaved(a.route(keyMsg("space")))
		if !ok {
			t.Fatal("the answer was not sent to be kept")
		}
		a.onSaved(m)
		best = min(best, time.Since(start))
	}
	if best > 5*time.Millisecond {
		t.Errorf("%s from the key to the disk", best)
	}
}

// firstSaved runs the write of a command, which stands first in it.
func firstSaved(cmd tea.Cmd) (saved, bool) {
	for cmd != nil {
		switch m := cmd().(type) {
		case saved:
			return m, true
		case tea.BatchMsg:
			cmd = m[0]
		default:
			return saved{}, false
		}
	}
	return saved{}, false
}
