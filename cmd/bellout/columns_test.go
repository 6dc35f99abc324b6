//go:build linux

package main

import (
	"strings"
	"testing"

	"bellout/storage"
)

// On a narrow terminal the list of jobs and the work in lines break at words.
func TestNarrowLinesBreakAtWords(t *testing.T) {
	dir := t.TempDir()
	s := sitAt(t, 40, "dumb", dir, "new", "the old twin", "--plain")
	for _, line := range []struct{ want, says string }{
		{"What do you call this pod?", "left"}, {"How many wires", "4"}, {"metal body", ""},
		{"Which switches", ""}, {"How are the leads held?", ""},
	} {
		s.see(line.want)
		s.keys(line.says + "\r")
	}
	s.see("Step 1 of")
	held, err := storage.Read(storage.PathFor(dir, "the old twin"))
	if err != nil || len(held) == 0 {
		t.Fatal(err)
	}
	list := sitAt(t, 40, "dumb", dir)
	list.see("leaves:")
	for _, at := range []*seat{s, list} {
		for _, l := range at.printed() {
			if len([]rune(l)) > 40 {
				t.Errorf("%d columns: %q", len([]rune(l)), l)
			}
		}
	}
	if got := strings.Join(strings.Fields(list.screen()), " "); !strings.Contains(got, "open elsewhere") {
		t.Errorf("the list:\n%s", list.screen())
	}
}

// printed is what the program has written, line by line.
func (s *seat) printed() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return strings.Split(strings.ReplaceAll(s.raw.String(), "\r", ""), "\n")
}
