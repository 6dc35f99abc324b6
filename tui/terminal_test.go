//go:build unix

package tui

import (
	"bytes"
	"context"
	"encoding/json"
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

	"github.com/charmbracelet/x/vt"
	"github.com/creack/pty"

	"bellout/inference"
	"bellout/mapping"
)

// The test binary is its own builder's program when this is set.
const childEnv = "BELLOUT_TUI_CHILD"

func TestMain(m *testing.M) {
	if os.Getenv(childEnv) != "" {
		os.Exit(child())
	}
	os.Exit(m.Run())
}

// fileKeeper keeps a log as lines, synced before it is acknowledged.
type fileKeeper struct {
	f *os.File
	n uint64
}

func (k *fileKeeper) Append(es ...mapping.Entry) ([]mapping.Entry, error) {
	out := append([]mapping.Entry(nil), es...)
	for i := range out {
		k.n++
		out[i].Seq = k.n
		b, err := json.Marshal(out[i])
		if err != nil {
			return nil, err
		}
		if _, err := k.f.Write(append(b, '\n')); err != nil {
			return nil, err
		}
	}
	return out, k.f.Sync()
}

func readLog(path string) (log []mapping.Entry) {
	b, _ := os.ReadFile(path)
	for _, l := range bytes.Split(b, []byte("\n")) {
		var e mapping.Entry
		if len(l) > 0 && json.Unmarshal(l, &e) == nil {
			log = append(log, e)
		}
	}
	return log
}

// panicky panics when it is to propose after a reading.
type panicky struct{ Engine }

func (p panicky) Fork() Engine { return panicky{p.Engine.Fork()} }
func (p panicky) Next(b mapping.Bench) (inference.Proposal, bool) {
	if len(p.Engine.(*fakeEngine).readings) >= 3 {
		panic("a made-up mistake")
	}
	return p.Engine.Next(b)
}

func child() int {
	path := os.Getenv("BELLOUT_TUI_LOG")
	log := readLog(path)
	f, err := os.OpenFile(path, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o600)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 3
	}
	crash, _ := os.Create(path + ".crash")
	o := Options{
		Keeper: &fileKeeper{f: f, n: uint64(len(log))}, Log: log, NewEngine: newFake, Screen: true,
		In: os.Stdin, Out: os.Stdout, Now: time.Now, CrashLog: crash, Bounce: -1,
	}
	if os.Getenv(childEnv) == "panic" {
		o.NewEngine = func(p mapping.Pod, r []mapping.Reading) Engine { return panicky{newFake(p, r)} }
	}
	if err := Run(context.Background(), o); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	return 0
}

// terminal is a child on a pseudo-terminal with a screen that is read back.
type terminal struct {
	t    *testing.T
	cmd  *exec.Cmd
	tty  *os.File
	mu   sync.Mutex
	raw  bytes.Buffer
	em   *vt.Emulator
	done chan struct{}
	log  string
}

func startChild(t *testing.T, kind, log string, w, h int, env ...string) *terminal {
	t.Helper()
	c := &terminal{t: t, em: vt.NewEmulator(w, h), done: make(chan struct{}), log: log}
	c.cmd = exec.Command(os.Args[0])
	c.cmd.Env = append(os.Environ(), append([]string{childEnv + "=" + kind, "BELLOUT_TUI_LOG=" + log, "TERM=xterm-256color"}, env...)...)
	tty, err := pty.StartWithSize(c.cmd, &pty.Winsize{Rows: uint16(h), Cols: uint16(w)})
	if err != nil {
		t.Skip("no pseudo-terminal here: ", err)
	}
	c.tty = tty
	kill := time.AfterFunc(20*time.Second, func() { _ = c.cmd.Process.Kill() })
	t.Cleanup(func() {
		kill.Stop()
		_ = c.cmd.Process.Kill()
		_ = tty.Close()
		<-c.done
	})
	go func() { _, _ = io.Copy(io.Discard, c.em) }() // replies to queries, if there were any, are not sent
	go func() {
		defer close(c.done)
		buf := make([]byte, 4096)
		for {
			n, err := tty.Read(buf)
			c.mu.Lock()
			c.raw.Write(buf[:n])
			_, _ = c.em.Write(buf[:n])
			c.mu.Unlock()
			if err != nil {
				return
			}
		}
	}()
	return c
}

func (c *terminal) send(keys string) {
	c.t.Helper()
	if _, err := c.tty.WriteString(keys); err != nil {
		c.t.Fatal(err)
	}
}

// wait waits until the screen says something.
func (c *terminal) wait(want string) string {
	c.t.Helper()
	for end := time.Now().Add(10 * time.Second); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
		if s := c.screen(); strings.Contains(strings.Join(strings.Fields(s), " "), want) {
			return s
		}
	}
	c.t.Fatalf("the screen never says %q:\n%s", want, c.screen())
	return ""
}

func (c *terminal) screen() string {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.em.String()
}

func (c *terminal) output() string {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.raw.String()
}

