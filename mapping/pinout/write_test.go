package pinout

import (
	"bytes"
	"encoding/csv"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bellout/mapping"
	"bellout/mapping/page"

	"github.com/charmbracelet/x/ansi"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "write the golden files of testdata/pinout anew")

func writers() map[string]func(p Pinout, b *bytes.Buffer) error {
	return map[string]func(p Pinout, b *bytes.Buffer) error{
		"txt":       func(p Pinout, b *bytes.Buffer) error { return p.WriteText(b, mapping.UnicodeGlyphs()) },
		"ascii.txt": func(p Pinout, b *bytes.Buffer) error { return p.WriteText(b, mapping.ASCIIGlyphs()) },
		"md":        func(p Pinout, b *bytes.Buffer) error { return p.WriteMarkdown(b, mapping.UnicodeGlyphs()) },
		"csv":       func(p Pinout, b *bytes.Buffer) error { return p.WriteCSV(b, false) },
		"json":      func(p Pinout, b *bytes.Buffer) error { return p.WriteJSON(b) },
		"html":      func(p Pinout, b *bytes.Buffer) error { return p.WriteHTML(b) },
		"pdf":       func(p Pinout, b *bytes.Buffer) error { return p.WritePDF(b) },
	}
}

func TestGolden(t *testing.T) {
	for name, in := range map[string]Input{"workshop": workshop(t), "P12": input(t, load(t, "P12"))} {
		for ext, write := range writers() {
			var a, b bytes.Buffer
			if err := write(Build(in), &a); err != nil {
				t.Fatal(err)
			}
			_ = write(Build(in), &b)
			if !bytes.Equal(a.Bytes(), b.Bytes()) {
				t.Errorf("%s.%s: written twice, it differs", name, ext)
			}
			if ext == "pdf" {
				continue // its bytes hang on the compressor of the Go release
			}
			file := filepath.Join("..", "..", "testdata", "pinout", name+"."+ext)
			if *update {
				if err := os.WriteFile(file, a.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
				continue
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(string(want), a.String()); d != "" {
				t.Errorf("%s (go test -update writes it anew):\n%s", file, d)
			}
		}
	}
}

// arbitrary draws a pod whose names may be anything that a pod may have.
func arbitrary(t *rapid.T) Input {
	name := rapid.Custom(func(t *rapid.T) string {
		raw := rapid.OneOf(rapid.StringN(1, 14, -1), rapid.StringMatching(`[=+@'|<>*"-][A-Za-z 0-9]{0,8}`)).Draw(t, "raw")
		return mapping.Clean(raw, mapping.MaxName)
	}).Filter(func(s string) bool { return s != "" })
	same := func(s string) string { return s }
	p := mapping.Pod{Name: name.Draw(t, "pod")}
	ends := rapid.SliceOfNDistinct(name, 2, 7, same).Draw(t, "ends")
	for _, e := range ends {
		p.Ends = append(p.Ends, mapping.End{ID: mapping.EndID(e), Cavity: rapid.String().Draw(t, "cavity")})
	}
	for _, s := range rapid.SliceOfNDistinct(name, 1, 3, same).Draw(t, "switches") {
		sw := mapping.Switch{Name: mapping.SwitchID(s), Momentary: rapid.Bool().Draw(t, "momentary"), Legend: rapid.SampledFrom([]string{"", "turn", "dip", "lights", "horn", "key", "kill", "start"}).Draw(t, "legend")}
		for _, q := range rapid.SliceOfNDistinct(name, 2, 4, same).Draw(t, "positions") {
			sw.Positions = append(sw.Positions, mapping.PositionID(q))
		}
		sw.Rest = sw.Positions[0]
		p.Switches = append(p.Switches, sw)
	}
	var m mapping.Map
	for range rapid.IntRange(0, 6).Draw(t, "links") {
		i := rapid.IntRange(0, len(ends)-2).Draw(t, "a")
		j := rapid.IntRange(i+1, len(ends)-1).Draw(t, "b")
		l := mapping.Link{A: p.Ends[i].ID, B: p.Ends[j].ID, Grade: mapping.Grade(rapid.IntRange(0, 3).Draw(t, "grade"))}
		var c mapping.Condition
		for _, sw := range p.Switches {
			if rapid.Bool().Draw(t, "in") {
				n := rapid.IntRange(1, len(sw.Positions)).Draw(t, "n")
				c = append(c, mapping.Term{Switch: sw.Name, Positions: sw.Positions[:n]})
			}
		}
		if c != nil {
			l.When = []mapping.Condition{c}
		}
		if rapid.IntRange(0, 4).Draw(t, "unresolved") == 0 {
			m.Unresolved = append(m.Unresolved, l)
		} else {
			m.Links = append(m.Links, l)
		}
	}
	w := &mapping.PodWork{Pod: p}
	if rapid.Bool().Draw(t, "named") {
		w.Decisions = []mapping.Decision{{Kind: mapping.NameFunction, End: p.Ends[0].ID, Value: rapid.String().Draw(t, "function")}}
	}
	return Input{Work: w, Map: m, Job: rapid.String().Draw(t, "job")}
}

func TestNamesSurvive(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := arbitrary(t)
		p := Build(in)
		out := map[string]string{}
		for ext, write := range writers() {
			if ext == "pdf" {
				continue
			}
			var b bytes.Buffer
			if err := write(p, &b); err != nil {
				t.Fatalf("%s: %v", ext, err)
			}
			out[ext] = b.String()
			for _, r := range b.String() {
				if r == '\x1b' || r < ' ' && r != '\n' || r == '\u202e' {
					t.Fatalf("%s lets U+%04X through", ext, r)
				}
			}
		}

		back, err := ReadJSON(strings.NewReader(out["json"]))
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(p, back); d != "" {
			t.Fatalf("JSON came back otherwise: %s", d)
		}

		rows, err := csv.NewReader(strings.NewReader(out["csv"])).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, r := range rows[1:] {
			for _, cell := range r {
				if cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
					t.Fatalf("a spreadsheet would run %q", cell)
				}
			}
			if r[0] == "end" {
				if got := strings.TrimPrefix(r[1], "'"); got != p.Ends[n].ID {
					t.Fatalf("end %q came back as %q", p.Ends[n].ID, got)
				}
				if got := strings.TrimPrefix(r[10], "'"); got != strings.TrimSpace(p.Ends[n].Function) {
					t.Fatalf("function %q came back as %q", p.Ends[n].Function, got)
				}
				n++
			}
		}
		if n != len(in.Work.Pod.Ends) {
			t.Fatalf("%d ends in the CSV of %d", n, len(in.Work.Pod.Ends))
		}

		for _, ext := range []string{"txt", "ascii.txt"} {
			for _, l := range strings.Split(out[ext], "\n") {
				if w := ansi.StringWidth(l); w > TextWidth {
					t.Fatalf("a line of %d columns: %q", w, l)
				}
			}
		}
	})
}

