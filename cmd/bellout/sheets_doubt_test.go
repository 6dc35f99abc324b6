package main

import (
	"path/filepath"
	"testing"

	"bellout/inference"
	"bellout/mapping"
	"bellout/mapping/pinout"
)

// twiceRead is a horn button whose contact was heard and then was not.
func twiceRead() *mapping.PodWork {
	pod := mapping.Pod{
		Name:     "left",
		Ends:     []mapping.End{{ID: "1"}, {ID: "2"}},
		Switches: []mapping.Switch{{Name: "horn", Positions: []mapping.PositionID{"out", "in"}, Rest: "out", Momentary: true}},
	}
	work := &mapping.PodWork{Pod: pod, Struck: map[mapping.ReadingID]string{}}
	for i, o := range []mapping.Outcome{mapping.Sounded, mapping.Sounded, mapping.Silent} {
		work.Readings = append(work.Readings, mapping.Reading{
			ID: mapping.ReadingID(i + 1), Red: []mapping.EndID{"2"}, Black: []mapping.EndID{"1"},
			Setting: pod.Rest().With("horn", "in"), Outcome: o,
		})
	}
	return work
}

// A doubt stands on the page until the builder has set it aside.
func TestDoubtSetAsideLeavesThePage(t *testing.T) {
	work := twiceRead()
	r := inference.Infer(work.Pod, work.Live())
	if len(r.Doubts) != 1 {
		t.Fatalf("%d doubts", len(r.Doubts))
	}
	if p := buildPinout(pageWords{}, work, r); p.Counts.Doubts != 1 {
		t.Errorf("the head says %s", p.Counts)
	}
	work.Decisions = append(work.Decisions, mapping.Decision{Kind: mapping.SetAside, Readings: r.Doubts[0].Readings})
	if p := buildPinout(pageWords{}, work, r); p.Counts.Doubts != 0 {
		t.Errorf("set aside, and the head says %s", p.Counts)
	}
}

// The screens, the pinout and the map that a plan is made from count the same
// pairs as open.
func TestOpenPairsAreCountedAlike(t *testing.T) {
	work := twiceRead()
	r := inference.Infer(work.Pod, work.Live())
	pairs := map[[2]mapping.EndID]bool{}
	for _, q := range r.OpenInWords {
		pairs[[2]mapping.EndID{q.A, q.B}] = true
	}
	for _, l := range r.Map.Unresolved {
		pairs[[2]mapping.EndID{l.A, l.B}] = true
	}
	if len(pairs) == 0 {
		t.Fatal("nothing is open")
	}
	m := r.Map
	m.Unresolved = pinout.Unsettled(pinoutInput(work, r))
	if page := buildPinout(pageWords{}, work, r); page.Counts.Open != len(pairs) || m.Tally()[mapping.OpenQuestion] != len(pairs) {
		t.Errorf("%d pairs are open, the head says %s, the plan's map %v", len(pairs), page.Counts, m.Tally())
	}
}

// A pod that is done has nothing open on its page but what nobody vouches for: what is
// left of the doubt is within the stop rule.
func TestDonePodsHaveNothingOpen(t *testing.T) {
	_, job, _, err := readJob(filepath.Join(exampleFolder, "readings.txt"))
	if err != nil {
		t.Fatal(err)
	}
	words := 0
	for _, key := range job.Order {
		work := job.Pods[key]
		r := inference.Infer(work.Pod, work.Live())
		if !r.Done || len(r.Map.Unresolved) > 0 {
			t.Errorf("%s: done %v, %d unresolved", key, r.Done, len(r.Map.Unresolved))
		}
		words += len(r.OpenInWords)
		if page := buildPinout(pageWords{}, work, r); page.Counts.Open != 0 {
			t.Errorf("%s: the head says %s", key, page.Counts)
		}
	}
	if words == 0 {
		t.Error("the engine has no doubt left to name at all: this is no test")
	}
}
