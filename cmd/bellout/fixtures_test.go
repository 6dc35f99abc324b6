package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bellout/mapping"
)

// contactPods lists the fixtures that are made of contacts alone.
func contactPods(t testing.TB) []string {
	t.Helper()
	paths, err := filepath.Glob("../../testdata/pods/*.pod")
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, path := range paths {
		s, err := newSimPod(path, mapping.PairLeads)
		if err != nil {
			t.Fatal(err)
		}
		if s.pod.Contacts() {
			out = append(out, path)
		}
	}
	if len(out) < 10 {
		t.Fatalf("%d of %d pods are made of contacts alone, there should be ten", len(out), len(paths))
	}
	return out
}

// testWorld is a world without surroundings.
func testWorld(in io.Reader, out, err io.Writer) *world {
	return &world{
		in: in, out: out, err: err,
		getenv: func(string) string { return "" },
		now:    func() time.Time { return time.UnixMilli(0) },
	}
}

// playRig runs bellout rig with the arguments against a simulated pod, within
// this process, and returns the exit code.
func playRig(t testing.TB, s *simPod, args ...string) exitCode {
	t.Helper()
	fromRig, rigOut := io.Pipe()
	rigIn, toRig := io.Pipe()
	var stderr bytes.Buffer
	code := make(chan exitCode, 1)
	go func() {
		c := run(context.Background(), testWorld(rigIn, rigOut, &stderr), append([]string{"rig"}, args...))
		rigOut.Close()
		code <- c
	}()
	lines := bufio.NewScanner(fromRig)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		reply, done, err := s.answer(lines.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		if done {
			break
		}
		// Twice the grid has failed already; no need to wait for the end.
		if grid := mapping.GridSeconds(s.pod.Pod); s.seconds > 2*grid {
			t.Fatalf("%.0f s at the bench and no map yet, the textbook grid takes %.0f s", s.seconds, grid)
		}
		if _, err := toRig.Write(reply); err != nil {
			t.Fatal(err)
		}
	}
	toRig.Close()
	_, _ = io.Copy(io.Discard, fromRig)
	got := <-code
	if stderr.Len() > 0 {
		t.Errorf("standard error: %s", stderr.String())
	}
	return got
}

// TestRigFindsEveryFixture plays each pod of contacts with a meter that never
// errs: the map is exact in every setting, nothing is left unresolved, nothing
// is wrong, and the bench time is under the textbook grid's.
func TestRigFindsEveryFixture(t *testing.T) {
	for i, path := range contactPods(t) {
		if testing.Short() && i%4 != 0 {
			continue
		}
		for _, leads := range []mapping.Leads{mapping.PairLeads, mapping.BunchLeads} {
			name := strings.TrimSuffix(filepath.Base(path), ".pod") + "/" + leads.String()
			t.Run(name, func(t *testing.T) {
				s, err := newSimPod(path, leads)
				if err != nil {
					t.Fatal(err)
				}
				if code := playRig(t, s, "--pod", path, "--leads", leads.String()); code != exitOK {
					t.Fatalf("exit code %d", code)
				}
				if s.last == nil {
					t.Fatal("no map came")
				}
				if err := s.judge(); err != nil {
					t.Error(err)
				}
				if n := len(s.last.Map.Unresolved); n > 0 {
					t.Errorf("%d unresolved: %v", n, s.last.Map.Unresolved)
				}
				if *s.last.Readings != s.readings {
					t.Errorf("%d readings counted, %d given", *s.last.Readings, s.readings)
				}
				if *s.last.Confidence < 0.995 {
					t.Errorf("confidence %v at the end: the stop rule asks for 0.995", *s.last.Confidence)
				}
				if grid := mapping.GridSeconds(s.pod.Pod); s.seconds >= grid {
					t.Errorf("%.0f s at the bench, the textbook grid takes %.0f s", s.seconds, grid)
				}
			})
		}
	}
}

// BenchmarkRigOnFixtures prints, for each pod of contacts, the bench time by
// the cost table and its share of the textbook grid's.
func BenchmarkRigOnFixtures(b *testing.B) {
	for _, path := range contactPods(b) {
		for _, leads := range []mapping.Leads{mapping.PairLeads, mapping.BunchLeads} {
			b.Run(fmt.Sprintf("%s/%s", strings.TrimSuffix(filepath.Base(path), ".pod"), leads), func(b *testing.B) {
				var s *simPod
				for range b.N {
					var err error
					if s, err = newSimPod(path, leads); err != nil {
						b.Fatal(err)
					}
					playRig(b, s, "--pod", path, "--leads", leads.String())
				}
				b.ReportMetric(s.seconds, "bench-s")
				b.ReportMetric(s.seconds/mapping.GridSeconds(s.pod.Pod), "of-grid")
				b.ReportMetric(float64(s.asks), "asks")
				b.ReportMetric(float64(s.readings), "readings")
			})
		}
	}
}
