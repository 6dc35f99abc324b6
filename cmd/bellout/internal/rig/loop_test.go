package rig

import (
	"bytes"
	"context"
	"errors"
	"io"
	"strings"
	"testing"

	"bellout/mapping"
)

func newRig(t *testing.T, m *memory, sweeps ...mapping.Sweep) (*Rig, *script) {
	e := &script{sweeps: sweeps}
	pod := testPod(t)
	return &Rig{
		Pod: pod, Key: "test", Session: 4, Engine: e, Journal: m, Kept: 10,
		Bench: mapping.Bench{Leads: mapping.BunchLeads}, Now: func() int64 { return 99 },
	}, e
}

func TestRunKeepsBeforeItGoesOn(t *testing.T) {
	var out bytes.Buffer
	m := &memory{out: &out}
	r, e := newRig(t, m, beepSweep(), controlSweep())
	in := `{"id":1,"readings":["open","closed"]}` + "\n" + `{"id":4,"readings":["closed"]}` + "\n"
	if err := r.Run(context.Background(), strings.NewReader(in), &out); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")
	if len(lines) != 3 || !strings.HasPrefix(lines[1], `{"ask":{"id":4,"control":true`) || !strings.HasSuffix(lines[2], `"readings":13}`) {
		t.Errorf("wrote\n%s", out.String())
	}
	// The answer to line n must be kept while n lines are out, not n+1.
	if len(m.linesAt) != 2 || m.linesAt[0] != 1 || m.linesAt[1] != 2 {
		t.Errorf("answers were kept after %v lines of output, want [1 2]", m.linesAt)
	}
	if len(e.heard) != 3 || e.heard[0].ID != 2 || e.heard[2].ID != 5 || e.heard[1].Session != 4 {
		t.Errorf("the engine heard %+v", e.heard)
	}
	if len(m.entries) != 5 || m.entries[1].Pod != "test" || m.entries[1].At != 99 || m.entries[3].Ask == nil {
		t.Errorf("the journal holds %+v", m.entries)
	}
	last := e.bench[len(e.bench)-1]
	if last.Levers["turn"] != "right" || last.Levers["horn"] != "out" || last.Red[0] != "3" {
		t.Errorf("the bench is left as %+v", last)
	}
}

func TestRunEndsEarly(t *testing.T) {
	good := `{"id":1,"readings":["open","closed"]}` + "\n"
	for _, c := range []struct {
		name, in string
		check    func(error) bool
		kept     int
	}{
		{"no answer at all", "", func(err error) bool { return errors.Is(err, ErrEnded) }, 0},
		{"answers stop", good, func(err error) bool { return errors.Is(err, ErrEnded) }, 2},
		{"last line without its newline still counts", strings.TrimSpace(good), func(err error) bool { return errors.Is(err, ErrEnded) }, 2},
		{"a line broken off", good + `{"id":4,"rea`, isMalformed, 2},
		{"an empty line", good + "\n", isMalformed, 2},
		{"a line without end", good + strings.Repeat("x", longestAnswer+1), isMalformed, 2},
	} {
		m := &memory{}
		r, e := newRig(t, m, beepSweep(), beepSweep(), beepSweep())
		err := r.Run(context.Background(), strings.NewReader(c.in), io.Discard)
		if !c.check(err) {
			t.Errorf("%s: ended with %v", c.name, err)
		}
		if len(e.heard) != c.kept || r.Kept != 10+c.kept {
			t.Errorf("%s: %d readings heard, %d counted, want %d", c.name, len(e.heard), r.Kept-10, c.kept)
		}
	}
}

func isMalformed(err error) bool {
	var m *Malformed
	return errors.As(err, &m)
}

func TestRunNeverAcknowledgesWhatIsNotKept(t *testing.T) {
	var out bytes.Buffer
	m := &memory{fullAt: 2}
	r, e := newRig(t, m, beepSweep(), beepSweep())
	err := r.Run(context.Background(), strings.NewReader(`{"id":1,"readings":["open","closed"]}`+"\n"), &out)
	if !errors.Is(err, errFull) {
		t.Fatalf("ended with %v", err)
	}
	if n := strings.Count(out.String(), "\n"); n != 1 || len(e.heard) != 0 {
		t.Errorf("%d lines out and %d readings heard after the disk was full", n, len(e.heard))
	}
}

func TestRunStopsWhenTold(t *testing.T) {
	silent, never := io.Pipe()
	defer never.Close()
	ctx, cancel := context.WithCancel(context.Background())
	r, _ := newRig(t, &memory{}, beepSweep())
	cancel()
	if err := r.Run(ctx, silent, io.Discard); !errors.Is(err, context.Canceled) {
		t.Errorf("ended with %v", err)
	}
}
