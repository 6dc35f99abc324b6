//go:build linux

package main

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"bellout/mapping"
	"bellout/mapping/fixture"
	"bellout/storage"

	"github.com/charmbracelet/x/vt"
	"github.com/creack/pty"
	"golang.org/x/sys/unix"
)

// seat is a builder in front of the real program: a pseudo-terminal whose
// screen can be read, and the job file on the disk beside it.
type seat struct {
	t    *testing.T
	dir  string
	cmd  *exec.Cmd
	tty  *os.File
	mu   sync.Mutex
	em   *vt.Emulator
	raw  strings.Builder
	done chan struct{}
}

func sitDown(t *testing.T, dir string, args ...string) *seat {
	t.Helper()
	return sitAt(t, 80, "xterm-256color", dir, args...)
}

// sitAt sits down at a terminal of so many columns.
func sitAt(t *testing.T, columns int, term, dir string, args ...string) *seat {
	t.Helper()
	s := &seat{t: t, dir: dir, em: vt.NewEmulator(columns, 24), done: make(chan struct{})}
	// A shell with job control, as a person has one: it wakes what was put to
	// sleep, after it has had the terminal for itself.
	s.cmd = exec.Command("sh", "-mc", `bellout "$@"; code=$?; if [ $code -eq 148 ]; then echo ASLEEP; sleep 0.2; fg; code=$?; fi; exit $code`, "sh")
	s.cmd.Args = append(s.cmd.Args, args...)
	s.cmd.Dir = dir
	s.cmd.Env = append(os.Environ(), "TERM="+term, storage.FolderVariable+"="+dir)
	tty, err := pty.StartWithSize(s.cmd, &pty.Winsize{Rows: 24, Cols: uint16(columns)})
	if err != nil {
		t.Skip("no pseudo-terminal here: ", err)
	}
	s.tty = tty
	kill := time.AfterFunc(90*time.Second, func() { _ = s.cmd.Process.Kill() })
	t.Cleanup(func() {
		kill.Stop()
		_ = s.cmd.Process.Kill()
		_ = tty.Close()
		<-s.done
	})
	go func() { _, _ = io.Copy(io.Discard, s.em) }() // the emulator's replies must be read, or it stands still
	go func() {
		defer close(s.done)
		buf := make([]byte, 4096)
		for {
			n, err := tty.Read(buf)
			s.mu.Lock()
			s.raw.Write(buf[:n])
			_, _ = s.em.Write(buf[:n])
			s.mu.Unlock()
			if err != nil {
				return
			}
		}
	}()
	return s
}

func (s *seat) keys(keys string) {
	s.t.Helper()
	if _, err := s.tty.WriteString(keys); err != nil {
		s.t.Fatal(err)
	}
}

// signal goes to what stands in the foreground of the terminal: bellout, not
// the shell behind it.
func (s *seat) signal(sig syscall.Signal) {
	s.t.Helper()
	foreground, err := unix.IoctlGetInt(int(s.tty.Fd()), unix.TIOCGPGRP)
	if err != nil {
		s.t.Fatal(err)
	}
	if err := syscall.Kill(-foreground, sig); err != nil {
		s.t.Fatal(err)
	}
}

func (s *seat) screen() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.em.String()
}

// until waits until something holds, and shows the screen if it never does.
func (s *seat) until(what string, holds func() bool) {
	s.t.Helper()
	for end := time.Now().Add(20 * time.Second); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
		if holds() {
			return
		}
	}
	s.t.Fatalf("never: %s\n%s", what, s.screen())
}

func (s *seat) see(want string) {
	s.t.Helper()
	s.until("the screen says "+want, func() bool {
		return strings.Contains(strings.Join(strings.Fields(s.screen()), " "), want)
	})
}

// work reads the job from the disk, as nobody but this test would.
func (s *seat) work() *mapping.PodWork {
	entries, err := storage.Read(filepath.Join(s.dir, "twin.bellout"))
	if err != nil {
		return nil
	}
	job, err := mapping.Fold(entries)
	if err != nil || len(job.Order) == 0 {
		return nil
	}
	return job.Pods[job.Order[0]]
}

// step is where the work stands on the disk: the sweep that was asked for last,
// and the step of it that waits for an answer.
func (s *seat) step() (ask *mapping.Sweep, step, readings int) {
	w := s.work()
	if w == nil || w.LastAsk == nil {
		return nil, 0, 0
	}
	for _, r := range w.Readings {
		if r.Sweep == w.LastAsk.ID {
			step = max(step, r.Step+1)
		}
	}
	return w.LastAsk, step, len(w.Readings)
}

// answerOne answers the step in hand as the pod would and waits until the
// answer is on the disk. It is false when nothing is asked any more.
func (s *seat) answerOne(pod *fixture.Fixture) bool {
	s.t.Helper()
	var ask *mapping.Sweep
	var step, before int
	s.until("an open step or the end", func() bool {
		if strings.Contains(s.screen(), "Nothing more to ask") {
			return true
		}
		ask, step, before = s.step()
		return ask != nil && (ask.Control && step == 0 || step < len(ask.Steps)) &&
			strings.Contains(s.screen(), fmt.Sprintf("▶%3d", step+1))
	})
	if strings.Contains(s.screen(), "Nothing more to ask") {
		return false
	}
	key := " "
	if ask.Control || pod.Read(ask.Red, ask.Black, ask.Steps[step]) == mapping.Sounded {
		key = "\r"
	}
	// A second answer key within 80 ms is taken for a bounce.
	time.Sleep(100 * time.Millisecond)
	s.keys(key)
	s.until("the answer is kept", func() bool {
		_, _, now := s.step()
		return now == before+1
	})
	return true
}

