package strict

import (
	"fmt"
	"strings"
	"testing"
)

// TestCheck: what encoding/json would take without a word is told with its line; a
// text in order, and keys that are any, are not.
func TestCheck(t *testing.T) {
	inner := &Shape{What: "a lamp", Keys: []string{"watts"}}
	outer := &Shape{What: "the box", Keys: []string{"name", "lamps", "notes"}, In: map[string]*Shape{"lamps": inner, "notes": {What: "a note", Any: true}}}
	words := Words{
		Nested: 4, Deep: "this is no box", Follow: "something follows",
		Plain:  func(what, key string) string { return fmt.Sprintf("%q in %s is no plain value", key, what) },
		Broken: func(err error, offset int64) error { return fmt.Errorf("broken at %d", offset) },
	}
	for text, want := range map[string]string{
		`{"name": "a", "lamps": [{"watts": 3}, {"watts": 5}], "notes": {"x": 1, "y": [2]}}`: "",
		"{\"name\": 1,\n\"name\": 2}":                         `line 2: the box says "name" twice`,
		`{"Name": 1}`:                                         `the box has no "Name": use name, lamps, notes`,
		"{\"lamps\": [\n{\"volts\": 1}]}":                     `line 2: a lamp has no "volts": use watts`,
		`{"notes": {"x": 1, "x": 2}}`:                         `a note says "x" twice`,
		`{"name": {"x": 1}}`:                                  `"x" in the box is no plain value`,
		`{"lamps": [{"watts": {"x": 1}}]}`:                    `"x" in a lamp is no plain value`,
		"{\"name\": 1}\n{}":                                   "line 2: something follows",
		`{"name": 1`:                                          "broken at 10",
		strings.Repeat("[", 5) + "1" + strings.Repeat("]", 5): "more than 4 deep: this is no box",
	} {
		err := Check([]byte(text), outer, words)
		if got := fmt.Sprint(err); (want == "") != (err == nil) || err != nil && !strings.Contains(got, want) {
			t.Errorf("%s: %v, want %q", text, err, want)
		}
	}
}
