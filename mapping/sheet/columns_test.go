package sheet

import (
	"regexp"
	"strings"
	"testing"
)

// TestNumbersStayWhole: in the text form no size, wire, colour or point is
// broken over two lines; half of 0.75 is another number.
func TestNumbersStayWhole(t *testing.T) {
	in := heron(t)
	text := string(Text(in))
	_, cut, ok := strings.Cut(text, "== Cut list")
	cut, _, ok2 := strings.Cut(cut, "\n== ")
	if !ok || !ok2 {
		t.Fatal("no cut list")
	}
	for _, w := range in.Plan.Wires {
		line := regexp.MustCompile(`(?m)^\[ \] +` + w.Name + ` +(\S.*)$`).FindStringSubmatch(cut)
		if line == nil {
			t.Errorf("%s: not whole at the head of a line", w.Name)
			continue
		}
		for _, cell := range []string{size(w.MM2), code(w), number(w.Length)} {
			if !regexp.MustCompile(` ` + regexp.QuoteMeta(cell) + `\.?0* `).MatchString(line[1]) {
				t.Errorf("%s: %q is not whole in %q", w.Name, cell, line[1])
			}
		}
	}
	for _, l := range strings.Split(text, "\n") {
		if regexp.MustCompile(`^[ ,;.]*$`).MatchString(l) && strings.TrimSpace(l) != "" {
			t.Errorf("a line of nothing but %q", l)
		}
	}
}

// TestTightColumns: a column of names far too long gives way before a number.
func TestTightColumns(t *testing.T) {
	long := strings.Repeat("extraordinary", 9)
	tb := table{head: []string{"", "Wire", "A", "B", "mm2", "C", "D", "E"}}
	tb.rows = append(tb.rows, []string{tick, "w136", long, long, "0.75", "GN/WH", long, long})
	all := strings.Join(textTable(tb), "\n")
	for _, cell := range []string{"w136", "0.75", "GN/WH", tick} {
		if !strings.Contains(all, cell) {
			t.Errorf("%q was broken:\n%s", cell, all)
		}
	}
	for _, l := range strings.Split(all, "\n") {
		if len(l) > textWidth {
			t.Errorf("%d columns: %q", len(l), l)
		}
	}
}