// fullest is a pod with the most ends and switches that a pod may have, each
// switch a changeover. Its settings are too many to list: its map is made here.
func fullest() Input {
	p := mapping.Pod{Name: "the largest"}
	for i := range mapping.MaxEnds {
		p.Ends = append(p.Ends, mapping.End{ID: mapping.EndID(fmt.Sprint(i + 1)), Base: "BU", Tracer: "WH", Cavity: fmt.Sprintf("A%d", i+1)})
	}
	var m mapping.Map
	for s := range mapping.MaxSwitches {
		sw := mapping.Switch{Name: mapping.SwitchID(fmt.Sprintf("switch %d", s+1)), Positions: []mapping.PositionID{"a", "b"}, Rest: "a"}
		p.Switches = append(p.Switches, sw)
		for k, q := range sw.Positions {
			m.Links = append(m.Links, mapping.Link{A: p.Ends[3*s].ID, B: p.Ends[3*s+k+1].ID, Grade: mapping.Proved, When: []mapping.Condition{
				{{Switch: sw.Name, Positions: []mapping.PositionID{q}}},
			}})
		}
	}
	return Input{Work: &mapping.PodWork{Pod: p}, Map: m}
}

func BenchmarkBuildLargest(b *testing.B) {
	in := fullest()
	for b.Loop() {
		Build(in)
	}
}

