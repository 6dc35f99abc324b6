package plan

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestMistakesAreNamedWithTheirLine(t *testing.T) {
	good, err := openExample("plan.toml")
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "plan", "mistakes.txt"))
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for line := range strings.Lines(string(data)) {
		if strings.HasPrefix(line, "#") {
			continue
		}
		parts := strings.SplitN(strings.TrimSpace(line), " | ", 3)
		old, changed, say := parts[0], strings.ReplaceAll(parts[1], `\n`, "\n"), parts[2]
		at := strings.Index(string(good), old)
		if at < 0 {
			t.Errorf("%q is not in the example", old)
			continue
		}
		bad := string(good[:at]) + changed + string(good[at+len(old):])
		// the line of the last line put in
		want := 1 + strings.Count(string(good[:at]), "\n") + strings.Count(changed, "\n")
		p, err := Read("plan.toml", []byte(bad), openExample)
		var ms Mistakes
		if !errors.As(err, &ms) {
			t.Errorf("%q: no mistake is found (%v)", changed, err)
			continue
		}
		found, near := false, false
		for _, m := range ms {
			if strings.Contains(m.Say, say) {
				found = true
				// a table's header stands at most 12 lines over its keys
				near = near || m.Line == want || strings.Contains(say, "has no from") && m.Line <= want && m.Line > want-12 || strings.Contains(say, "neither") && m.Line <= want && m.Line > want-12 ||
					strings.Contains(say, "why") && m.Line <= want && m.Line > want-12 || strings.Contains(say, "put it in that") && m.Line <= want && m.Line > want-12
			}
			if strings.Contains(m.Error(), "\n") || !strings.HasPrefix(m.Error(), "plan.toml:") {
				t.Errorf("%q is no single sentence with its line", m.Error())
			}
		}
		if !found || !near {
			t.Errorf("%q: want line %d, %q; got\n%v", changed, want, say, err)
		}
		if p.Name != "" {
			t.Errorf("%q: a plan comes back with its mistakes", changed)
		}
		n++
	}
	if n < 30 {
		t.Errorf("%d mistakes tried", n)
	}
}

func TestSeveralMistakesAtOnce(t *testing.T) {
	text := "name = \"x\"\n\n[supply]\nmain_fuse = 21\n\n[[wire]]\nname = \"a\"\nfrom = \"S1\"\nto = \"S2\"\nlength = -1\n"
	_, err := Read("p.toml", []byte(text), nil)
	want := "p.toml:4: there is no blade fuse of 21 A (ISO 8820-3): take 20 A or 25 A\n" +
		"p.toml:8: wire \"a\" goes to \"S1\", which nothing is called: name a pod, load, plug, way, relay, splice or earth of the plan\n" +
		"p.toml:9: wire \"a\" goes to \"S2\", which nothing is called: name a pod, load, plug, way, relay, splice or earth of the plan\n" +
		"p.toml:10: length is -1, which is negative: give metres above 0"
	if err == nil || err.Error() != want {
		t.Errorf("got\n%v\nwant\n%s", err, want)
	}
}

func TestWriteIsStableAndComesBack(t *testing.T) {
	p := heron(t)
	text := Write(p)
	back, err := Read("again.toml", text, openExample)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(p, back); d != "" {
		t.Error(d)
	}
	if !bytes.Equal(text, Write(back)) {
		t.Error("written twice it differs")
	}
}

// Whatever the texts and figures, what is written comes back equal.
func TestWriteComesBack(t *testing.T) {
	base := heron(t)
	rapid.Check(t, func(rt *rapid.T) {
		p := fresh(base)
		words := rapid.StringMatching(`[a-zA-Z0-9 "\\#'\[\]{}äß°Ω]{0,30}`)
		text := func(label string) string { return strings.Join(strings.Fields(words.Draw(rt, label)), " ") }
		p.Name = "x" + text("name")
		p.Date, p.By, p.Note = text("date"), text("by"), text("note")
		p.Volts = rapid.SampledFrom([]float64{6, 12, 24, 48}).Draw(rt, "volts")
		p.Temperature = rapid.Float64Range(-40, 180).Draw(rt, "temp")
		i := rapid.IntRange(0, len(p.Wires)-1).Draw(rt, "wire")
		p.Wires[i].Length = rapid.Float64Range(0, 100).Draw(rt, "length")
		p.Wires[i].What = text("what")
		p.Loads[0].Source = text("source")
		p.Plugs[0].Fill[0].What = text("fill")
		p.Supply.AlternatorWatts = float64(rapid.IntRange(0, 1000).Draw(rt, "alt"))
		back, err := Read("p.toml", Write(p), openExample)
		if err != nil {
			rt.Fatal(err)
		}
		if d := cmp.Diff(p, back); d != "" {
			rt.Fatal(d)
		}
	})
}

func TestTextFromOutsideIsCleaned(t *testing.T) {
	p, err := Read("\x1b[31mp.toml", []byte("name = \"a\\u001b[2Jb\\u202ec\"\n"), nil)
	if err != nil || p.Name != "abc" {
		t.Errorf("%q %v", p.Name, err)
	}
	_, err = Read("\x1b[31mp.toml", []byte("name = \"a\"\nbattery\\u0007 = 1\n\x07"), nil)
	if err == nil || strings.ContainsAny(err.Error(), "\x1b\x07") {
		t.Errorf("%q", err)
	}
}

func FuzzRead(f *testing.F) {
	good, err := openExample("plan.toml")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(good)
	f.Add([]byte("name = \"x\"\n[[plug]]\nname = \"P\"\ncavities = 64\nrows = 64\n"))
	f.Add([]byte("name = \"x\"\n[[block.way]]\nname = \"W1\"\nfuse = 5\n[[load]]\nname = \"l\"\nmodule = \"loom\"\nwatts = 5\n[[wire]]\nfrom = \"W1\"\nto = \"l.+\"\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := Read("f.toml", data, openExample)
		if err != nil {
			return
		}
		if len(data) < 5000 {
			Check(p)
		}
		text := Write(p)
		if _, err := Read("g.toml", text, openExample); err != nil {
			t.Errorf("written it is refused: %v\n%s", err, text)
		}
	})
}
