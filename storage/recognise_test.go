package storage

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

func TestLooksLike(t *testing.T) {
	path := filepath.Join(t.TempDir(), "readings.txt")
	s, err := Create(path, "twin")
	if err != nil {
		t.Fatal(err)
	}
	entries, err := s.Entries()
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	for _, p := range []string{path, backupPath(path), logPath(path)} {
		b, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		if !LooksLikeJob(b) || LooksLikeArchive(b) {
			t.Errorf("%s is not known for a job's", p)
		}
	}
	b, _ := os.ReadFile(path)
	clear(b[:os.Getpagesize()])
	if !LooksLikeJob(b) {
		t.Error("a job with its first page gone is not known for one")
	}
	var archive bytes.Buffer
	if err := WriteArchive(&archive, entries); err != nil {
		t.Fatal(err)
	}
	for _, mark := range []string{"", "\ufeff"} {
		if b := append([]byte(mark), archive.Bytes()...); !LooksLikeArchive(b) || LooksLikeJob(b) {
			t.Errorf("an archive is not known behind %q", mark)
		}
	}
	for _, other := range []string{"", "notes\n", "bellout is a program\n"} {
		if LooksLikeJob([]byte(other)) || LooksLikeArchive([]byte(other)) {
			t.Errorf("%q is taken for ours", other)
		}
	}
}
