package inference

import (
	"testing"

	"bellout/mapping"
)

// TestComesAndGoes: a question answered either way more than once is told as a contact
// that comes and goes (trade notes: three beeps and two silences are not "60 % closed");
// one answer against several others is the odd one itself, whichever it is.
func TestComesAndGoes(t *testing.T) {
	pod := mapping.Pod{Name: "two", Ends: []mapping.End{{ID: "1"}, {ID: "2"}, {ID: "3"}},
		Switches: []mapping.Switch{{Name: "dip", Positions: []mapping.PositionID{"low", "main"}, Rest: "low"}}}
	for _, c := range []struct {
		answers string // of the question, one after the other
		want    CulpritKind
		odd     mapping.ReadingID // 0: several
	}{{"bsbs", Intermittent, 0}, {"bsbbsb", Intermittent, 0}, {"sssb", OddReading, 4}, {"bbbbs", OddReading, 5}, {"bsss", OddReading, 1}} {
		var rs []mapping.Reading
		for i, a := range c.answers {
			r := mapping.Reading{ID: mapping.ReadingID(i + 1), Session: 1, Sweep: mapping.SweepID(i + 1), Mode: mapping.Beep,
				Red: []mapping.EndID{"2"}, Black: []mapping.EndID{"1"}, Setting: pod.Rest(), Outcome: mapping.Silent}
			if a == 'b' {
				r.Outcome = mapping.Sounded
			}
			rs = append(rs, r)
		}
		doubts := Infer(pod, rs).Doubts
		if len(doubts) == 0 || len(doubts[0].Culprits) == 0 {
			t.Errorf("%s: no doubt", c.answers)
			continue
		}
		first := doubts[0].Culprits[0]
		if first.Kind != c.want || c.odd != 0 && (len(first.Readings) != 1 || first.Readings[0] != c.odd) {
			t.Errorf("%s: told as kind %v of %v, want %v of %v", c.answers, first.Kind, first.Readings, c.want, c.odd)
		}
	}
}
