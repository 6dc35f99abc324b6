package tui

import (
	"errors"
	"strings"
	"testing"
	"time"

	"bellout/mapping"
)

// From an empty folder to the first reading of an eight-wire pod in at most 40
// keys (issue 4), and every key's work is on disk.
func TestDescribeInFewKeys(t *testing.T) {
	r := newRig(t, nil, nil)
	r.sees("What do you call this pod?")
	r.press("enter")
	r.enter("8")
	r.press("enter")
	r.enter("dip, turn, horn")
	r.press("enter")
	r.sees("How are the leads held?")
	r.press("enter")
	r.sees("RED", "BLACK")
	r.press("enter")
	if got := len(r.a.ses.work.Readings); got != 1 {
		t.Fatalf("%d readings after the first answer", got)
	}
	if r.keys > 40 {
		t.Errorf("%d keys to the first reading, 40 are the most", r.keys)
	}
	t.Logf("%d keys from nothing to the first reading", r.keys)
	job, err := mapping.Fold(r.keep.log)
	if err != nil {
		t.Fatal(err)
	}
	w := job.Pods["pod 1"]
	if w == nil || len(w.Pod.Ends) != 8 || len(w.Pod.Switches) != 3 || len(w.Readings) != 1 || w.Session != 1 {
		t.Fatalf("kept: %+v", w)
	}
	if w.Readings[0].Sweep != w.LastAsk.ID || w.Readings[0].Outcome != mapping.Sounded {
		t.Errorf("the reading is not tied to its sweep: %+v", w.Readings[0])
	}
}

// The whole way: describe, probe, a doubt and its re-test, the pinout; at most
// 1.2 keys a reading.
func TestDescribeProbeDoubtPinout(t *testing.T) {
	r := newRig(t, nil, nil)
	r.enter("left")
	r.enter("5")
	r.press("enter")
	r.enter("dip low* main")
	r.enter("horn out* in!")
	r.press("enter", "enter")
	before := r.keys
	wrong := false
	for i := 0; r.a.ses.ask != nil && i < 200; i++ {
		k := r.a.ses.ask
		if !wrong && k.sweep.Red[0] == "3" && len(k.said) == 0 {
			wrong = true
			r.press("space") // 1 and 3 are joined at rest: a false silence
			continue
		}
		r.answerTruth()
	}
	readings := len(r.a.ses.work.Readings)
	if per := float64(r.keys-before) / float64(readings); per > 1.2 {
		t.Errorf("%.2f keys a reading, 1.2 are the most", per)
	}
	r.sees("Nothing more to ask")
	r.enter("/3 1 beep")
	r.sees("these readings cannot all be right")
	r.sees("!! 1 doubt")
	r.press("d")
	r.sees("THESE CANNOT ALL BE RIGHT", "3 and 1 were silent (all at rest)", "3 and 1 beeped (all at rest)", "one odd reading")
	r.press("t")
	r.sees("the re-test is the next sweep", "readings clash")
	r.press("enter", "d", "X")
	r.sees("No two readings contradict each other")
	r.press("esc", "o")
	r.sees("1 and 3 joined", "4 and 5 joined: horn in (proved)")
	r.press("n")
	r.enter("5 horn")
	r.sees("horn")
	if v, _ := r.a.ses.work.Decided(mapping.NameFunction, "5"); v != "horn" {
		t.Errorf("the name was not kept: %q", v)
	}
}

// A sweep answered on one line costs fewer keys than its steps.
func TestWholeSweepOnOneLine(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	n := r.a.ses.ask.steps()
	if n != 3 {
		t.Fatalf("the fake's first sweep has %d steps", n)
	}
	r.enter("2")
	rs := r.a.ses.work.Readings
	if len(rs) != 3 || rs[0].Outcome != mapping.Silent || rs[1].Outcome != mapping.Sounded || rs[2].Outcome != mapping.Silent {
		t.Fatalf("readings %+v", rs)
	}
	r.sees("taken: beep at 2")
	r.press("u")
	if live := len(r.a.ses.work.Live()); live != 0 {
		t.Errorf("undo left %d of the line's readings", live)
	}
	if len(r.a.ses.ask.said) != 0 || r.a.ses.ask.sweep.ID != rs[0].Sweep {
		t.Errorf("undo did not bring the sweep back")
	}
	r.enter("-")
	r.sees("taken: no beep")
}

