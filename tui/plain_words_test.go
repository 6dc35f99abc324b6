package tui

import (
	"strings"
	"testing"

	"bellout/mapping"
)

// What is not understood names the ways on, at the bench and before the proof.
func TestPlainNamesTheWaysOut(t *testing.T) {
	const ways = "help lists what can be typed, undo takes back the last answer, quit leaves"
	out, keep := talk(t, started(examplePod()), "rubbish\n2\nquit\n", nil)
	if n := strings.Count(flat(out), ways); n != 1 {
		t.Errorf("the ways out are named %d times, once is due:\n%s", n, out)
	}
	out, _ = talk(t, keep.log, "rubbish\nquit\n", nil)
	if !strings.Contains(flat(out), ways) {
		t.Errorf("not before the proof:\n%s", out)
	}
}

func flat(s string) string { return strings.Join(strings.Fields(s), " ") }

// A question mark asks for help, as it does on the screens: it is no reading.
func TestPlainQuestionMarkIsHelp(t *testing.T) {
	out, keep := talk(t, started(examplePod()), "?\nnot-sure\n?\n", nil)
	if n := strings.Count(out, "answers: beep (b)"); n != 2 {
		t.Errorf("help was given %d times:\n%s", n, out)
	}
	if !strings.Contains(flat(out), "not-sure where you could not tell") {
		t.Errorf("help does not say how to say not sure:\n%s", out)
	}
	job, err := mapping.Fold(keep.log)
	if err != nil {
		t.Fatal(err)
	}
	if rs := job.Pods["left"].Readings; len(rs) != 1 || rs[0].Outcome != mapping.NotSure {
		t.Errorf("kept %+v", rs)
	}
}

// The table is as long as it is.
func TestPlainTableHasNoEmptyLines(t *testing.T) {
	out, _ := talk(t, started(examplePod()), "2\ntable\nquit\n", nil)
	if strings.Contains(out, "\n\n\n") || !strings.Contains(out, "dip main") {
		t.Errorf("rows of empty lines:\n%s", out)
	}
}

// Of several pods the one is opened that was named to the letter, else by its name
// in other capitals where there is one such, else by its place.
func TestPlainOpensThePodThatWasNamed(t *testing.T) {
	var log []mapping.Entry
	for i, key := range []mapping.PodKey{"Left", "left", "3", "Right"} {
		p := examplePod()
		log = append(log, mapping.Entry{Seq: uint64(i + 1), Pod: key, Describe: &p})
	}
	for typed, want := range map[string]mapping.PodKey{"left": "left", "Left": "Left", "RIGHT": "Right", "3": "3", "4": "Right", "LEFT": ""} {
		_, keep := talk(t, log, typed+"\nquit\n", nil)
		got := mapping.PodKey("")
		for _, e := range keep.log[len(log):] {
			if e.Sitting != nil {
				got = e.Pod
			}
		}
		if got != want {
			t.Errorf("%q opened %q, not %q", typed, got, want)
		}
	}
}

// With the meter on a range that shows figures, lines ask for a figure.
func TestLinesAskForWhatTheMeterShows(t *testing.T) {
	out, _ := talk(t, started(examplePod()), "meter-mode\nmeter-mode\nquit\n", nil)
	for _, want := range []string{"Beep or silent?", "as 0.4 or 38; silence is OL", "as 0.62; silence is OL"} {
		if flat := strings.Join(strings.Fields(out), " "); !strings.Contains(flat, want) {
			t.Errorf("%q is not asked:\n%s", want, out)
		}
	}
}
