package sheet

import (
	"os"
	"path/filepath"
	"testing"

	"bellout/mapping/plan"
	"bellout/mapping/sheet/ink"
)

const exampleDir = "../../testdata/example"

// heron is the example job's plan with all that is worked out of it.
func heron(t testing.TB) Input {
	t.Helper()
	open := func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(exampleDir, name)) }
	data, err := open("plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Read("plan.toml", data, open)
	if err != nil {
		t.Fatal(err)
	}
	return Gather(p, nil)
}

func checkPage(t *testing.T, n int, p ink.Page) {
	t.Helper()
	for _, m := range p.Marks {
		switch m := m.(type) {
		case ink.Text:
			b := m.Box()
			if b.X < 20 || b.X+b.W > p.W-20 || b.Y < 20 || b.Y+b.H > p.H-8 {
				t.Errorf("page %d: %q leaves the margins", n, m.S)
			}
			if m.Size < SmallestText {
				t.Errorf("page %d: %q is %.1f pt high", n, m.S, m.Size)
			}
		case ink.Rect:
			if m.X < 20 || m.X+m.W > p.W-20 || m.Y < 20 || m.Y+m.H > p.H-20 {
				t.Errorf("page %d: a box leaves the margins: %+v", n, m)
			}
		}
	}
}
