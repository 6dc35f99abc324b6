package storage

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bellout/mapping"
)

// childVariable makes the test binary play a part in a process of its own, so
// that a dying bbolt is a failed case and not a dead test run.
const childVariable = "BELLOUT_STORAGE_CHILD"

func TestMain(m *testing.M) {
	switch os.Getenv(childVariable) {
	case "":
		os.Exit(m.Run())
	case "write":
		childWrite(os.Args[1])
	case "hold":
		childHold(os.Args[1])
	case "open":
		childOpen(os.Args[1:])
	case "unprivileged":
		childUnprivileged(os.Args[1])
	}
	os.Exit(0)
}

func child(t testing.TB, part string, args ...string) *exec.Cmd {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := exec.Command(exe, args...)
	c.Env = append(os.Environ(), childVariable+"="+part)
	kill := time.AfterFunc(60*time.Second, func() {
		if c.Process != nil {
			_ = c.Process.Kill()
		}
	})
	t.Cleanup(func() { kill.Stop() })
	return c
}

// childWrite appends readings for ever and prints each number once Append has
// returned it.
func childWrite(path string) {
	s, err := Open(path)
	if err != nil {
		fmt.Println("error", err)
		os.Exit(3)
	}
	for i := 0; ; i++ {
		kept, err := s.Append(aReading(i))
		if err != nil {
			fmt.Println("error", err)
			os.Exit(3)
		}
		fmt.Println(kept[0].Seq)
	}
}

func childHold(path string) {
	if _, err := Open(path); err != nil {
		fmt.Println("error", err)
		os.Exit(3)
	}
	fmt.Println("open")
	_, _ = bufio.NewReader(os.Stdin).ReadString('\n')
}

// childOpen opens file after file, reads it, adds a reading, closes it, and
// prints how it went: a name before, the outcome after.
func childOpen(paths []string) {
	for _, p := range paths {
		fmt.Printf("%s\t", filepath.Base(p))
		s, err := Open(p)
		if err != nil {
			fmt.Printf("%s\t%v\n", kindName(err), err)
			continue
		}
		entries, err := s.Entries()
		if err == nil {
			_, err = s.Append(aReading(0))
		}
		if err == nil {
			err = s.Close()
		}
		if err != nil {
			fmt.Printf("late\t%v\n", err)
			continue
		}
		fmt.Printf("ok\t%d\t%d\n", len(entries), s.Healed())
	}
}

func kindName(err error) string {
	for _, k := range []struct {
		kind Kind
		name string
	}{
		{ErrLocked, "locked"}, {ErrNewer, "newer"}, {ErrDamaged, "damaged"}, {ErrNotOurs, "not ours"},
		{ErrReadOnly, "read-only"}, {ErrFull, "full"}, {ErrExists, "exists"}, {ErrMissing, "missing"},
		{ErrUpgrade, "upgrade"}, {ErrClosed, "closed"}, {ErrEntry, "entry"}, {ErrArchive, "archive"},
	} {
		if errors.Is(err, k.kind) {
			return k.name
		}
	}
	return "other"
}

// wantKind checks an error's kind, that it carries the path, and that it is
// one line with some advice in it.
func wantKind(t testing.TB, err error, kind Kind, path string) {
	t.Helper()
	if !errors.Is(err, kind) {
		t.Fatalf("got %v, want one that %s", err, kind)
	}
	var e *Error
	if !errors.As(err, &e) || e.Path != path {
		t.Fatalf("%v does not carry the path %s", err, path)
	}
	if s := err.Error(); strings.Contains(s, "\n") || !strings.Contains(s, ":") {
		t.Fatalf("not one sentence with advice: %q", s)
	}
}

const leftPod = mapping.PodKey("left")

func aPod() mapping.Entry {
	return mapping.Entry{At: 1_700_000_000_000, Pod: leftPod, Describe: &mapping.Pod{
		Name: "left pod",
		Ends: []mapping.End{{ID: "1", Base: "BU", Tracer: "WH"}, {ID: "2", Base: "RD"}, {ID: "BODY", Kind: mapping.Body}},
		Switches: []mapping.Switch{
			{Name: "dip", Positions: []mapping.PositionID{"low", "high"}, Rest: "low", Legend: "LO HI"},
			{Name: "horn", Positions: []mapping.PositionID{"out", "in"}, Rest: "out", Momentary: true},
		},
	}}
}

func aReading(i int) mapping.Entry {
	return mapping.Entry{At: 1_700_000_000_000 + int64(i), Pod: leftPod, Reading: &mapping.Reading{
		Session: 1, Sweep: 3, Step: i, Red: []mapping.EndID{"1"}, Black: []mapping.EndID{"2", "BODY"},
		Setting: mapping.Setting{"dip": "high", "horn": "out"},
		Mode:    mapping.Ohms, Outcome: mapping.Value, Value: 0.4 + float64(i), Note: "clip held by hand",
	}}
}

// newJob makes a job with a described pod and n readings, and closes it.
func newJob(t testing.TB, n int) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "job"+Extension)
	s := must(Create(path, "old twin"))(t)
	must(s.Append(aPod()))(t)
	for i := range n {
		must(s.Append(aReading(i)))(t)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return path
}

func must[T any](v T, err error) func(testing.TB) T {
	return func(t testing.TB) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func readBytes(t testing.TB, path string) []byte { t.Helper(); return must(os.ReadFile(path))(t) }

func writeBytes(t testing.TB, path string, b []byte) string {
	t.Helper()
	if err := os.WriteFile(path, b, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// without takes the log and the backup away, so that the file stands alone.
func without(t testing.TB, path string) {
	t.Helper()
	for _, p := range []string{logPath(path), backupPath(path)} {
		if err := os.Remove(p); err != nil && !errors.Is(err, os.ErrNotExist) {
			t.Fatal(err)
		}
	}
}
