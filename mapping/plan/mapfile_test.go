package plan

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bellout/mapping"
)

func mapPod() mapping.Pod {
	return mapping.Pod{
		Name: "left", Ends: []mapping.End{{ID: "1"}, {ID: "2"}, {ID: "3"}},
		Switches: []mapping.Switch{{Name: "dip", Positions: []mapping.PositionID{"low", "main"}, Rest: "low"}},
	}
}

const soundMap = `{"map": {"links": [
 {"between": ["1", "2"], "when": [{"dip": ["low"]}], "grade": "proved"}],
 "unresolved": [{"between": ["1", "3"], "when": []}]},
"confidence": 0.9, "readings": 12}
`

// TestMapFileIsStrict: nothing that a map file says is dropped in silence.
func TestMapFileIsStrict(t *testing.T) {
	m, err := ReadMap([]byte(soundMap), mapPod())
	if err != nil || len(m.Links) != 1 || len(m.Unresolved) != 1 || len(m.Links[0].When) != 1 {
		t.Fatal(m, err)
	}
	back, err := ReadMap(WriteMap(m), mapPod())
	if d := cmp.Diff(m, back); err != nil || d != "" {
		t.Fatal(err, d)
	}
	change := func(old, new string) string {
		if !strings.Contains(soundMap, old) {
			t.Fatalf("%q is not in the sound map", old)
		}
		return strings.Replace(soundMap, old, new, 1)
	}
	for _, c := range []struct{ name, text, want string }{
		{"two maps", soundMap + soundMap, "line 5: something follows the end of the map: keep one map a file"},
		{"a bracket behind", strings.TrimSpace(soundMap) + "}", "line 4: something follows"},
		{"a repeated key", change(`"readings": 12`, `"confidence": 1`), `line 4: the map file says "confidence" twice`},
		{"two lists", change(`"unresolved"`, `"links"`), `line 3: the map says "links" twice`},
		{"a repeated link key", change(`"grade": "proved"`, `"between": ["1", "3"]`), `line 2: a link says "between" twice`},
		{"a repeated switch", change(`{"dip": ["low"]}`, `{"dip": ["low"], "dip": ["main"]}`), `line 2: a condition says "dip" twice`},
		{"another letter case", change(`"links"`, `"Links"`), `line 1: the map has no "Links": use links, unresolved`},
		{"unknown", change(`"grade"`, `"colour"`), `line 2: a link has no "colour": use between, grade, when`},
		{"an object for an end", change(`"1", "2"`, `{"x": 1}, "2"`), `line 2: an object with "x" stands where a plain value is wanted`},
		{"deep", strings.Repeat("[", 100_000), "line 1: brackets stand in brackets more than 10 deep"},
		{"deep within", change(`["low"]`, strings.Repeat("[", 100_000)), "line 2: brackets stand in brackets"},
		{"cut short", soundMap[:60], "line 2: the map cannot be read"},
		{"empty", "", "line 1: the map cannot be read"},
		{"no map", `{"readings": 3}`, "the map is missing"},
	} {
		m, err := ReadMap([]byte(c.text), mapPod())
		if err == nil || !strings.HasPrefix(err.Error(), c.want) || strings.Contains(err.Error(), "\n") || len(m.Links) > 0 {
			t.Errorf("%s: got %v, want %q", c.name, err, c.want)
		}
	}
}

func FuzzReadMap(f *testing.F) {
	f.Add([]byte(soundMap))
	f.Add(bytes.Repeat([]byte(`{"map":[`), 20))
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := ReadMap(data, mapPod())
		if err != nil {
			if strings.ContainsAny(err.Error(), "\n\r\x1b") {
				t.Fatalf("not one plain sentence: %q", err)
			}
			return
		}
		back, err := ReadMap(WriteMap(m), mapPod())
		if d := cmp.Diff(m, back); err != nil || d != "" {
			t.Fatal(err, d)
		}
	})
}
