package main

import (
	"bytes"
	"context"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

// TestLongWorkIsSeen: a terminal is told how far a command is that takes long, and
// nothing of it stays there; a file is told nothing, and the page is the same.
func TestLongWorkIsSeen(t *testing.T) {
	job := filepath.Join(exampleFolder, "readings.txt")
	pinout := func(watched bool) (page, told string) {
		var out, err bytes.Buffer
		w := testWorld(strings.NewReader(""), &out, &err)
		w.watched = watched
		clock := time.UnixMilli(0)
		w.now = func() time.Time { clock = clock.Add(quietFor / 3); return clock }
		if code := run(context.Background(), w, []string{"pinout", job, "--pod", "heron-barrel"}); code != exitOK {
			t.Fatalf("exit %d: %s", code, err.String())
		}
		return out.String(), err.String()
	}
	page, told := pinout(true)
	steps := regexp.MustCompile(`\r(\d+) of (\d+) readings taken in`).FindAllStringSubmatch(told, -1)
	if len(steps) < 2 || steps[0][1] == steps[len(steps)-1][1] {
		t.Errorf("a terminal is told %q, not how far the work is", told)
	}
	last := told[strings.LastIndex(told[:len(told)-1], "\r")+1:]
	if strings.TrimRight(last, " \r") != "" || len(last) < len("1 of 2 readings taken in") {
		t.Errorf("what was told stays on the terminal: %q", last)
	}
	same, told := pinout(false)
	if told != "" {
		t.Errorf("a file is told %q", told)
	}
	if page != same {
		t.Error("the page depends on who watches")
	}
}

// While the screens are drawn nothing else is written to the terminal.
func TestFirstPlanFromTheScreensIsMadeInSilence(t *testing.T) {
	_, _, entries, err := readJob(filepath.Join(exampleFolder, "readings.txt"))
	if err != nil {
		t.Fatal(err)
	}
	var out, told bytes.Buffer
	w := testWorld(strings.NewReader(""), &out, &told)
	w.watched = true
	clock := time.UnixMilli(0)
	w.now = func() time.Time { clock = clock.Add(quietFor); return clock }
	wrote, err := harnessFile{w, filepath.Join(t.TempDir(), "plan.toml")}.Make(entries)
	if err != nil || len(wrote) == 0 {
		t.Fatalf("%q, %v", wrote, err)
	}
	if out.Len()+told.Len() > 0 {
		t.Errorf("written across the screens: %q %q", out.String(), told.String())
	}
}
