package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bellout/storage"
)

// A job that cannot be closed as it should fails the command, whichever it is, and
// says that the job is whole.
func TestTroubleInClosingAJob(t *testing.T) {
	const whole = "bellout: the job is whole, only its backup was not made: "
	for _, c := range []struct {
		args  string
		input string
		code  exitCode
		first string // what is told before it
	}{
		{"rig --job JOB", "", exitInterrupted, "bellout: stopped before the map was done; kept: 0 readings\n"},
		{"open JOB --plain", "quit\n", exitFailed, ""},
		{"plan proof ../../testdata/example/plan.toml --part loom --job JOB --ask", "b\nq\n", exitInterrupted, "bellout: stopped before the last check; what was read is kept\n"},
		{"plan proof ../../testdata/example/plan.toml --job JOB --ask", "n\n" + strings.Repeat("\n", 300), exitFailed, ""},
	} {
		path := filepath.Join(t.TempDir(), "left.bellout")
		pod := run(context.Background(), testWorld(strings.NewReader(""), io.Discard, io.Discard), []string{"rig", "--pod", "../../testdata/example/left.json", "--job", path})
		if pod != exitInterrupted {
			t.Fatalf("the job was not made: %d", pod)
		}
		if err := os.Remove(path + ".bak"); err != nil {
			t.Fatal(err)
		}
		if err := os.MkdirAll(filepath.Join(path+".bak", "in the way"), 0o700); err != nil {
			t.Fatal(err)
		}
		var stderr bytes.Buffer
		code := run(context.Background(), testWorld(strings.NewReader(c.input), io.Discard, &stderr), strings.Fields(strings.ReplaceAll(c.args, "JOB", path)))
		if code != c.code || !strings.HasPrefix(stderr.String(), c.first) || !strings.Contains(stderr.String(), whole) {
			t.Errorf("%s: exit code %d, %s", c.args, code, stderr.String())
		}
	}
}

// Trouble with a job is told without the name of the temporary file that it came up
// with.
func TestStoreTroubleWithoutTemporaryNames(t *testing.T) {
	full := errors.New("no space left on device")
	for _, inner := range []error{
		&fs.PathError{Op: "write", Path: "/tmp/left.bellout.123.tmp", Err: full},
		&os.LinkError{Op: "rename", Old: "/tmp/left.bellout.123.tmp", New: "left.bellout", Err: full},
	} {
		p := explain(&storage.Error{Kind: storage.ErrFull, Path: "left.bellout", Cause: inner})
		if strings.Contains(p.text, "tmp") || !strings.HasSuffix(p.text, "(no space left on device)") {
			t.Error(p.text)
		}
	}
}
