package tui

import (
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
