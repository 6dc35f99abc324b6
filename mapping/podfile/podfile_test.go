package podfile

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"testing"

	"bellout/mapping"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

const sound = `{
  "name": "left pod",
  "ends": [
    {"id": "1", "kind": "wire", "colour": "BUWH", "base": "WH", "tracer": "BU", "cavity": "A4"},
    {"id": "BODY", "kind": "body"}
  ],
  "switches": [
    {"name": "horn", "positions": ["out", "in"], "rest": "out", "momentary": true, "legend": "a trumpet"}
  ]
}
`

func ExampleWrite() {
	pod, err := Read(strings.NewReader(`{"name": "left pod", "ends": [{"id": "1", "colour": "blue/white"}, {"id": "2"}],
		"switches": [{"name": "dip", "positions": ["low", "main"], "rest": "low"}]}`))
	if err != nil {
		fmt.Println(err)
	}
	_ = Write(os.Stdout, pod)
	// Output:
	// {
	//   "name": "left pod",
	//   "ends": [
	//     {"id":"1","kind":"wire","colour":"BUWH","base":"BU","tracer":"WH"},
	//     {"id":"2","kind":"wire"}
	//   ],
	//   "switches": [
	//     {"name":"dip","positions":["low","main"],"rest":"low"}
	//   ]
	// }
}

func TestRead(t *testing.T) {
	got, err := Read(strings.NewReader("\ufeff" + sound))
	want := mapping.Pod{
		Name: "left pod",
		Ends: []mapping.End{{ID: "1", Base: "WH", Tracer: "BU", Cavity: "A4"}, {ID: "BODY", Kind: mapping.Body}},
		Switches: []mapping.Switch{{
			Name: "horn", Positions: []mapping.PositionID{"out", "in"}, Rest: "out", Momentary: true, Legend: "a trumpet",
		}},
	}
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

func TestColoursOfAnEnd(t *testing.T) {
	for _, c := range []struct{ fields, want string }{
		{`"colour": "BUWH"`, "BU/WH"},
		{`"colour": "buwh"`, "BU/WH"},
		{`"colour": "BUWH", "base": "WH"`, "WH/BU"},
		{`"colour": "BUWH", "tracer": "BU"`, "WH/BU"},
		{`"colour": "BUWH", "base": "RD", "tracer": "GN"`, "RD/GN"},
		{`"colour": "BUWH", "base": "RD"`, "RD"},
		{`"colour": "BU", "tracer": "WH"`, "BU/WH"},
		{`"base": "BU", "tracer": "BU"`, "BU"},
		{`"colour": ""`, ""},
		{`"colour": null`, ""},
	} {
		p, err := Read(strings.NewReader(`{"name": "p", "ends": [{"id": "1", ` + c.fields + `}, {"id": "2"}]}`))
		if err != nil {
			t.Errorf("%s: %v", c.fields, err)
		} else if got := p.Ends[0].Colours(); got != c.want {
			t.Errorf("%s is %s, want %s", c.fields, got, c.want)
		}
	}
}

func TestBadDescriptions(t *testing.T) {
	change := func(old, new string) string {
		if !strings.Contains(sound, old) {
			t.Fatalf("%q is not in the sound description", old)
		}
		return strings.Replace(sound, old, new, 1)
	}
	for _, c := range []struct{ name, text, want string }{
		{"empty", " \n", "the pod description is empty"},
		{"cut short", sound[:60], "line 4: the description breaks off"},
		{"no JSON", "left pod", "line 1: this is not JSON"},
		{"comma missing", change(`"BODY", `, `"BODY" `), "line 5: this is not JSON"},
		{"two pods", sound + "{}", "line 11: something follows"},
		{"unknown key", change(`"cavity"`, `"hole"`), `line 4: an end has no "hole": use id, kind,`},
		{"other letter case", change(`"rest"`, `"Rest"`), `line 8: a switch has no "Rest"`},
		{"repeated key", change(`"kind": "wire"`, `"id": "2"`), `line 4: an end says "id" twice: keep one`},
		{"repeated key of the pod", change(`"switches"`, `"ends": [], "switches"`), `line 7: the pod says "ends" twice`},
		{"number for text", change(`"id": "1"`, `"id": 1`), `line 4: "ends.id" is a number where text in quotes is wanted`},
		{"text for a list", change(`["out", "in"]`, `"out"`), `line 8: "switches.positions" is a string where a list in [ ] is wanted`},
		{"text for a truth", change(`"momentary": true`, `"momentary": "yes"`), `line 8: "switches.momentary" is a string where true or false`},
		{"object for text", change(`"id": "1"`, `"id": {"x": 1}`), "line 4: an object stands where a plain value is wanted"},
		{"list for the pod", "[" + sound + "]", "line 1: "},
		{"no name", change(`"name": "left pod",`, ``), "the pod has no name"},
		{"two ends of one name", change(`"BODY"`, `"1"`), `pod "left pod" has two ends named "1": give each its own flag`},
		{"end without a name", change(`"id": "BODY", `, ``), "pod \"left pod\" has an end with no name"},
		{"one end", change(`,
    {"id": "BODY", "kind": "body"}`, ``), `pod "left pod" has 1 end(s)`},
		{"one position", change(`["out", "in"]`, `["out"]`), `switch "horn" has 1 position(s): name at least two`},
		{"no rest", change(`"rest": "out", `, ``), `switch "horn" says no rest position: add "rest": "out"`},
		{"rest that is none", change(`"rest": "out"`, `"rest": "up"`), `switch "horn" rests at "up"`},
		{"kind", change(`"kind": "body"`, `"kind": "metal"`), `line 5: end "BODY" is of kind "metal": write "wire", or "body"`},
		{"colour", change(`"BUWH"`, `"BQ"`), `line 4: end "1": "bq" is no colour`},
		{"colour of many", change(`"BUWH"`, `"B"`), `line 4: end "1": "B" could be black (BK), brown (BN) or blue (BU): which is it?`},
		{"colour after switches", "{\"switches\": [{\"name\": \"ends\", \"positions\": [\"a\", \"b\"], \"rest\": \"a\"}],\n\"name\": \"ends\", \"ends\": [\n{\"id\": \"1\"}, {\n\"id\": \"2\", \"base\": \"XX\"}]}", `line 3: end "2": "xx" is no colour`},
		{"two colours in the base", change(`"base": "WH"`, `"base": "WHBU"`), `line 4: end "1": "base" holds two colours`},
		{"tracer alone", change(`"colour": "BUWH", "base": "WH", `, ``), `line 4: end "1": a tracer BU without a base colour`},
		{"escape in a name", change(`"BODY"`, `"\u001b[31mB"`), `line 5: the name of end 2, "B", has characters that cannot be shown`},
		{"long name", change(`"horn"`, `"`+strings.Repeat("h", 41)+`"`), `the name of switch 1,`},
		{"deep", strings.Repeat("[", 100_000), "line 1: brackets stand in brackets more than 8 deep"},
		{"deep within", change(`["out", "in"]`, strings.Repeat("[", 100_000)), "line 8: brackets stand in brackets more than 8 deep"},
		{"huge", strings.Repeat(" ", maxBytes+1), "the pod description is larger than"},
	} {
		p, err := Read(strings.NewReader(c.text))
		if err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %q", c.name, err, c.want)
			continue
		}
		if len(p.Ends) > 0 || strings.ContainsAny(err.Error(), "\n\x1b") {
			t.Errorf("%s: half a pod, or an error of several lines: %v", c.name, err)
		}
	}
}

