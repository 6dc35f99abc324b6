package podfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"bellout/mapping/strict"
)

// checkKeys refuses unknown and repeated keys, and anything after the description:
// encoding/json would take a repeated key or another letter case without a word, and
// the last one would win.
func checkKeys(text []byte) error {
	end := &strict.Shape{What: "an end", Keys: []string{"id", "kind", "colour", "base", "tracer", "cavity"}}
	sw := &strict.Shape{What: "a switch", Keys: []string{"name", "positions", "rest", "momentary", "legend"}}
	pod := &strict.Shape{What: "the pod", Keys: []string{"name", "ends", "switches"}, In: map[string]*strict.Shape{"ends": end, "switches": sw}}
	return strict.Check(text, pod, strict.Words{
		Nested: 8, Deep: "this is no description of a pod",
		Follow: "something follows the end of the description: keep one pod a file",
		Plain: func(what, _ string) string {
			return "an object stands where a plain value is wanted in " + what
		},
		Broken: func(err error, _ int64) error { return explain(text, err) },
	})
}

// explain puts an error of encoding/json in words, with the line.
func explain(text []byte, err error) error {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax):
		return fmt.Errorf("line %d: this is not JSON (%s): check for a missing comma, quote or bracket", strict.Line(text, syntax.Offset), syntax.Error())
	case errors.As(err, &kind):
		return fmt.Errorf("line %d: %q is a %s where %s is wanted", strict.Line(text, kind.Offset), kind.Field, kind.Value, wanted(kind.Type.String()))
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return fmt.Errorf("line %d: the description breaks off: the last brackets are missing", strict.Line(text, int64(len(text))))
	}
	return fmt.Errorf("the pod description could not be read: %w", err)
}

// lineOfEnd gives the line on which the i-th end of a sound text begins.
func lineOfEnd(text []byte, i int) int {
	dec := json.NewDecoder(bytes.NewReader(text))
	var skipped json.RawMessage
	for tok, err := dec.Token(); err == nil && tok != "ends"; tok, err = dec.Token() {
		if tok != json.Delim('{') {
			_ = dec.Decode(&skipped) // of another key; the text was read before
		}
	}
	_, _ = dec.Token() // the bracket that opens the list
	for range i + 1 {
		_ = dec.Decode(&skipped)
	}
	return strict.Line(text, dec.InputOffset()-int64(len(skipped)))
}

func wanted(goType string) string {
	switch {
	case goType == "string":
		return "text in quotes"
	case goType == "bool":
		return "true or false"
	case strings.HasPrefix(goType, "["):
		return "a list in [ ]"
	}
	return "an object in { }"
}
