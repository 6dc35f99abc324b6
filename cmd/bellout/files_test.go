package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// writes makes a draft of a text.
func writes(path, text string) draft {
	return draft{output{path: path, force: true}, func(to io.Writer) error {
		_, err := io.WriteString(to, text)
		return err
	}}
}

// inFolder lists what stands in a folder, with what it holds.
func inFolder(t *testing.T, dir string) string {
	t.Helper()
	files, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, f := range files {
		text, err := os.ReadFile(filepath.Join(dir, f.Name()))
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, fmt.Sprintf("%s=%s", f.Name(), text))
	}
	return strings.Join(out, " ")
}

func TestWriteAll(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	var screen bytes.Buffer
	w := testWorld(nil, &screen, nil)
	files := []draft{writes(at("a"), "1"), writes("-", "shown"), writes(at("b"), "2")}
	if wrote, err := writeAll(w, files); err != nil || len(wrote) != 3 {
		t.Fatal(wrote, err)
	}
	if got := inFolder(t, dir); got != "a=1 b=2" || screen.String() != "shown" {
		t.Fatalf("%s, on the screen %q", got, screen.String())
	}

	fails := errors.New("no page")
	for name, last := range map[string]draft{
		"cannot be made":  {output{path: at("c"), force: true}, func(io.Writer) error { return fails }},
		"has no folder":   writes(at("none/c"), "3"),
		"is a folder":     writes(dir, "3"),
		"is a job's name": writes(at("c.bellout"), "3"),
	} {
		wrote, err := writeAll(w, []draft{writes(at("a"), "9"), last, writes(at("d"), "4")})
		if err == nil || len(wrote) > 0 {
			t.Errorf("the second %s: wrote %q, %v", name, wrote, err)
		}
		if strings.Contains(fmt.Sprint(err), ".bellout-") {
			t.Errorf("the second %s: a temporary name is told: %v", name, err)
		}
		if got := inFolder(t, dir); got != "a=1 b=2" {
			t.Errorf("the second %s: the folder now holds %s", name, got)
		}
	}
}

// A page may take long to make and be stopped: nothing stands in the folder
// until then.
func TestNothingStandsBesideAPageThatIsBeingMade(t *testing.T) {
	dir := t.TempDir()
	to := output{path: filepath.Join(dir, "page.txt")}
	err := to.write(nil, func(to io.Writer) error {
		if got := inFolder(t, dir); got != "" {
			t.Errorf("the folder holds %s", got)
		}
		return nil
	})
	if got := inFolder(t, dir); err != nil || got != "page.txt=" {
		t.Errorf("%s, %v", got, err)
	}
}