func TestUndoBringsTheStepBack(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.press("space", "enter")
	r.press("u")
	if len(r.a.ses.ask.said) != 1 {
		t.Fatalf("at step %d after undo", len(r.a.ses.ask.said))
	}
	r.press("u", "u")
	r.sees("nothing to undo")
	last := r.keep.log[len(r.keep.log)-1]
	if last.Strike == nil || last.Strike.Reason != "undone" {
		t.Errorf("the last entry is no strike-out: %+v", last)
	}
}

// Two keys hit by one finger: the second is not taken.
func TestBounceIsRefused(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	now := r.now
	r.a.o.Now = func() time.Time { return now }
	r.press("enter", "space", "space")
	if got := len(r.a.ses.work.Readings); got != 1 {
		t.Errorf("%d readings from keys within a blink", got)
	}
	r.sees("only the first was taken")
}

// A full disk: the answer stays, it is said what to do, and saving again works.
func TestDiskFull(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.keep.fail = errDisk
	r.press("enter")
	r.sees("NOT SAVED", "no space left on device", "ctrl+r saves again")
	r.press("enter")
	if got := len(r.a.ses.work.Readings); got != 1 {
		t.Errorf("an answer was taken while nothing can be saved: %d", got)
	}
	r.press("Q")
	if r.left {
		t.Fatal("left with an unsaved reading at the first asking")
	}
	r.sees("LEAVING NOW LOSES")
	r.keep.fail = nil
	r.press("ctrl+r")
	r.seesNot("NOT SAVED")
	job, err := mapping.Fold(r.keep.log)
	if err != nil || len(job.Pods["left"].Readings) != 1 {
		t.Fatalf("after saving again: %v %+v", err, job)
	}
}

// What is not saved is counted in plain English, and the words of the system's own
// error are left as they are.
func TestUnsavedEntriesAreCounted(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.keep.fail = errors.New("2 entrys left in the table")
	cmd := r.a.put("", mapping.Entry{Remark: &mapping.Remark{Text: "one"}}, mapping.Entry{Remark: &mapping.Remark{Text: "two"}})
	r.a.route(cmd())
	r.sees("NOT SAVED (2 entries): 2 entrys left in the table.")
	if err := r.a.finish(); err == nil || err.Error() != "2 entries could not be saved: 2 entrys left in the table" {
		t.Error(err)
	}
}

// An answer shows as being saved until the keeper has acknowledged it.
func TestSavingShows(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	cmd := r.a.route(keyMsg("enter"))
	if s := r.screen(); !strings.Contains(s, "(saving)") {
		t.Errorf("not shown as being saved:\n%s", s)
	}
	r.a.settle(cmd)
	if s := r.screen(); strings.Contains(s, "saving") {
		t.Errorf("still shown as being saved:\n%s", s)
	}
}

// The clip had slipped: everything since goes at once and comes back at once.
func TestSlippedSinceHere(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.enter("-")
	r.press("space", "space")
	r.press("s")
	r.sees("the clip had slipped since")
	r.press("S")
	if live := len(r.a.ses.work.Live()); live != 0 {
		t.Errorf("%d readings stand", live)
	}
	r.press("esc")
	if k := r.a.ses.ask; k == nil || len(k.said) != 0 {
		t.Error("the sweep in hand goes on after readings that were struck out")
	}
	r.press("u")
	if live := len(r.a.ses.work.Live()); live != 5 {
		t.Errorf("undo brought back %d of 5", live)
	}
}

// A forgotten half-way click in the middle of the work loses no reading.
func TestAmendKeepsReadings(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.enter("1")
	r.press("a")
	r.enter("position dip half after low")
	r.sees("every reading so far still stands")
	r.press("a")
	r.enter("end 1")
	r.sees("there is an end 1 already")
	r.press("esc")
	w := r.a.ses.work
	if len(w.Live()) != 3 || len(w.Pod.Switches[0].Positions) != 3 || w.Pod.Switches[0].Positions[1] != "half" {
		t.Errorf("after the change: %d readings, %+v", len(w.Live()), w.Pod.Switches[0])
	}
}

func TestReadingOutOfTurn(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	k := r.a.ses.ask
	r.press("/")
	r.enter("4 5 horn=in beep")
	r.sees("taken: red 4, black 5, horn in: beep")
	if r.a.ses.ask != k {
		t.Error("the sweep in hand was lost")
	}
	r.press("/")
	r.enter("4 9 beep")
	r.sees(`there is no end "9" here: this pod has 1 2 3 4 5`)
	if r.a.top().typing().string() != "4 9 beep" {
		t.Error("the line that was refused is gone")
	}
}

