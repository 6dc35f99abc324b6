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
		readAgain(t, path, sim.pod)
	}
	entries, err := storage.Read(path)
	if err != nil {
		t.Fatal(err)
	}
	to := output{path: archive, force: true, makes: archiveFile}
	if err := to.write(nil, func(to io.Writer) error { return storage.WriteArchive(to, entries) }); err != nil {
		t.Fatal(err)
	}
}

// readAgain is a second look out of turn, as a careful builder takes it before
// the cut: every pair of ends clipped once more, and every lever worked. It
// also keeps the example from hanging on what the planner of the day asks.
func readAgain(t *testing.T, path string, f *fixture.Fixture) {
	t.Helper()
	s, err := storage.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	key := mapping.PodKey(f.Pod.Name)
	var all []mapping.Setting
	settings(f.Pod, func(at mapping.Setting) bool {
		if held := heldIn(f.Pod, at); held <= 1 {
			all = append(all, at)
		}
		return true
	})
	for i, a := range f.Pod.Ends {
		for _, b := range f.Pod.Ends[:i] {
			sweep := mapping.Sweep{Red: []mapping.EndID{a.ID}, Black: []mapping.EndID{b.ID}, Why: mapping.Why{Reason: mapping.Asked}}
			joins := 0
			for _, at := range all {
				if f.Joined(at, a.ID, b.ID) {
					joins++
				}
			}
			for _, at := range all {
				// Joined pairs are followed through every setting; the others
				// are looked at with one lever moved.
				if joins > 0 && joins < len(all) || movedIn(f.Pod, at) <= 1 {
					sweep.Steps = append(sweep.Steps, at)
				}
			}
			kept, err := s.Append(mapping.Entry{Pod: key, Ask: &mapping.Ask{Sweep: sweep}})
			if err != nil {
				t.Fatal(err)
			}
			var entries []mapping.Entry
			for step, at := range sweep.Steps {
				entries = append(entries, mapping.Entry{Pod: key, Reading: &mapping.Reading{
					Session: 1, Sweep: kept[0].Ask.Sweep.ID, Step: step, Red: sweep.Red, Black: sweep.Black, Setting: at,
					Outcome: f.Read(sweep.Red, sweep.Black, at),
				}})
			}
			if _, err := s.Append(entries...); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

func heldIn(p mapping.Pod, at mapping.Setting) (n int) {
	for _, sw := range p.Switches {
		if sw.Momentary && at.At(sw) != sw.Rest {
			n++
		}
	}
	return n
}

func movedIn(p mapping.Pod, at mapping.Setting) (n int) {
	for _, sw := range p.Switches {
		if at.At(sw) != sw.Rest {
			n++
		}
	}
	return n
}
