package podfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"bellout/mapping"
)

// The keys that each object may have. encoding/json would take a repeated key
// or another letter case without a word, and the last one would win.
var (
	podKeys    = []string{"name", "ends", "switches"}
	endKeys    = []string{"id", "kind", "colour", "base", "tracer", "cavity"}
	switchKeys = []string{"name", "positions", "rest", "momentary", "legend"}
)

// checkKeys walks the text and refuses unknown and repeated keys, and anything
// after the description.
func checkKeys(text []byte) error {
	dec := json.NewDecoder(bytes.NewReader(text))
	if err := walk(dec, text, "the pod", podKeys, 0); err != nil {
		return err
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return fmt.Errorf("line %d: something follows the end of the description: keep one pod a file", lineAt(text, dec.InputOffset()))
	}
	return nil
}

// mostNested is more than any description has; without it brackets alone, a
// million of them, would fill the memory.
const mostNested = 8

// walk reads one value, so deep in brackets. keys is what an object there may
// have; the objects in the lists "ends" and "switches" have their own.
func walk(dec *json.Decoder, text []byte, what string, keys []string, depth int) error {
	tok, err := dec.Token()
	if err != nil {
		return explain(text, err)
	}
	if _, opens := tok.(json.Delim); opens && depth == mostNested {
		return fmt.Errorf("line %d: brackets stand in brackets more than %d deep: this is no description of a pod", lineAt(text, dec.InputOffset()), mostNested)
	}
	switch tok {
	case json.Delim('['):
		for dec.More() {
			if err := walk(dec, text, what, keys, depth+1); err != nil {
				return err
			}
		}
	case json.Delim('{'):
		seen := map[string]bool{}
		for dec.More() {
			tok, err := dec.Token()
			if err != nil {
				return explain(text, err)
			}
			key, _ := tok.(string)
			if err := allowed(key, what, keys, seen, lineAt(text, dec.InputOffset())); err != nil {
				return err
			}
			sub, subKeys := what, []string(nil)
			switch {
			case what == "the pod" && key == "ends":
				sub, subKeys = "an end", endKeys
			case what == "the pod" && key == "switches":
				sub, subKeys = "a switch", switchKeys
			}
			if err := walk(dec, text, sub, subKeys, depth+1); err != nil {
				return err
			}
		}
	default:
		return nil
	}
	if _, err := dec.Token(); err != nil {
		return explain(text, err)
	}
	return nil
}

func allowed(key, what string, keys []string, seen map[string]bool, line int) error {
	if keys == nil {
		return fmt.Errorf("line %d: an object stands where a plain value is wanted in %s", line, what)
	}
	if seen[key] {
		return fmt.Errorf("line %d: %s says %q twice: keep one", line, what, mapping.Clean(key, mapping.MaxName))
	}
	seen[key] = true
	for _, k := range keys {
		if k == key {
			return nil
		}
	}
	return fmt.Errorf("line %d: %s has no %q: use %s", line, what, mapping.Clean(key, mapping.MaxName), strings.Join(keys, ", "))
}

// explain puts an error of encoding/json in words, with the line.
func explain(text []byte, err error) error {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax):
		return fmt.Errorf("line %d: this is not JSON (%s): check for a missing comma, quote or bracket", lineAt(text, syntax.Offset), syntax.Error())
	case errors.As(err, &kind):
		return fmt.Errorf("line %d: %q is a %s where %s is wanted", lineAt(text, kind.Offset), kind.Field, kind.Value, wanted(kind.Type.String()))
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return fmt.Errorf("line %d: the description breaks off: the last brackets are missing", lineAt(text, int64(len(text))))
	}
	return fmt.Errorf("the pod description could not be read: %w", err)
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

func lineAt(text []byte, offset int64) int {
	offset = min(max(offset, 0), int64(len(text)))
	return 1 + bytes.Count(text[:offset], []byte("\n"))
}
