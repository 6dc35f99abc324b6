//go:build unix

package storage

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

const nobody = 65534

// childUnprivileged lays root's powers down, since root may write anywhere,
// and tries what a builder without the right to write would try.
func childUnprivileged(dir string) {
	if os.Getuid() == 0 {
		if err := syscall.Setuid(nobody); err != nil {
			fmt.Println("skip", err)
			return
		}
	}
	say := func(what string, err error) {
		if err == nil {
			fmt.Printf("%s\tok\n", what)
		} else {
			fmt.Printf("%s\t%s\t%v\n", what, kindName(err), err)
		}
	}
	_, err := Create(filepath.Join(dir, "shut", "new"+Extension), "new")
	say("create", err)
	_, err = Create(filepath.Join(dir, "shut", "sub", "new"+Extension), "new")
	say("create below", err)
	_, err = Open(filepath.Join(dir, "open", "fixed"+Extension))
	say("open fixed", err)
	_, err = Read(filepath.Join(dir, "open", "fixed"+Extension))
	say("read fixed", err)
	s, err := Open(filepath.Join(dir, "shut", "old"+Extension))
	say("open in shut", err)
	if err == nil {
		_, err = s.Append(aReading(0))
		say("append in shut", err)
		say("close in shut", s.Close())
	}
	_, err = Open(filepath.Join(dir, "open", "secret"+Extension))
	say("open secret", err)
	jobs, err := ListJobs(filepath.Join(dir, "open"))
	say("list", err)
	for _, j := range jobs {
		fmt.Printf("%s is\t%v\n", filepath.Base(j.Path), j.State)
	}
}

func TestReadOnly(t *testing.T) {
	dir := t.TempDir()
	shut, free := filepath.Join(dir, "shut"), filepath.Join(dir, "open")
	job := readBytes(t, newJob(t, 2))
	for _, d := range []string{shut, free} {
		if err := os.Mkdir(d, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	old := writeBytes(t, filepath.Join(shut, "old"+Extension), job)
	fixed := writeBytes(t, filepath.Join(free, "fixed"+Extension), job)
	secret := writeBytes(t, filepath.Join(free, "secret"+Extension), job)
	for p, mode := range map[string]os.FileMode{
		filepath.Dir(dir): 0o755, dir: 0o755, free: 0o777, old: 0o666, fixed: 0o444, secret: 0, shut: 0o555,
	} {
		if err := os.Chmod(p, mode); err != nil {
			t.Fatal(err)
		}
	}
	t.Cleanup(func() { _ = os.Chmod(shut, 0o755) })
	out, err := child(t, "unprivileged", dir).CombinedOutput()
	if strings.HasPrefix(string(out), "skip") {
		t.Skipf("root, and it cannot be laid down: %s", out)
	}
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	got := string(out)
	for _, want := range []string{
		"create\tread-only\t", "create below\tread-only\t", "open fixed\tread-only\t", "read fixed\tok\n",
		"open in shut\tok\n", "append in shut\tok\n", "close in shut\tread-only\t", "open secret\tread-only\t",
		"fixed.bellout is\tready\n", "secret.bellout is\tnot yours to read\n",
	} {
		if !strings.Contains("\n"+got, "\n"+want) {
			t.Errorf("lacks %q", want)
		}
	}
	t.Log(got)
	if n := len(must(Read(old))(t)); n != 5 {
		t.Errorf("%d entries in the job whose folder is shut, want 5", n)
	}
}

// TestPathThroughFile needs no rights: a folder that is a file.
func TestPathThroughFile(t *testing.T) {
	file := writeBytes(t, filepath.Join(t.TempDir(), "file"), []byte("x"))
	_, err := Create(filepath.Join(file, "job"+Extension), "x")
	if kindName(err) != "read-only" {
		t.Fatal(err)
	}
	_, err = Open(filepath.Join(file, "job"+Extension))
	wantKind(t, err, ErrMissing, filepath.Join(file, "job"+Extension))
}
