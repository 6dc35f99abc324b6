package main

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"bellout/mapping"
	"bellout/storage"
)

// TestRigKilledAtAnyMoment kills the rig again and again at moments of chance,
// in the middle of whatever it is doing, and goes on with --job alone. An
// answer is acknowledged by the line that follows it; each time all that was
// acknowledged must be there, in order, and nothing that was never said. In
// the end the map is exact.
func TestRigKilledAtAnyMoment(t *testing.T) {
	const pod = "../../testdata/pods/P08.pod"
	job := filepath.Join(t.TempDir(), "j.bellout")
	chance := rand.New(rand.NewPCG(20261125, 1))
	s, err := newSimPod(pod, mapping.BunchLeads)
	if err != nil {
		t.Fatal(err)
	}
	kills := 0
	for round := 0; s.last == nil; round++ {
		args := []string{"rig", "--job", job}
		if _, err := os.Stat(job); err != nil || len(keptWords(t, job)) == 0 {
			args = append(args, "--pod", pod, "--leads", "bunch")
		}
		var life time.Duration // 0: to the end
		if round < 8 {
			life = time.Duration(10+chance.IntN(150)) * time.Millisecond
		} else if round > 20 {
			t.Fatal("the map is never done")
		}
		before := s.said
		acknowledged := playUntilKilled(t, s, args, life)
		if life > 0 && s.last == nil {
			kills++
		}
		if _, err := os.Stat(job); err != nil {
			if acknowledged > len(before) {
				t.Fatal("answers were acknowledged and there is no job file")
			}
			s.said = nil
			continue
		}
		kept := keptWords(t, job)
		if len(kept) < acknowledged || len(kept) > len(s.said) {
			t.Fatalf("round %d: %d kept, %d acknowledged, %d said", round, len(kept), acknowledged, len(s.said))
		}
		for i, w := range kept {
			if w != s.said[i] {
				t.Fatalf("round %d: reading %d is kept as %q, said was %q", round, i+1, w, s.said[i])
			}
		}
		s.said = kept
	}
	if err := s.judge(); err != nil {
		t.Error(err)
	}
	if *s.last.Readings != len(s.said) {
		t.Errorf("the map counts %d readings, %d are kept", *s.last.Readings, len(s.said))
	}
	if kills < 3 {
		t.Errorf("only %d kills hit before the map was done: the test shows too little", kills)
	}
}

// playUntilKilled answers until the program dies or is done, and gives how many
// of all answers said were acknowledged.
func playUntilKilled(t *testing.T, s *simPod, args []string, life time.Duration) int {
	t.Helper()
	c := exec.Command("bellout", args...)
	in, err1 := c.StdinPipe()
	out, err2 := c.StdoutPipe()
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	if life > 0 {
		kill := time.AfterFunc(life, func() { _ = c.Process.Kill() })
		defer kill.Stop()
	}
	acknowledged := len(s.said)
	lines := bufio.NewReader(out)
	for {
		line, err := lines.ReadBytes('\n')
		if err != nil {
			break // a line cut short acknowledges nothing
		}
		acknowledged = len(s.said)
		reply, done, err := s.answer(line)
		if err != nil {
			t.Fatal(err)
		}
		if done {
			break
		}
		if _, err := in.Write(reply); err != nil {
			break
		}
	}
	_ = c.Wait()
	return acknowledged
}

// keptWords are the readings of a job, as the protocol says them.
func keptWords(t *testing.T, job string) []string {
	t.Helper()
	entries, err := storage.Read(job)
	if err != nil {
		t.Fatal(err)
	}
	var words []string
	for _, e := range entries {
		if e.Reading != nil {
			words = append(words, fmt.Sprint(e.Reading.Continuity()))
		}
	}
	return words
}
