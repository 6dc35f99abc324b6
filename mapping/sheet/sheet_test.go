package sheet

import (
	"os"
	"path/filepath"
	"testing"

	"bellout/mapping/plan"
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
