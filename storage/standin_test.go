package storage

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bellout/mapping"
)

// spoiled is a job of these entries of which the record under one number can
// be read nowhere.
func spoiled(t *testing.T, seq uint64, entries ...mapping.Entry) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "job"+Extension)
	s := must(Create(path, "old twin"))(t)
	must(s.Append(entries...))(t)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	var rec []byte
	for _, e := range must(Read(path))(t) {
		if e.Seq == seq {
			rec = must(encodePayload(e))(t)
		}
	}
	b := readBytes(t, path)
	if !bytes.Contains(b, rec) {
		t.Fatal("the record is not in one piece")
	}
	bad := bytes.Clone(rec)
	bad[len(bad)-2] ^= 1
	writeBytes(t, path, bytes.ReplaceAll(b, rec, bad))
	without(t, path)
	return path
}

func rebuilt(t *testing.T, path string) (Report, []mapping.Entry, string) {
	t.Helper()
	to := filepath.Join(t.TempDir(), "new"+Extension)
	rep := must(Rebuild(path, to))(t)
	return rep, must(Read(to))(t), to
}

func manyReadings(n int) (out []mapping.Entry) {
	for i := range n {
		e := aReading(i)
		e.Reading.Setting = mapping.Setting{"dip": "low", "horn": "out", "key": "on"}
		switch {
		case i%5 == 1:
			e.Reading.Setting["dip"] = "high"
		case i%5 == 2:
			e.Reading.Setting["horn"] = "in"
		}
		e.Reading.Red = []mapping.EndID{mapping.EndID(fmt.Sprint(1 + 9*(i%2)))}
		out = append(out, e)
	}
	return out
}

// TestRebuildMakesUpADescription: one record that cannot be read, and no
// reading goes with it.
func TestRebuildMakesUpADescription(t *testing.T) {
	path := spoiled(t, 2, append([]mapping.Entry{aPod()}, manyReadings(300)...)...)
	rep, got, _ := rebuilt(t, path)
	if rep.Orphans != nil || rep.OrphansIn != "" || !slices.Equal(rep.Missing, []uint64{2}) || rep.FromFile != 301 || rep.Entries != 302 {
		t.Fatalf("%+v", rep)
	}
	if d := cmp.Diff([]StandIn{{Pod: leftPod, LeftOut: []mapping.SwitchID{"key"}}}, rep.StandIns); d != "" {
		t.Error(d)
	}
	w := must(mapping.Fold(got))(t).Pods[leftPod]
	want := mapping.Pod{
		Name: "left",
		Ends: []mapping.End{{ID: "1"}, {ID: "2"}, {ID: "10"}, {ID: "BODY", Kind: mapping.Body}},
		Switches: []mapping.Switch{
			{Name: "dip", Positions: []mapping.PositionID{"low", "high"}, Rest: "low"},
			{Name: "horn", Positions: []mapping.PositionID{"out", "in"}, Rest: "out"},
		},
	}
	if d := cmp.Diff(want, w.Pod); d != "" || len(w.Readings) != 300 {
		t.Errorf("%d readings, %s", len(w.Readings), d)
	}
}

// TestRebuildTakesTheLaterDescription: the builder's own word, though it came
// later, is better than anything made up.
func TestRebuildTakesTheLaterDescription(t *testing.T) {
	later := aPod()
	p := *later.Describe
	p.Ends = append(p.Ends, mapping.End{ID: "9"})
	later.Describe = &p
	path := spoiled(t, 2, aPod(), aReading(0), later, aReading(1))
	rep, got, _ := rebuilt(t, path)
	if d := cmp.Diff([]StandIn{{Pod: leftPod, Later: true}}, rep.StandIns); d != "" || rep.Orphans != nil || len(got) != 5 {
		t.Fatalf("%+v %s", rep, d)
	}
	if d := cmp.Diff(&p, got[1].Describe); d != "" {
		t.Error(d)
	}
}

// TestRebuildKeepsWhatItCannotPlace: of a single end no pod can be made, and
// still nothing is thrown away.
func TestRebuildKeepsWhatItCannotPlace(t *testing.T) {
	e := aReading(0)
	e.Reading.Black = []mapping.EndID{"1"}
	path := spoiled(t, 2, aPod(), e, mapping.Entry{Remark: &mapping.Remark{Text: "a dry day"}})
	rep, got, to := rebuilt(t, path)
	if len(got) != 2 || rep.StandIns != nil || !slices.Equal(rep.Orphans, []uint64{3}) || rep.OrphansIn != strings.TrimSuffix(to, Extension)+".left-out.archive.txt" {
		t.Fatalf("%d entries, %+v", len(got), rep)
	}
	f := must(os.Open(rep.OrphansIn))(t)
	defer f.Close()
	kept := must(ReadArchive(f))(t)
	if d := cmp.Diff([]mapping.Entry{number(e, 3)}, kept); d != "" {
		t.Error(d)
	}

	// A file that is there already is not replaced, and no job is made.
	again := filepath.Join(t.TempDir(), "again"+Extension)
	writeBytes(t, orphansPath(again), []byte("mine"))
	_, err := Rebuild(path, again)
	wantKind(t, err, ErrExists, orphansPath(again))
	if string(readBytes(t, orphansPath(again))) != "mine" {
		t.Error("the file was replaced")
	}
	if _, err := os.Stat(again); err == nil {
		t.Error("a job was made all the same")
	}
}

// TestRebuildGoesOnBehindABadLine: a line of the log that cannot be read takes
// none of the others with it.
func TestRebuildGoesOnBehindABadLine(t *testing.T) {
	path := newJob(t, 20)
	want := must(Read(path))(t)
	log := readBytes(t, logPath(path))
	writeBytes(t, logPath(path), bytes.Replace(log, []byte("clip held"), []byte("clip hold"), 1))
	for _, p := range []string{path, backupPath(path)} {
		if err := os.Remove(p); err != nil {
			t.Fatal(err)
		}
	}
	rep, got, _ := rebuilt(t, path)
	if d := cmp.Diff(append(want[:2:2], want[3:]...), got); d != "" || rep.FromLog != len(want)-1 || !slices.Equal(rep.Missing, []uint64{3}) {
		t.Errorf("%+v %s", rep, d)
	}
}

// TestRebuildTellsOfALostAmendment: the end that was added is lost, and the
// readings on it are kept and told of.
func TestRebuildTellsOfALostAmendment(t *testing.T) {
	later, on9, half := aPod(), aReading(1), aReading(2)
	p := *later.Describe
	p.Ends = append(p.Ends, mapping.End{ID: "9"})
	later.Describe = &p
	on9.Reading.Red = []mapping.EndID{"9"}
	half.Reading.Setting = mapping.Setting{"dip": "half"}
	path := spoiled(t, 4, aPod(), aReading(0), later, on9, half)
	rep, got, _ := rebuilt(t, path)
	if d := cmp.Diff(map[mapping.PodKey]int{leftPod: 2}, rep.Unsaid); d != "" || len(got) != 5 || rep.Orphans != nil || rep.StandIns != nil {
		t.Errorf("%+v %s", rep, d)
	}
}
