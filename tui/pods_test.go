package tui

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"bellout/mapping"
	"bellout/mapping/fixture"
)

// contactPods are the fixtures made of contacts alone.
func contactPods(t *testing.T) map[string]*fixture.Fixture {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", "testdata", "pods", "*.pod"))
	if err != nil || len(files) == 0 {
		t.Fatal("no pods: ", err)
	}
	out := map[string]*fixture.Fixture{}
	for _, file := range files {
		f, err := os.Open(file)
		if err != nil {
			t.Fatal(err)
		}
		pod, err := fixture.Parse(f)
		_ = f.Close()
		if err != nil {
			t.Fatal(err)
		}
		if pod.Contacts() {
			out[strings.TrimSuffix(filepath.Base(file), ".pod")] = pod
		}
	}
	return out
}

func heard(f *fixture.Fixture, k *asked, step int) bool {
	return k.sweep.Control || f.Read(k.sweep.Red, k.sweep.Black, k.setting(step, f.Pod)) == mapping.Sounded
}

// Keys to a finished map on all contact pods: at most 1.2 keys a reading (issue
// 4), whichever way of answering is used. Here every sweep goes in as one line,
// which costs less still; a key a reading is one key a reading.
func TestKeysToAFinishedMap(t *testing.T) {
	for name, f := range contactPods(t) {
		r := newRig(t, started(f.Pod), func(o *Options) { o.Quiet = true })
		for i := 0; r.a.ses.ask != nil; i++ {
			if i > 3000 {
				t.Fatalf("%s: it never ends", name)
			}
			k := r.a.ses.ask
			var beeps []string
			for step := range k.steps() {
				if heard(f, k, step) {
					beeps = append(beeps, strconv.Itoa(step+1))
				}
			}
			if len(beeps) == 0 {
				beeps = []string{"0"}
			}
			r.enter(strings.Join(beeps, " "))
		}
		n := len(r.a.ses.work.Readings)
		if per := float64(r.keys) / float64(n); per > 1.2 {
			t.Errorf("%s: %.2f keys a reading", name, per)
		}
		t.Logf("%s: %d readings, %d keys", name, n, r.keys)
	}
}

// The real engine behind the same screens: a small pod to its end, a key a
// reading, and the map is the fixture's in every row of the contact table.
func TestRealEngineThroughTheScreens(t *testing.T) {
	if testing.Short() {
		t.Skip("the real engine thinks for seconds")
	}
	f := contactPods(t)["P12"]
	r := newRig(t, started(f.Pod), func(o *Options) { o.NewEngine = NewEngine; o.Quiet = true })
	for i := 0; r.a.ses.ask != nil; i++ {
		if i > 1000 {
			t.Fatal("it never ends")
		}
		if k := r.a.ses.ask; heard(f, k, len(k.said)) {
			r.press("enter")
		} else {
			r.press("space")
		}
	}
	n := len(r.a.ses.work.Readings)
	if r.keys != n {
		t.Errorf("%d keys for %d readings", r.keys, n)
	}
	r.sees("Nothing more to ask")
	want, known := f.Map()
	if !known {
		t.Fatal("the fixture has no map")
	}
	for _, row := range r.a.ses.th.table.rows {
		for i, a := range f.Pod.Ends {
			for _, b := range f.Pod.Ends[i+1:] {
				if got := r.a.ses.th.sum.Map.Joined(f.Pod, row.setting, a.ID, b.ID); got != want.Joined(f.Pod, row.setting, a.ID, b.ID) {
					t.Errorf("%s and %s, %s: joined is %v", a.ID, b.ID, row.setting.Words(f.Pod), got)
				}
			}
		}
	}
}