func (c *terminal) exit() int {
	err := c.cmd.Wait()
	if err == nil {
		return 0
	}
	return c.cmd.ProcessState.ExitCode()
}

// leftAsFound checks that the terminal was put back: the other screen left, the
// cursor shown.
func (c *terminal) leftAsFound() {
	c.t.Helper()
	time.Sleep(20 * time.Millisecond)
	out := c.output()
	for on, off := range map[string]string{"\x1b[?1049h": "\x1b[?1049l", "\x1b[?25l": "\x1b[?25h", "\x1b[?2004h": "\x1b[?2004l"} {
		if strings.LastIndex(out, on) > strings.LastIndex(out, off) {
			c.t.Errorf("%q was not taken back by %q", on, off)
		}
	}
}

// From an empty folder through a resize and a kill in mid-sweep to coming back;
// nothing is asked of the terminal, and it is left as it was found.
func TestInATerminal(t *testing.T) {
	log := filepath.Join(t.TempDir(), "log")
	start := time.Now()
	c := startChild(t, "plain", log, 80, 24)
	c.wait("What do you call this pod?")
	if os.Getenv("CI") == "" && !strings.Contains(c.output(), "\x1b[1") {
		t.Error("no style is sent to a terminal that has them")
	}
	if d := time.Since(start); d > 3*time.Second {
		t.Errorf("the first frame took %s", d)
	}
	c.send("left\r")
	c.wait("How many wires")
	c.send("4\r")
	c.wait("metal body")
	c.send("\r")
	c.wait("Which switches")
	c.send("dip, horn\r")
	c.wait("dip low* main")
	c.send("\r")
	c.wait("How are the leads held?")
	c.send("\r")
	c.wait("RED needle")
	c.send(" ")
	c.wait("taken: step 1 silent")
	c.send("\r")
	c.wait("taken: step 2 beep")
	if err := pty.Setsize(c.tty, &pty.Winsize{Rows: 20, Cols: 40}); err != nil {
		t.Fatal(err)
	}
	c.mu.Lock()
	c.em.Resize(40, 20)
	c.mu.Unlock()
	for end := time.Now().Add(5 * time.Second); strings.Contains(c.screen(), "RED needle") && time.Now().Before(end); {
		time.Sleep(5 * time.Millisecond)
	}
	c.wait("▶ 3")
	// The child is the first of its terminal: asleep, nobody could wake it.
	c.send("\x1a")
	c.wait("so it stays awake")
	for _, q := range []string{"\x1b]11", "\x1b]10", "\x1b[6n", "\x1b[c"} {
		if strings.Contains(c.output(), q) {
			t.Errorf("the terminal was asked %q", q)
		}
	}
	if err := c.cmd.Process.Signal(syscall.SIGKILL); err != nil {
		t.Fatal(err)
	}
	c.exit()
	if job, err := mapping.Fold(readLog(log)); err != nil || len(job.Pods["left"].Readings) != 2 {
		t.Fatalf("after the kill: %v", err)
	}
	back := startChild(t, "plain", log, 80, 24)
	back.wait("Welcome back: sitting 2, 2 readings kept")
	back.send("G")
	back.wait("RED needle")
	back.send("Q")
	if code := back.exit(); code != 0 {
		t.Errorf("left with exit code %d", code)
	}
	back.leftAsFound()
}

// A mistake in the program leaves the terminal usable, the readings kept and a
// trace behind.
func TestPanicLeavesTheTerminalUsable(t *testing.T) {
	log := filepath.Join(t.TempDir(), "log")
	pod := examplePod()
	f, err := os.Create(log)
	if err != nil {
		t.Fatal(err)
	}
	k := &fileKeeper{f: f}
	if _, err := k.Append(mapping.Entry{Pod: "left", Describe: &pod}); err != nil {
		t.Fatal(err)
	}
	c := startChild(t, "panic", log, 80, 24)
	c.wait("RED needle")
	c.send("0\r")
	if code := c.exit(); code == 0 {
		t.Error("a panic ended with exit code 0")
	}
	c.leftAsFound()
	if n := len(readLog(log)); n != 6 {
		t.Errorf("%d entries kept, want the pod, the sitting, the sweep and three readings", n)
	}
	trace, _ := os.ReadFile(log + ".crash")
	if !strings.Contains(string(trace), "a made-up mistake") || !strings.Contains(string(trace), "brain.go") {
		t.Errorf("the trace was not kept: %q", trace)
	}
}

// NO_COLOR: not one colour is sent, and all is still said.
func TestNoColour(t *testing.T) {
	log := filepath.Join(t.TempDir(), "log")
	c := startChild(t, "plain", log, 80, 24, "NO_COLOR=1")
	c.wait("What do you call this pod?")
	c.send("\x03")
	c.exit()
	if out := c.output(); strings.Contains(out, "\x1b[1m") || strings.Contains(out, "\x1b[3") || strings.Contains(out, "\x1b[4") {
		t.Errorf("styles were sent: %q", out)
	}
}