func TestControlBeep(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.press("space", "c")
	r.sees("control beep", "SHOULD beep")
	r.press("space")
	r.sees("the clip does not bite")
	if n := len(r.a.ses.work.Readings); n != 2 || !r.a.ses.work.Readings[1].Control {
		t.Fatalf("%+v", r.a.ses.work.Readings)
	}
}

// What follows either answer is worked out before it is given, and is the same
// as what would be worked out after it.
func TestAheadEqualsAfter(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	for i := range 12 {
		if r.a.ses.ahead == nil {
			t.Fatalf("nothing worked out ahead at reading %d", i)
		}
		cmd := r.a.route(keyMsg([]string{"enter", "space"}[i%2]))
		if r.a.ses.thinking {
			t.Fatalf("the screen waits for the engine at reading %d", i)
		}
		r.a.settle(cmd)
		plain := newFake(r.a.ses.work.Pod, r.a.ses.work.Live()).Findings().Summary()
		if len(plain.Map.Links) != len(r.a.ses.th.sum.Map.Links) {
			t.Fatalf("reading %d: %d links ahead, %d after", i, len(r.a.ses.th.sum.Map.Links), len(plain.Map.Links))
		}
	}
}

func TestBell(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.press("space")
	if r.bell.String() != "\a" {
		t.Errorf("taken rang %q", r.bell)
	}
	r.press("B")
	n := r.bell.Len()
	r.press("space")
	if r.bell.Len() != n {
		t.Error("the bell rings although it is off")
	}
}

// Ohms are taken as the meter shows them, with the caution the first time, and
// what is said of the meter itself is kept.
func TestOhms(t *testing.T) {
	r := newRig(t, started(examplePod()), nil)
	r.enter("0.4")
	r.sees("Touch the probes together first")
	r.enter("38r")
	r.sees("A bulb or a coil answers like a contact")
	r.press("m")
	r.sees("read ohms", "as 0.4 or 38; SPACE is OL", "ENTER type a figure SPACE OL")
	r.seesNot("ENTER beep", "SPACE silent")
	r.press("m")
	r.sees("read diode volts", "as 0.62; SPACE is OL", "ENTER type a figure SPACE OL")
	r.press("m")
	r.sees("ENTER beep SPACE silent")
	r.press("m")
	r.press("space")
	rs := r.a.ses.work.Readings
	if len(rs) != 3 || rs[0].Value != 0.4 || rs[1].Value != 38 || rs[2].Outcome != mapping.OverRange || rs[2].Mode != mapping.Ohms {
		t.Fatalf("%+v", rs)
	}
	r.press("enter")
	r.enter("0.3 OL")
	if n := len(r.a.ses.work.Readings); n != 5 {
		t.Fatalf("%d readings", n)
	}
	r.press("a")
	r.enter("leads 0.3")
	r.press("a")
	r.enter("leads many")
	r.sees("is no resistance")
	r.press("esc", "a")
	r.enter("leads 300m")
	r.sees("may be megohm or milliohm: type 300M, or 0.3")
	r.press("esc", "a")
	r.enter("threshold 60")
	r.sees(`"threshold" is no change`)
	r.press("esc", "k")
	r.sees("Leads of 0.3 ohm")
}

// Older jobs hold up to how many ohms the meter beeps. Nothing follows from it: they
// open as they are, and nothing is said of it.
func TestThresholdOfAnOlderJob(t *testing.T) {
	log := append(started(examplePod()), mapping.Entry{Pod: "left", Decision: &mapping.Decision{Kind: mapping.OhmThreshold, Value: "60"}})
	for i := range log {
		log[i].Seq = uint64(i + 1)
	}
	r := newRig(t, log, nil)
	r.press("k")
	r.sees("WHERE IT STANDS")
	r.seesNot("60")
}

// One question back, what was wrong with an answer to the one after it is gone.
func TestBackClearsWhatWasWrong(t *testing.T) {
	r := newRig(t, nil, nil)
	r.enter("left")
	r.enter("many")
	r.sees(`"many"`)
	r.press("esc")
	r.sees("What do you call this pod?")
	r.seesNot(`"many"`)
}