// However much there is to say, it stays inside the margins, and what is left
// off is counted on the page.
func TestThePageIsOnePage(t *testing.T) {
	in := fullest()
	for name, in := range map[string]Input{
		"largest": in, "workshop": workshop(t), "P14": input(t, load(t, "P14")), "empty": {},
		"words": {Work: &mapping.PodWork{Pod: mapping.Pod{Name: strings.Repeat("W", 40), Ends: []mapping.End{{ID: mapping.EndID(strings.Repeat("M", 40))}, {ID: "2"}}}}, Job: strings.Repeat("long ", 60)},
	} {
		p := Build(in)
		s := p.Sheet()
		l, top, r, bottom := s.Bounds()
		if l < margin-0.5 || top < margin-3 || r > page.A4Short-margin+0.5 || bottom > page.A4Long-margin+1 {
			t.Errorf("%s: %.1f %.1f %.1f %.1f is off the sheet", name, l, top, r, bottom)
		}
	}
	var many Pinout
	for i := range 400 {
		many.Notes = append(many.Notes, fmt.Sprintf("note %d", i))
	}
	var b bytes.Buffer
	if err := many.WriteHTML(&b); err != nil {
		t.Fatal(err)
	}
	_, _, _, bottom := many.Sheet().Bounds()
	shown := strings.Count(b.String(), ">note ")
	var left int
	if i := strings.Index(b.String(), "items did not fit"); i >= 0 {
		_, _ = fmt.Sscanf(b.String()[strings.LastIndex(b.String()[:i], ">")+1:], "%d", &left)
	}
	if shown+left != 400 || left == 0 || bottom > page.A4Long-margin+1 {
		t.Errorf("%d of 400 notes shown and %d owned up to, down to %.1f mm", shown, left, bottom)
	}
}

func TestDraw(t *testing.T) {
	table := Table{Switch: "turn", Ends: []string{"4", "5", "a very long name"}, Rows: []Row{
		{Label: "left", Nets: [][]string{{"4", "a very long name"}}, Cells: []Cell{{true, Graded(mapping.Proved)}, {false, Graded(mapping.Likely)}, {true, Graded(mapping.Likely)}}},
		{Label: "off", Rest: true, Cells: []Cell{{false, Graded(mapping.Proved)}, {false, Graded(mapping.OpenQuestion)}, {}}},
	}}
	got := strings.Join(table.Draw(mapping.ASCIIGlyphs(), 40), "\n")
	want := `a = 4
b = 5
c = a very long name
           a  b  c
left       #==-==o
off (rest)    ?  .`
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	for width := 12; width < 30; width++ {
		for _, l := range table.Draw(mapping.UnicodeGlyphs(), width) {
			if ansi.StringWidth(l) > max(width, len("c = a very long name")) {
				t.Errorf("width %d: %q", width, l)
			}
		}
	}
}

func ExampleBuild() {
	pod := mapping.Pod{
		Name: "left pod",
		Ends: []mapping.End{{ID: "1", Base: "BU"}, {ID: "2", Base: "WH"}, {ID: "3", Base: "BU", Tracer: "WH"}},
		Switches: []mapping.Switch{{
			Name: "dip", Positions: []mapping.PositionID{"low", "main"}, Rest: "low",
		}},
	}
	at := func(q mapping.PositionID) []mapping.Condition {
		return []mapping.Condition{{{Switch: "dip", Positions: []mapping.PositionID{q}}}}
	}
	known := mapping.Map{Links: []mapping.Link{
		{A: "1", B: "2", When: at("main"), Grade: mapping.Proved},
		{A: "1", B: "3", When: at("low"), Grade: mapping.Likely},
	}}
	p := Build(Input{Work: &mapping.PodWork{Pod: pod}, Map: known})
	for _, e := range p.Ends {
		fmt.Println(e.ID, e.Colour, e.Terminal, e.Function, "-", e.Grade)
	}
	fmt.Println(strings.Join(p.Tables[0].Draw(mapping.ASCIIGlyphs(), TextWidth), "\n"))
	// Output:
	// 1 BU 56 dip switch common, headlamp feed - likely
	// 2 WH 56a main beam - proved
	// 3 BU/WH 56b dipped beam - likely
	//            1  2  3
	// low (rest) o==.==o
	// main       #==#  .
}
