package tui

import (
	"errors"
	"io"
	"strings"
	"testing"
)

func TestLinesOfAnyLength(t *testing.T) {
	long := strings.Repeat("7", 3<<20)
	most := strings.Repeat("x", longestLine-1)
	r := newLineReader(strings.NewReader("one\n" + long + "\n\n" + most + "\nlast"))
	for i, want := range []string{"one\n", "", "\n", most + "\n", "last"} {
		got, err := r.next()
		if i == 1 && !errors.Is(err, errLongLine) || i != 1 && err != nil || got != want {
			t.Errorf("line %d: %.10q, %v", i+1, got, err)
		}
	}
	if _, err := r.next(); !errors.Is(err, io.EOF) {
		t.Errorf("behind the last line: %v", err)
	}
	if _, err := newLineReader(strings.NewReader(long)).next(); !errors.Is(err, errLongLine) {
		t.Errorf("a long line that is not ended: %v", err)
	}
}

// A line that is too long is one sentence, and the work goes on.
func TestPlainGoesOnAfterALongLine(t *testing.T) {
	out, keep := talk(t, nil, strings.Repeat("7", 3<<20)+"\nleft\n3\nn\ndip low* main\n\n1\nquit\n", nil)
	if !strings.Contains(out, "that line is longer than 64 kB") {
		t.Error("it does not say so")
	}
	if len(keep.log) == 0 || !strings.Contains(out, "Red on 2. Black on 1.") {
		t.Errorf("it does not go on:\n%s", out)
	}
}
