package storage

import (
	"bufio"
	"fmt"
	"io"
	"math/rand/v2"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// TestKill kills a writer at a random moment, again and again on one file.
// What it had printed, it had been told was kept.
func TestKill(t *testing.T) {
	path := newJob(t, 0)
	rounds, total := 10, 0
	for round := range rounds {
		c := child(t, "write", path)
		out := must(c.StdoutPipe())(t)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		acked, first := make(chan int), make(chan bool, 1)
		go func() {
			last := 0
			sc := bufio.NewScanner(out)
			for sc.Scan() {
				// A line that was cut by the kill is no acknowledgement; a whole
				// number that lacks its end would be a smaller one, so no harm.
				if n, err := strconv.Atoi(sc.Text()); err == nil {
					last = max(last, n)
					select {
					case first <- true:
					default:
					}
				} else if strings.HasPrefix(sc.Text(), "error") {
					last = -1
					fmt.Println(sc.Text())
				}
				if last == -1 {
					break
				}
			}
			close(first)
			acked <- last
		}()
		if !<-first {
			t.Fatal("the writer ended before it wrote anything")
		}
		time.Sleep(time.Duration(rand.IntN(60_000)) * time.Microsecond)
		_ = c.Process.Kill()
		last := <-acked
		_ = c.Wait()
		if last == -1 {
			t.Fatal("the writer could not write")
		}
		s := must(Open(path))(t)
		if s.Healed() != 0 {
			t.Fatalf("round %d: the file had lost %d entries", round, s.Healed())
		}
		got := must(s.Entries())(t)
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
		if len(got) < last {
			t.Fatalf("round %d: %d was acknowledged, %d entries are there", round, last, len(got))
		}
		if last > 0 && len(got) > last+1 {
			t.Fatalf("round %d: %d was acknowledged, %d entries are there", round, last, len(got))
		}
		step := 0
		for i, e := range got {
			if e.Seq != uint64(i+1) {
				t.Fatalf("entry %d has the number %d", i+1, e.Seq)
			}
			if e.Reading == nil {
				continue
			}
			if e.Reading.Step == 0 {
				step = 0 // a new writer counts from the beginning
			}
			if d := cmp.Diff(number(aReading(step), e.Seq), e); d != "" {
				t.Fatal(d)
			}
			step++
		}
		total = len(got)
	}
	if total < rounds {
		t.Fatalf("only %d entries were written in %d rounds", total, rounds)
	}
	t.Logf("%d kills, %d entries kept", rounds, total)
}

// TestLocked: another process has the file; nobody hangs, nobody harms it.
func TestLocked(t *testing.T) {
	path := newJob(t, 3)
	c := child(t, "hold", path)
	in, out := must(c.StdinPipe())(t), must(c.StdoutPipe())(t)
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	r := bufio.NewReader(out)
	if line := must(r.ReadString('\n'))(t); line != "open\n" {
		t.Fatal(line)
	}
	began := time.Now()
	_, err := Open(path)
	wantKind(t, err, ErrLocked, path)
	if d := time.Since(began); d > 3*time.Second {
		t.Fatalf("it took %v", d)
	}
	began = time.Now()
	jobs := must(ListJobs(filepath.Dir(path)))(t)
	if len(jobs) != 1 || jobs[0].State != JobLocked || jobs[0].Name != "old twin" {
		t.Fatalf("%+v", jobs)
	}
	if d := time.Since(began); d > time.Second {
		t.Fatalf("the list took %v", d)
	}
	if n := len(must(Read(path))(t)); n != 5 {
		t.Fatalf("%d entries can be read", n)
	}
	_, _ = io.WriteString(in, "\n")
	if err := c.Wait(); err != nil {
		t.Fatal(err)
	}
	s := must(Open(path))(t)
	// The same within one process.
	_, err = Open(path)
	wantKind(t, err, ErrLocked, path)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

// TestFullDisk uses bbolt's own bound on the file's size (P23).
func TestFullDisk(t *testing.T) {
	path := filepath.Join(t.TempDir(), "job"+Extension)
	set := defaults()
	set.maxSize = 64 << 10
	s := must(create(path, nil, set))(t)
	must(s.Append(aPod()))(t)
	fillUp(t, s, path)
	want := must(s.Entries())(t)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s = must(Open(path))(t) // there is room again
	defer s.Close()
	if d := cmp.Diff(want, must(s.Entries())(t)); d != "" {
		t.Fatal(d)
	}
	if kept := must(s.Append(aReading(0)))(t); kept[0].Seq != uint64(len(want)+1) {
		t.Fatalf("went on with %d", kept[0].Seq)
	}
}

// fillUp appends until the disk is full and checks that the store then holds
// exactly what it acknowledged, and still works for reading.
func fillUp(t *testing.T, s *Store, path string) {
	t.Helper()
	acked := len(must(s.Entries())(t))
	for i := range 100_000 {
		kept, err := s.Append(aReading(i))
		if err != nil {
			wantKind(t, err, ErrFull, path)
			t.Logf("full after %d entries: %v", acked, err)
			break
		}
		acked++
		if kept[0].Seq != uint64(acked) {
			t.Fatalf("number %d after %d entries", kept[0].Seq, acked)
		}
	}
	if acked < 10 || acked >= 100_000 {
		t.Fatalf("%d entries fitted", acked)
	}
	for range 3 {
		_, err := s.Append(aReading(0))
		wantKind(t, err, ErrFull, path)
		if n := len(must(s.Entries())(t)); n != acked {
			t.Fatalf("%d entries, %d were acknowledged", n, acked)
		}
	}
}
