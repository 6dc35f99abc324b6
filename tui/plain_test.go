package tui

import (
	"bytes"
	"context"
	"strings"
	"testing"
	"time"

	"bellout/mapping"
)

// talk runs the plain mode over lines and gives back what it printed.
func talk(t *testing.T, log []mapping.Entry, input string, change func(*Options)) (string, *memory) {
	t.Helper()
	keep := &memory{log: append([]mapping.Entry(nil), log...)}
	var out bytes.Buffer
	o := Options{
		Keeper: keep, Log: log, NewEngine: newFake, In: strings.NewReader(input), Out: &out, Plain: true,
		Now: func() time.Time { return time.Unix(1_700_000_000, 0) },
	}
	if change != nil {
		change(&o)
	}
	if err := Run(context.Background(), o); err != nil {
		t.Fatalf("plain mode: %v\n%s", err, out.String())
	}
	for i, l := range strings.Split(out.String(), "\n") {
		if len([]rune(l)) > 80 {
			t.Errorf("line %d is longer than 80: %q", i+1, l)
		}
	}
	if strings.ContainsAny(out.String(), "\x1b\a") {
		t.Error("the plain mode writes escapes or bells")
	}
	return out.String(), keep
}

// The plain mode does the whole job: describe, probe, doubt, re-test, pinout.
func TestPlainWholeJob(t *testing.T) {
	in := []string{"left", "3", "n", "dip low* main", "", "1"}
	in = append(in,
		"-",        // 2 against 1: a false silence at dip main
		"0.4", "s", // 3 against 1
		"s", "silent", // 3 against 2
		"2 1 dip=main beep", "doubts", "re-test 1", "beep", "strike-reading 10",
		"doubts", "log", "table", "known", "pinout", "name 3 dip beam", "fate 2 insulate", "before-cut", "undo", "nonsense", "help", "quit")
	out, keep := talk(t, nil, strings.Join(in, "\n")+"\n", nil)
	for _, want := range []string{
		"What do you call this pod?", "Red on 2. Black on 1.", "Step 1 of 2", "these readings cannot all be right",
		"re-test: red 2, black 1; levers: dip main", "struck out 1 reading", "1 and 3 joined: always", "1 and 2 joined: dip main",
		"3: dip beam", "2: insulate", "One wire at a time", "neither a step",
	} {
		if !strings.Contains(strings.Join(strings.Fields(out), " "), want) {
			t.Errorf("it does not say %q", want)
		}
	}
	job, err := mapping.Fold(keep.log)
	if err != nil {
		t.Fatal(err)
	}
	if w := job.Pods["left"]; len(w.Readings) != 8 {
		t.Errorf("%d readings kept\n%s", len(w.Readings), out)
	}
	if t.Failed() {
		t.Log(out)
	}
}

// The end of the input is the end of the work, and it comes back with the
// return screen.
func TestPlainComesBack(t *testing.T) {
	_, keep := talk(t, started(examplePod()), "2\n2\n", nil)
	out, keep2 := talk(t, keep.log, "silent\nundo\nbeep\nsilent\n", nil)
	for _, want := range []string{"Welcome back: sitting 2", "1 set all dip main, horn out", "beep it beeped, silence it was silent", "not as it was", "Step 1 of"} {
		if !strings.Contains(strings.Join(strings.Fields(out), " "), want) {
			t.Errorf("it does not say %q:\n%s", want, out)
		}
	}
	if len(keep2.log) <= len(keep.log) {
		t.Error("nothing was kept")
	}
}

func TestPlainPractice(t *testing.T) {
	out, keep := talk(t, started(examplePod()), strings.Repeat("p\n", 30), func(o *Options) { o.Player = practiceMeter{} })
	if !strings.Contains(out, "score:") || !strings.Contains(out, "Nothing more to ask") {
		t.Errorf("practice does not play itself through:\n%s", out)
	}
	if n := len(keep.log); n < 30 {
		t.Errorf("%d entries", n)
	}
}

func TestRunWantsATerminalOrPlain(t *testing.T) {
	t.Setenv("TERM", "xterm-256color")
	err := Run(context.Background(), Options{
		Keeper: &memory{}, NewEngine: newFake, In: strings.NewReader(""), Out: &bytes.Buffer{}, Now: time.Now,
	})
	if err == nil || !strings.Contains(err.Error(), "--plain") {
		t.Errorf("without a terminal: %v", err)
	}
}

// Opening a job that takes long says how far it is every few seconds, not more often;
// one that is quick says nothing.
func TestPlainSaysHowFar(t *testing.T) {
	_, kept := talk(t, nil, "left\n3\nn\ndip low* main\n\n1\n-\nquit\n", nil)
	for _, c := range []struct {
		each time.Duration // how long the clock goes on between two looks at it
		want int
	}{{quietFor, 2}, {quietFor / 2, 1}, {0, 0}} {
		in, now := 0, time.Unix(1_700_000_000, 0)
		out, _ := talk(t, kept.log, "quit\n", func(o *Options) {
			o.NewEngine = func(p mapping.Pod, r []mapping.Reading) Engine { return slow{newFake(p, r), &in, 2*takenAtOnce + 1} }
			o.Now = func() time.Time { now = now.Add(c.each); return now }
		})
		if n := strings.Count(out, " readings taken in\n"); n != c.want {
			t.Errorf("a clock of %v: %d lines say how far it is, want %d\n%s", c.each, n, c.want, out)
		}
	}
}
