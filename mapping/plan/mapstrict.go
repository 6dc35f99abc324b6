package plan

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"bellout/mapping"
)

// shape is what an object of a map file may have: its keys, each with the shape
// of what stands there, or any keys at all. encoding/json would take a repeated
// key, another letter case and whatever follows the end without a word.
type shape struct {
	what string
	keys map[string]*shape
	any  bool
}

func mapShape() *shape {
	condition := &shape{what: "a condition", any: true} // its keys are switches
	link := &shape{what: "a link", keys: map[string]*shape{"between": nil, "when": condition, "grade": nil}}
	links := &shape{what: "the map", keys: map[string]*shape{"links": link, "unresolved": link}}
	return &shape{what: "the map file", keys: map[string]*shape{"map": links, "confidence": nil, "readings": nil}}
}

// mostNested is more than any map has: brackets in brackets fill the memory.
const mostNested = 10

// checkMapText refuses what would be lost in silence.
func checkMapText(data []byte) error {
	w := mapWalk{json.NewDecoder(bytes.NewReader(data)), data}
	if err := w.value(mapShape(), 0); err != nil {
		return err
	}
	if _, err := w.dec.Token(); !errors.Is(err, io.EOF) {
		return w.wrong("something follows the end of the map: keep one map a file")
	}
	return nil
}

type mapWalk struct {
	dec  *json.Decoder
	data []byte
}

func (w mapWalk) wrong(format string, args ...any) error {
	line := 1 + bytes.Count(w.data[:min(w.dec.InputOffset(), int64(len(w.data)))], []byte("\n"))
	return fmt.Errorf("line %d: "+format, append([]any{line}, args...)...)
}

// token puts trouble with the JSON itself in words.
func (w mapWalk) token() (json.Token, error) {
	tok, err := w.dec.Token()
	if err != nil {
		return nil, w.wrong("the map cannot be read (%w): give the last line that bellout rig wrote", err)
	}
	return tok, nil
}

func (w mapWalk) value(s *shape, depth int) error {
	tok, err := w.token()
	if err != nil {
		return err
	}
	delim, opens := tok.(json.Delim)
	switch {
	case !opens:
		return nil
	case depth == mostNested:
		return w.wrong("brackets stand in brackets more than %d deep: this is no map of a pod", mostNested)
	case delim == '[':
		for w.dec.More() {
			if err := w.value(s, depth+1); err != nil {
				return err
			}
		}
	default:
		seen := map[string]bool{}
		for w.dec.More() {
			tok, err := w.token()
			if err != nil {
				return err
			}
			key, _ := tok.(string)
			next, err := w.key(s, key, seen)
			if err != nil {
				return err
			}
			if err := w.value(next, depth+1); err != nil {
				return err
			}
		}
	}
	_, err = w.token() // the bracket that closes
	return err
}

func (w mapWalk) key(s *shape, key string, seen map[string]bool) (*shape, error) {
	short := mapping.Clean(key, mapping.MaxName)
	if s == nil {
		return nil, w.wrong("an object with %q stands where a plain value is wanted: give the last line that bellout rig wrote", short)
	}
	if seen[key] {
		return nil, w.wrong("%s says %q twice: keep one", s.what, short)
	}
	seen[key] = true
	next, known := s.keys[key]
	if !known && !s.any {
		return nil, w.wrong("%s has no %q: use %s", s.what, short, strings.Join(slices.Sorted(maps.Keys(s.keys)), ", "))
	}
	return next, nil
}
