package main

import (
	"bytes"
	"context"
	"io"
	"path/filepath"
	"testing"
)

// A rig that is stopped says what became of its readings: without a job none is
// kept, and there is no job to go on from.
func TestStoppedRigSaysWhatIsKept(t *testing.T) {
	job := filepath.Join(t.TempDir(), "left.bellout")
	for _, c := range []struct {
		args []string
		want string
	}{
		{nil, "bellout: stopped before the map was done, after 0 readings\nhint: with --job FILE they would be kept\n"},
		{[]string{"--job", job}, "bellout: stopped before the map was done; kept: 0 readings\nhint: bellout rig --job " + job + " goes on from there\n"},
	} {
		ctx, cancel := context.WithCancel(context.Background())
		cancel()
		silent, never := io.Pipe()
		var stderr bytes.Buffer
		code := run(ctx, testWorld(silent, io.Discard, &stderr), append([]string{"rig", "--pod", "../../testdata/example/left.json"}, c.args...))
		never.Close()
		if code != exitInterrupted || stderr.String() != c.want {
			t.Errorf("%v: exit code %d, %s", c.args, code, stderr.String())
		}
	}
}
