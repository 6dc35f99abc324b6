package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bellout/inference"
	"bellout/mapping"
	"bellout/tui"
)

// exporter is a job of two pods whose names come to the same in a file's name,
// in a folder of its own.
func exporter(t *testing.T) (*sheets, *mapping.Job) {
	t.Helper()
	t.Chdir(t.TempDir())
	kept := &memoryJob{}
	for _, name := range []string{"left!", "left?"} {
		pod := mapping.Pod{Name: name, Ends: []mapping.End{{ID: "1"}, {ID: "2"}}}
		if _, err := kept.Append(mapping.Entry{Pod: mapping.PodKey(name), Describe: &pod}); err != nil {
			t.Fatal(err)
		}
	}
	entries, err := kept.Entries()
	if err != nil {
		t.Fatal(err)
	}
	job, err := mapping.Fold(entries)
	if err != nil {
		t.Fatal(err)
	}
	return &sheets{path: "twin.bellout", log: kept.Entries}, job
}

func export(t *testing.T, s *sheets, job *mapping.Job, format string, pod mapping.PodKey) (string, error) {
	t.Helper()
	work := job.Pods[pod]
	return s.Export(format, pod, work, inference.Infer(work.Pod, nil))
}

func TestExportKeepsPodsApart(t *testing.T) {
	s, job := exporter(t)
	seen := map[string]bool{}
	for range 2 {
		for _, key := range job.Order {
			for _, format := range []string{"txt", tui.Labels} {
				path, err := export(t, s, job, format, key)
				if err != nil {
					t.Fatal(err)
				}
				seen[filepath.Base(path)] = true
			}
		}
	}
	if len(seen) != 4 {
		t.Errorf("two pods in two forms went into %v", seen)
	}
}

func TestExportReplacesOnlyPaper(t *testing.T) {
	s, job := exporter(t)
	const notes = "these are only notes\n"
	if err := os.WriteFile("twin-left.txt", []byte(notes), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile("else.html", []byte(notes), 0o600); err != nil {
		t.Fatal(err)
	}
	formats := []string{"txt"}
	if os.Symlink("else.html", "twin-left.html") == nil {
		formats = append(formats, "html")
	}
	for _, format := range formats {
		_, err := export(t, s, job, format, "left!")
		if err == nil || !strings.HasSuffix(err.Error(), ": move it away, then export again") {
			t.Errorf("%s: %v", format, err)
		}
	}
	for _, path := range []string{"twin-left.txt", "else.html"} {
		if text, err := os.ReadFile(path); err != nil || string(text) != notes {
			t.Errorf("%s now holds %q (%v)", path, text, err)
		}
	}
}