// podGen draws valid pods with names of any plain characters.
func podGen(t *rapid.T) mapping.Pod {
	name := rapid.Custom(func(t *rapid.T) string {
		return mapping.Clean(rapid.StringN(1, 12, -1).Draw(t, "raw"), mapping.MaxName)
	}).Filter(func(s string) bool { return s != "" })
	text := rapid.Custom(func(t *rapid.T) string {
		return mapping.Clean(rapid.StringN(0, 20, -1).Draw(t, "raw"), mapping.MaxName)
	})
	unique := func(s string) string { return s }
	p := mapping.Pod{Name: name.Draw(t, "pod")}
	for _, id := range rapid.SliceOfNDistinct(name, 2, 8, unique).Draw(t, "ends") {
		e := mapping.End{ID: mapping.EndID(id), Cavity: text.Draw(t, "cavity")}
		if rapid.Bool().Draw(t, "coloured") {
			c := rapid.Permutation(mapping.Colours()).Draw(t, "colours")
			e.Base = c[0]
			if rapid.Bool().Draw(t, "traced") {
				e.Tracer = c[1]
			}
		}
		if rapid.Bool().Draw(t, "metal") {
			e.Kind = mapping.Body
		}
		p.Ends = append(p.Ends, e)
	}
	for _, id := range rapid.SliceOfNDistinct(name, 0, 4, unique).Draw(t, "switches") {
		s := mapping.Switch{Name: mapping.SwitchID(id), Momentary: rapid.Bool().Draw(t, "momentary"), Legend: text.Draw(t, "legend")}
		for _, q := range rapid.SliceOfNDistinct(name, 2, 5, unique).Draw(t, "positions") {
			s.Positions = append(s.Positions, mapping.PositionID(q))
		}
		s.Rest = rapid.SampledFrom(s.Positions).Draw(t, "rest")
		p.Switches = append(p.Switches, s)
	}
	return p
}

func TestComesBackEqual(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := podGen(t)
		var first, second bytes.Buffer
		if err := Write(&first, p); err != nil {
			t.Fatal(err)
		}
		back, err := Read(bytes.NewReader(first.Bytes()))
		if err != nil {
			t.Fatalf("%v in\n%s", err, first.String())
		}
		if d := cmp.Diff(p, back); d != "" {
			t.Fatal(d)
		}
		_ = Write(&second, back)
		if first.String() != second.String() {
			t.Fatalf("written twice, it differs:\n%s\n%s", first.String(), second.String())
		}
	})
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(sound))
	f.Add([]byte(`{"name":"p","ends":[{"id":"a"},{"id":"b","colour":"GNYE"}]}`))
	f.Add([]byte(`{"name":"p","ends":[[[{}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		p, err := Read(bytes.NewReader(text))
		if err != nil {
			if strings.ContainsAny(err.Error(), "\n\r\x1b") {
				t.Fatalf("not one plain sentence: %q", err)
			}
			return
		}
		var out bytes.Buffer
		_ = Write(&out, p)
		back, err := Read(&out)
		if err != nil {
			t.Fatalf("what was written is refused: %v", err)
		}
		if d := cmp.Diff(p, back); d != "" {
			t.Fatal(d)
		}
	})
}
