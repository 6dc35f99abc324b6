package storage

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// tmpfs mounts a small disk, which root may do on most machines.
func tmpfs(t *testing.T, size string) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size="+size); err != nil {
		t.Skipf("no small disk can be mounted here: %v", err)
	}
	t.Cleanup(func() { _ = syscall.Unmount(dir, syscall.MNT_DETACH) })
	return dir
}

// TestFullDiskForReal fills a small disk to the last byte.
func TestFullDiskForReal(t *testing.T) {
	dir := tmpfs(t, "256k")
	path := filepath.Join(dir, "job"+Extension)
	ballast := must(Create(filepath.Join(dir, "a", "b", "c"), "x"))(t)
	if err := ballast.Close(); err != nil {
		t.Fatal(err)
	}
	s := must(Create(path, "x"))(t)
	must(s.Append(aPod()))(t)
	fillUp(t, s, path)
	want := must(s.Entries())(t)
	if err := s.Close(); kindName(err) != "full" {
		t.Fatalf("no word of the backup that was not made: %v", err)
	}
	_, err := Create(filepath.Join(dir, "other"+Extension), "y")
	wantKind(t, err, ErrFull, filepath.Join(dir, "other"+Extension))

	s = must(Open(path))(t) // still full
	if d := cmp.Diff(want, must(s.Entries())(t)); d != "" {
		t.Fatal(d)
	}
	if err := os.RemoveAll(filepath.Join(dir, "a")); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(logPath(path)); err != nil {
		t.Fatal(err)
	}
	if kept := must(s.Append(aReading(0)))(t); kept[0].Seq != uint64(len(want)+1) {
		t.Fatalf("went on with %d", kept[0].Seq)
	}
	_ = s.Close()
	if n := len(must(Read(path))(t)); n != len(want)+1 {
		t.Fatalf("%d entries, want %d", n, len(want)+1)
	}
}

// TestReadOnlyDisk: a disk that is mounted read-only, which stops root too.
func TestReadOnlyDisk(t *testing.T) {
	dir := tmpfs(t, "1m")
	path := writeBytes(t, filepath.Join(dir, "job"+Extension), readBytes(t, newJob(t, 2)))
	if err := syscall.Mount("", dir, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
		t.Skipf("the disk cannot be made read-only: %v", err)
	}
	_, err := Open(path)
	wantKind(t, err, ErrReadOnly, path)
	_, err = Create(filepath.Join(dir, "new"+Extension), "x")
	wantKind(t, err, ErrReadOnly, filepath.Join(dir, "new"+Extension))
	if n := len(must(Read(path))(t)); n != 4 {
		t.Fatalf("%d entries can be read", n)
	}
	if jobs := must(ListJobs(dir))(t); len(jobs) != 1 || jobs[0].State != JobReady {
		t.Fatalf("%+v", jobs)
	}
}
