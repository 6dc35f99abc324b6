// Package strict refuses in a JSON text what encoding/json takes without a word: a
// key said twice, an unknown one or one in another letter case, and whatever follows
// the end. It says the line of it.
package strict

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"bellout/mapping"
)

// Shape is what an object may have where it stands.
type Shape struct {
	What string            // how it is told to a person
	Keys []string          // in the order in which they are told; nil: no object may stand there
	Any  bool              // any key may
	In   map[string]*Shape // of what stands under a key, where that may be an object
}

// Words are what a text of a kind is told by where it is wrong.
type Words struct {
	Nested int                           // more brackets in brackets than that are refused: they fill the memory
	Deep   string                        // what is said of them, after how many
	Follow string                        // of what stands behind the end
	Plain  func(what, key string) string // of an object in the place of a plain value
	Broken func(err error, offset int64) error
}

// Check walks a text. What it finds is one sentence; trouble with the JSON itself is
// put in words by Broken.
func Check(text []byte, s *Shape, words Words) error {
	w := walk{json.NewDecoder(bytes.NewReader(text)), text, words}
	if err := w.value(s, 0); err != nil {
		return err
	}
	if _, err := w.dec.Token(); !errors.Is(err, io.EOF) {
		return w.wrong("%s", words.Follow)
	}
	return nil
}

type walk struct {
	dec   *json.Decoder
	text  []byte
	words Words
}

func (w walk) wrong(format string, args ...any) error {
	return fmt.Errorf("line %d: "+format, append([]any{Line(w.text, w.dec.InputOffset())}, args...)...)
}

// Line is the line of a text that an offset is in, the first being 1.
func Line(text []byte, offset int64) int {
	offset = min(max(offset, 0), int64(len(text)))
	return 1 + bytes.Count(text[:offset], []byte("\n"))
}

func (w walk) token() (json.Token, error) {
	tok, err := w.dec.Token()
	if err != nil {
		return nil, w.words.Broken(err, w.dec.InputOffset())
	}
	return tok, nil
}

func (w walk) value(s *Shape, depth int) error {
	tok, err := w.token()
	if err != nil {
		return err
	}
	delim, opens := tok.(json.Delim)
	switch {
	case !opens:
		return nil
	case depth == w.words.Nested:
		return w.wrong("brackets stand in brackets more than %d deep: %s", w.words.Nested, w.words.Deep)
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
			if err := w.key(s, key, seen); err != nil {
				return err
			}
			next := s.In[key]
			if next == nil {
				next = &Shape{What: s.What}
			}
			if err := w.value(next, depth+1); err != nil {
				return err
			}
		}
	}
	_, err = w.token() // the bracket that closes
	return err
}

func (w walk) key(s *Shape, key string, seen map[string]bool) error {
	short := mapping.Clean(key, mapping.MaxName)
	switch {
	case s.Keys == nil && !s.Any:
		return w.wrong("%s", w.words.Plain(s.What, short))
	case seen[key]:
		return w.wrong("%s says %q twice: keep one", s.What, short)
	case !s.Any && !slices.Contains(s.Keys, key):
		return w.wrong("%s has no %q: use %s", s.What, short, strings.Join(s.Keys, ", "))
	}
	seen[key] = true
	return nil
}
