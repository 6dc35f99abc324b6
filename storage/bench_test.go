package storage

import (
	"os"
	"path/filepath"
	"testing"

	"bellout/mapping"
)

// BenchmarkAppend is one reading kept, which is what the builder waits for at
// each key. Compare with BenchmarkSync, the least that a disk takes.
func BenchmarkAppend(b *testing.B) {
	s := must(Create(filepath.Join(b.TempDir(), "job"+Extension), "bench"))(b)
	defer s.Close()
	must(s.Append(aPod()))(b)
	for i := range 300 {
		must(s.Append(aReading(i)))(b)
	}
	for b.Loop() {
		must(s.Append(aReading(1)))(b)
	}
}

// BenchmarkSync writes the bytes of one reading to a bare file and syncs it.
func BenchmarkSync(b *testing.B) {
	f := must(os.Create(filepath.Join(b.TempDir(), "bare")))(b)
	defer f.Close()
	line := lineOf(must(encodePayload(number(aReading(1), 1)))(b))
	for b.Loop() {
		must(f.Write(line))(b)
		if err := f.Sync(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkOpen opens and closes a job of 500 readings.
func BenchmarkOpen(b *testing.B) {
	path := filepath.Join(b.TempDir(), "job"+Extension)
	s := must(Create(path, "bench"))(b)
	must(s.Append(aPod()))(b)
	for range 10 {
		batch := make([]mapping.Entry, 0, 50)
		for i := range 50 {
			batch = append(batch, aReading(i))
		}
		must(s.Append(batch...))(b)
	}
	if err := s.Close(); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if err := must(Open(path))(b).Close(); err != nil {
			b.Fatal(err)
		}
	}
}
