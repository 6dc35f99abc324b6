package main

import (
	"bytes"
	"context"
	"errors"
	"strings"
	"testing"
)

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("no space left on device") }

// What cannot be printed is no success, whoever prints it.
func TestHelpOntoAFullDisk(t *testing.T) {
	for _, args := range []string{"--help", "help", "help plan check", "plan --help", "--version", "completion bash", "man", "jobs", "plan words"} {
		var stderr bytes.Buffer
		code := run(context.Background(), testWorld(strings.NewReader(""), fullDisk{}, &stderr), strings.Fields(args))
		if code != exitFailed || !strings.HasPrefix(stderr.String(), "bellout: writing standard output: no space left on device\nhint: ") {
			t.Errorf("%s: exit code %d, %q", args, code, stderr.String())
		}
	}
}
