//go:build !windows

package main

import (
	"bytes"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/creack/pty"
)

// inTerminal runs bellout in a terminal that answers nothing, types keys at it,
// and gives what it wrote and how it ended. It is killed after ten seconds.
func inTerminal(t *testing.T, keys string, args ...string) (string, error) {
	t.Helper()
	c := exec.Command("bellout", args...)
	dir := t.TempDir()
	c.Dir = dir
	c.Env = append(os.Environ(), "TERM=xterm-256color", "BELLOUT_DIR="+filepath.Join(dir, "jobs"), "NO_COLOR=")
	f, err := pty.StartWithSize(c, &pty.Winsize{Rows: 24, Cols: 80})
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	kill := time.AfterFunc(10*time.Second, func() { _ = c.Process.Kill() })
	defer kill.Stop()
	read := make(chan string, 1)
	go func() {
		var b bytes.Buffer
		_, _ = io.Copy(&b, f) // ends with an error when the terminal closes
		read <- b.String()
	}()
	for _, k := range strings.SplitAfter(keys, "\x00") {
		// Between two keys the program gets time to draw, as with a person.
		time.Sleep(300 * time.Millisecond)
		_, _ = f.WriteString(strings.TrimSuffix(k, "\x00"))
	}
	err = c.Wait()
	return <-read, err
}

// TestNoQueryAtStart guards pitfall P1: a screen library that asks the terminal
// its colours while it is being loaded would do so for every command, wait
// seconds for an answer, and eat what is typed meanwhile.
func TestNoQueryAtStart(t *testing.T) {
	pod, err := filepath.Abs("../../testdata/pods/P01.pod")
	if err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{
		{"--version"},
		{"--help"},
		{"jobs"},
		{"wire", "--amps", "5", "--total-m", "3"},
		{"pod", "check", pod},
		{"completion", "bash"},
		{"no-such-command"},
	} {
		began := time.Now()
		out, _ := inTerminal(t, "", args...)
		if took := time.Since(began); took > 4*time.Second {
			t.Errorf("%v took %v", args, took)
		}
		if out == "" || strings.ContainsRune(out, '\x1b') {
			t.Errorf("%v wrote %.60q, which must be plain text", args, out)
		}
	}
}

// TestListInATerminal chooses from the list of jobs as a person would.
func TestListInATerminal(t *testing.T) {
	out, err := inTerminal(t, "\n")
	if err != nil || !strings.Contains(out, "a name for a new one") {
		t.Errorf("leaving at once: %v, %q", err, out)
	}
	out, err = inTerminal(t, "3\n")
	if exit, ok := err.(*exec.ExitError); !ok || exit.ExitCode() != int(exitInput) || !strings.Contains(out, "there is no job 3") {
		t.Errorf("a number that is not there: %v, %q", err, out)
	}
	began := time.Now()
	out, err = inTerminal(t, "\x03")
	if exit, ok := err.(*exec.ExitError); !ok || exit.ExitCode() != int(exitInterrupted) {
		t.Errorf("interrupted at the prompt: %v, %q", err, out)
	}
	if took := time.Since(began); took > grace {
		t.Errorf("an interrupt at the prompt took %v", took)
	}
}
