package plan

import (
	"os"
	"path/filepath"
	"strings"
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

func TestExampleWork(t *testing.T) {
	w := Work(heron(t))
	for _, x := range w.Ways {
		t.Logf("%+v", x)
	}
	for _, x := range w.Loads {
		t.Logf("%s %s %.3fA %.3fV out %.3f back %.3f %.2f%% cold %.2f [%s] %v", x.Name, x.Way, x.Amps, x.Volts, x.Out, x.Back, x.Percent, x.ColdOhms, x.Setting, x.Path)
	}
	for _, x := range w.Contacts {
		t.Logf("%+v", x)
	}
	for _, x := range w.Wires {
		t.Logf("%+v", x)
	}
	t.Logf("%+v\n%+v", w.Main, w.Charging)
	for _, u := range Unplug(heron(t)) {
		t.Logf("%s %s dies %v beyond %v", u.Kind, u.Where, u.Dies, u.Beyond)
	}
}

func TestExampleCheck(t *testing.T) {
	for _, f := range Check(heron(t)) {
		t.Errorf("%s | %s | %s | %s", f.Kind, f.Where, f.Setting, f.Say)
	}
}

func TestExampleLists(t *testing.T) {
	p := heron(t)
	for _, s := range []string{"left indicators dead", "horn dead", "headlamp dim", "everything dead", "no spark", "brake light out", "starter dead", "oil lamp out"} {
		lines, err := Roadside(p, s)
		t.Logf("%s: %v\n%s", s, err, strings.Join(lines, "\n"))
	}
	for _, c := range ProofList(p) {
		t.Logf("%-18s %s | %s -> %s | %s | %s [%v %v]", c.ID, c.Do, c.Red, c.Black, c.Set, c.Expect, c.Min, c.Max)
	}
	for _, c := range FirstPower(p) {
		t.Logf("%d %s | %s | %s", c.Number, c.Do, c.Expect, c.Bad)
	}
}