const twinPod = `pod left | what the builder of this test has on the bench
wires 1 BU, 2 WH, 3 GY, 4 BN
sw dip latching rest=low | low: 1+3 | main: 1+2
sw horn momentary rest=out | out: | in: 1+4
`

// TestFromAnEmptyFolderToThePinout is the whole job in a real terminal, with a
// resize, a suspend and a kill in the middle.
func TestFromAnEmptyFolderToThePinout(t *testing.T) {
	if testing.Short() {
		t.Skip("it waits for a person's pace")
	}
	pod, err := fixture.Parse(strings.NewReader(twinPod))
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	s := sitDown(t, dir)
	s.see("a name for a new one")
	s.keys("twin\r")
	s.see("What do you call this pod?")
	keys := len("twin\r")
	for _, line := range []struct{ want, says string }{
		{"What do you call this pod?", "left"}, {"How many wires", "4"}, {"metal body", ""},
		{"Which switches", "dip low* main"}, {"dip low* main", "horn"}, {"horn", ""}, {"How are the leads held?", ""},
	} {
		s.see(line.want)
		s.keys(line.says + "\r")
		keys += len(line.says) + 1
		time.Sleep(50 * time.Millisecond)
	}
	s.see("RED needle")
	t.Logf("%d keys from an empty folder to the first reading", keys)
	if keys > 40 {
		t.Errorf("%d keys from an empty folder to the first reading, 40 are allowed", keys)
	}
	for range 2 {
		if !s.answerOne(pod) {
			t.Fatal("it is done after two readings")
		}
	}

	// A smaller window, then back.
	if err := pty.Setsize(s.tty, &pty.Winsize{Rows: 20, Cols: 40}); err != nil {
		t.Fatal(err)
	}
	s.mu.Lock()
	s.em.Resize(40, 20)
	s.mu.Unlock()
	s.answerOne(pod)
	_ = pty.Setsize(s.tty, &pty.Winsize{Rows: 24, Cols: 80})
	s.mu.Lock()
	s.em.Resize(80, 24)
	s.mu.Unlock()

	// Put to sleep, and woken by the shell.
	s.keys("\x1a")
	s.until("the shell has the terminal, and then the screen is back", func() bool {
		s.mu.Lock()
		defer s.mu.Unlock()
		asleep := strings.Index(s.raw.String(), "ASLEEP")
		return asleep > 0 && strings.Contains(s.raw.String()[asleep:], "\x1b[?1049h")
	})
	s.answerOne(pod)

	// Killed. All that was taken is there.
	_, _, before := s.step()
	s.signal(syscall.SIGKILL)
	_ = s.cmd.Wait()
	if _, _, after := s.step(); after != before || before < 4 {
		t.Fatalf("%d readings before the kill, %d after", before, after)
	}

	back := sitDown(t, dir, "open", "twin")
	back.see(fmt.Sprintf("Welcome back: sitting 2, %d readings kept", before))
	back.keys("G")
	for n := 0; back.answerOne(pod); n++ {
		if n > 300 {
			t.Fatal("it never ends")
		}
	}
	back.keys("o")
	back.see("pinout")
	back.keys("x")
	back.see("txt")
	back.keys("txt\r")
	export := filepath.Join(dir, "twin-left.txt")
	back.until("the pinout is in a file", func() bool { st, err := os.Stat(export); return err == nil && st.Size() > 0 })
	back.keys("Q")
	if err := back.cmd.Wait(); err != nil {
		t.Errorf("left with %v", err)
	}
	text, err := os.ReadFile(export)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"1-3  dip low", "1-2  dip main", "1-4  horn in", "PINOUT  left"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("the pinout lacks %q:\n%s", want, text)
		}
	}
}

// TestSignalsLeaveTheTerminalAsItWas ends the program from outside: the screen
// is given back and the exit code says that it was interrupted.
func TestSignalsLeaveTheTerminalAsItWas(t *testing.T) {
	for _, sig := range []syscall.Signal{syscall.SIGTERM, syscall.SIGHUP} {
		s := sitDown(t, t.TempDir(), "new", "twin")
		s.see("What do you call this pod?")
		s.signal(sig)
		err := s.cmd.Wait()
		if exit, ok := err.(*exec.ExitError); !ok || exit.ExitCode() != int(exitInterrupted) {
			t.Errorf("%v: ended with %v", sig, err)
		}
		s.until("all output is read", func() bool {
			s.mu.Lock()
			defer s.mu.Unlock()
			return strings.Contains(s.raw.String(), "what was acknowledged is kept")
		})
		s.mu.Lock()
		raw := s.raw.String()
		s.mu.Unlock()
		for on, off := range map[string]string{"\x1b[?1049h": "\x1b[?1049l", "\x1b[?25l": "\x1b[?25h", "\x1b[?2004h": "\x1b[?2004l"} {
			if strings.LastIndex(raw, on) > strings.LastIndex(raw, off) {
				t.Errorf("%v: %q was not taken back by %q", sig, on, off)
			}
		}
	}
}
