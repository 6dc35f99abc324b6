package plan

import (
	"os"
	"path/filepath"
	"testing"
)

const exampleDir = "../../testdata/example"

func openExample(name string) ([]byte, error) { return os.ReadFile(filepath.Join(exampleDir, name)) }

// heron is the sound plan of the example job.
func heron(t testing.TB) Plan {
	t.Helper()
	data, err := openExample("plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	p, err := Read("plan.toml", data, openExample)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestExampleProve(t *testing.T) {
	p := heron(t)
	for _, f := range prove(compile(&p, nil)) {
		t.Errorf("%+v", f)
	}
}
