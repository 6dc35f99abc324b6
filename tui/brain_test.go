package tui

import (
	"fmt"
	"strings"
	"testing"

	"bellout/mapping"
)

// counting counts how often an engine is made and how often readings are added.
type counting struct {
	Engine
	made, added *int
}

func (c counting) Add(r ...mapping.Reading) { *c.added += len(r); c.Engine.Add(r...) }
func (c counting) Fork() Engine             { return counting{c.Engine.Fork(), c.made, c.added} }

// A reading is added to the engine that there is; the engine is made anew only
// after a strike-out or a change of the pod.
func TestBrainFeedsWhatIsNew(t *testing.T) {
	made, added := 0, 0
	b := &brain{make: func(p mapping.Pod, r []mapping.Reading) Engine {
		made++
		return counting{newFake(p, r), &made, &added}
	}}
	pod := examplePod()
	rs := []mapping.Reading{
		{ID: 1, Red: []mapping.EndID{"1"}, Black: []mapping.EndID{"2"}, Setting: pod.Rest(), Outcome: mapping.Silent},
		{ID: 2, Red: []mapping.EndID{"1"}, Black: []mapping.EndID{"3"}, Setting: pod.Rest(), Outcome: mapping.Sounded},
		{ID: 3, Red: []mapping.EndID{"4"}, Black: []mapping.EndID{"5"}, Setting: pod.Rest(), Outcome: mapping.Silent},
	}
	steps := []struct {
		why         string
		pod         mapping.Pod
		rs          []mapping.Reading
		made, added int
	}{
		{"the first question", pod, rs[:1], 1, 0},
		{"one more", pod, rs[:2], 1, 1},
		{"nothing new", pod, rs[:2], 1, 1},
		{"two struck out", pod, rs[1:2], 2, 1},
		{"two more", pod, rs[1:], 2, 2},
	}
	for i, s := range steps {
		th := b.think(question{gen: i, pod: s.pod, readings: s.rs})
		if made != s.made || added != s.added {
			t.Errorf("%s: made %d times, %d added; want %d, %d", s.why, made, added, s.made, s.added)
		}
		if want := len(newFake(s.pod, s.rs).Findings().Summary().Map.Links); len(th.sum.Map.Links) != want {
			t.Errorf("%s: %d links, want %d", s.why, len(th.sum.Map.Links), want)
		}
	}
	changed, _, err := amend(pod, "end 9")
	if err != nil {
		t.Fatal(err)
	}
	b.think(question{gen: 9, pod: changed, readings: rs[1:]})
	if made != 3 {
		t.Error("a changed pod did not begin afresh")
	}
}

// What the builder has gone past is not worked out any more.
func TestBrainDropsWhatIsStale(t *testing.T) {
	b := &brain{make: newFake}
	b.latest.Store(5)
	if th := b.think(question{gen: 4, pod: examplePod(), propose: true}); th.find != nil || th.asked {
		t.Error("a stale question was answered")
	}
	if f := b.ahead(question{gen: 4, pod: examplePod()}, mapping.Reading{}, mapping.Bench{}); f != nil {
		t.Error("a stale look ahead was made")
	}
	if th := b.think(question{gen: 5, pod: examplePod(), propose: true}); th.find == nil || !th.has {
		t.Error("the present question was not answered")
	}
}

// slow takes in one reading at a time, and is not ready before it has them all.
type slow struct {
	Engine
	in *int
	of int
}

func (e slow) Advance() (int, bool) {
	*e.in++
	return *e.in, *e.in < e.of
}

// A long job says how far it is, in the screen's place for the instruction, and is
// concluded once all is taken in. One that has become stale is dropped on the way.
func TestLongThoughtSaysHowFar(t *testing.T) {
	in := 0
	const of = 2*takenAtOnce + 3
	b := &brain{make: func(p mapping.Pod, r []mapping.Reading) Engine { return slow{newFake(p, r), &in, of} }}
	pod := examplePod()
	s := &session{app: &app{}, work: &mapping.PodWork{Pod: pod}, brain: b}
	for i := range of {
		s.work.Readings = append(s.work.Readings, mapping.Reading{ID: mapping.ReadingID(i + 1), Red: []mapping.EndID{"1"}, Black: []mapping.EndID{"2"}, Setting: pod.Rest()})
	}
	cmd := s.rethink(true)
	for _, want := range []int{takenAtOnce, 2 * takenAtOnce} {
		m := cmd().(thoughtReady)
		if !m.t.partly || m.t.find != nil {
			t.Fatalf("concluded from %d readings of %d", m.t.in, of)
		}
		cmd = s.onThinking(m)
		screen := strings.Join((&probe{app: &app{ses: s}}).idle(40), "\n")
		if said := fmt.Sprintf("%d of %d readings taken in", want, of); !strings.Contains(screen, said) {
			t.Errorf("no %q on\n%s", said, screen)
		}
	}
	if m := cmd().(thoughtReady); m.t.partly || m.t.find == nil || in != of {
		t.Errorf("with %d of %d readings: partly %v, concluded %v", in, of, m.t.partly, m.t.find != nil)
	}
	in = 0
	b.eng, b.seen = nil, nil
	cmd = s.rethink(true)
	m := cmd().(thoughtReady)
	s.gen++
	b.latest.Store(int64(s.gen))
	if s.onThinking(m) != nil || in != takenAtOnce {
		t.Error("a thought that nobody waits for goes on")
	}
}
