package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"testing"

	"bellout/inference"
	"bellout/mapping"
	"bellout/mapping/fixture"
	"bellout/mapping/plan"
	"bellout/storage"
)

const exampleFolder = "../../testdata/example"

var examplePods = []string{"left", "right", "barrel"}

func examplePod(t *testing.T, name string) *fixture.Fixture {
	t.Helper()
	s, err := newSimPod(filepath.Join(exampleFolder, name+".pod"), mapping.BunchLeads)
	if err != nil {
		t.Fatal(err)
	}
	return s.pod
}

// TestExampleReadings holds the readings of the example job to the pods that
// they were taken of, and to the maps that its plan is drawn from. With
// BELLOUT_RECORD set it takes them anew, through the rig.
func TestExampleReadings(t *testing.T) {
	archive := filepath.Join(exampleFolder, "readings.txt")
	if os.Getenv("BELLOUT_RECORD") != "" {
		recordExample(t, archive)
	}
	text, err := os.ReadFile(archive)
	if err != nil {
		t.Fatal(err)
	}
	entries, err := storage.ReadArchive(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	job, err := mapping.Fold(entries)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range examplePods {
		f := examplePod(t, name)
		work := job.Pods[mapping.PodKey(f.Pod.Name)]
		if work == nil {
			t.Errorf("the job has no pod %s", f.Pod.Name)
			continue
		}
		drawn, err := os.ReadFile(filepath.Join(exampleFolder, name+".map.json"))
		if err != nil {
			t.Fatal(err)
		}
		fromPlan, err := plan.ReadMap(drawn, f.Pod)
		if err != nil {
			t.Fatal(err)
		}
		r := inference.Infer(work.Pod, work.Live())
		if len(r.Map.Unresolved) > 0 {
			t.Errorf("%s: unresolved %v", name, r.Map.Unresolved)
		}
		settings(f.Pod, func(s mapping.Setting) bool {
			for i, a := range f.Pod.Ends {
				for _, b := range f.Pod.Ends[:i] {
					want := f.Joined(s, a.ID, b.ID)
					if r.Map.Joined(work.Pod, s, a.ID, b.ID) != want || fromPlan.Joined(f.Pod, s, a.ID, b.ID) != want {
						t.Errorf("%s with %v: %s-%s should be %v by readings and by the plan's map", name, s, a.ID, b.ID, want)
						return false
					}
				}
			}
			return true
		})
	}
}

// recordExample reads the pods of the example through the rig.
func recordExample(t *testing.T, archive string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "heron.bellout")
	s, err := storage.Create(path, "Heron")
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	for _, name := range examplePods {
		pod := filepath.Join(exampleFolder, name+".pod")
		sim, err := newSimPod(pod, mapping.BunchLeads)
		if err != nil {
			t.Fatal(err)
		}
		if code := playRig(t, sim, "--pod", pod, "--leads", "bunch", "--job", path); code != exitOK {
			t.Fatalf("%s: exit code %d", name, code)
		}
	}
	entries, err := storage.Read(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := writeFile(archive, func(to io.Writer) error { return storage.WriteArchive(to, entries) }); err != nil {
		t.Fatal(err)
	}
}
