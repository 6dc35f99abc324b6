package plan

import (
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// read is what a reading reads, whichever side is red.
func (r ProofReading) read() string {
	sides := []string{strings.Join(slices.Sorted(slices.Values(r.Red)), " "), strings.Join(slices.Sorted(slices.Values(r.Black)), " ")}
	slices.Sort(sides)
	return strings.Join(sides, " to ")
}

// An ID speaks of one reading only, whatever is changed in the plan, and stays
// with it: else an answer is taken for that of a reading nobody took.
func TestReadingsKeepTheirIDs(t *testing.T) {
	old := heron(t)
	first := old
	first.Wires = append([]Wire{{Name: "x1", In: Loom, From: "battery.-", To: "E1", MM2: 1, Colour: "BK", Length: 0.5}}, old.Wires...)
	last := old
	last.Wires = append(slices.Clone(old.Wires), Wire{Name: "x1", In: Loom, From: "new.1", To: "new.2", MM2: 1, Colour: "BK", Length: 0.5})
	less := old
	less.Wires = old.Wires[1:]
	means, stays := map[string]string{}, 0
	for _, p := range []Plan{old, first, last, less} {
		for _, part := range Parts(p) {
			here := map[string]bool{}
			for _, r := range ProofReadings(p, part) {
				what := part + ": " + r.read()
				if means[r.ID] != "" && means[r.ID] != what {
					t.Errorf("%s is %s and %s", r.ID, means[r.ID], what)
				}
				if here[r.ID] {
					t.Errorf("%s is twice in one list", r.ID)
				}
				if means[r.ID] != "" {
					stays++
				}
				means[r.ID], here[r.ID] = what, true
			}
		}
	}
	for what := range maps.Values(means) {
		n := 0
		for _, w := range means {
			if w == what {
				n++
			}
		}
		if n != 1 {
			t.Errorf("%s has %d IDs", what, n)
		}
	}
	if stays < len(means) {
		t.Errorf("only %d readings of %d kept their IDs", stays, len(means))
	}
	if id := readingID("loom", []string{"b", "c"}, []string{"a"}); id != readingID("loom", []string{"a"}, []string{"c", "b"}) {
		t.Errorf("%s depends on the order of the points", id)
	}
}

// Older jobs have answers under the place of a reading in its list ("loom-3");
// nobody knows which reading that was.
func TestAnswersUnderOldIDsAreNotCounted(t *testing.T) {
	p := heron(t)
	place := regexp.MustCompile(`-[0-9]+$`)
	values := map[string]string{}
	for _, part := range Parts(p) {
		for i, r := range ProofReadings(p, part) {
			if place.MatchString(r.ID) && !strings.Contains(r.ID, ":") {
				t.Errorf("%s may be the old ID of another reading", r.ID)
			}
			values[part+"-"+itoa(i+1)] = AnswerSilence
		}
	}
	for _, part := range Parts(p) {
		list := ProofReadings(p, part)
		heard := Heard(list, values)
		if len(heard) != 0 || NameFault(p, part, heard) != nil {
			t.Errorf("%s: %v", part, heard)
		}
	}
}

// What is kept for a reading is understood again; any other word is no answer.
func TestHeard(t *testing.T) {
	list := ProofReadings(heron(t), Loom)
	value, asPlanned := list[0].Answer(true)
	if value != AnswerBeep || !asPlanned {
		t.Errorf("a beep of %+v: %s, %v", list[0], value, asPlanned)
	}
	no, asPlanned := list[1].Answer(false)
	if no != AnswerSilence || asPlanned {
		t.Errorf("a silence of %+v: %s, %v", list[1], no, asPlanned)
	}
	got := Heard(list, map[string]string{list[0].ID: value, list[1].ID: no, list[2].ID: "0.2"})
	if !maps.Equal(got, map[string]bool{list[0].ID: true, list[1].ID: false}) {
		t.Errorf("%v", got)
	}
}
