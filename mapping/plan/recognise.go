package plan

import (
	"bytes"
	"encoding/json"
	"reflect"
	"slices"
	"strings"
)

// LooksLikePlan says whether a text is a plan or the beginning of one, in order
// or not: it opens a table that only plans have.
func LooksLikePlan(text []byte) bool {
	var tables []string
	for _, f := range reflect.VisibleFields(reflect.TypeFor[Plan]()) {
		if k := f.Type.Kind(); k == reflect.Struct || k == reflect.Slice {
			tables = append(tables, f.Tag.Get("toml"))
		}
	}
	for line := range bytes.Lines(text) {
		head, _, _ := strings.Cut(string(line), "#")
		head = strings.TrimSpace(head)
		if !strings.HasPrefix(head, "[") || !strings.HasSuffix(head, "]") {
			continue
		}
		name, _, _ := strings.Cut(strings.Trim(head, "[] \t"), ".")
		if slices.Contains(tables, strings.TrimSpace(name)) {
			return true
		}
	}
	return false
}

// LooksLikeMap says whether a text is a map as the rig writes it, in order or not.
func LooksLikeMap(text []byte) bool {
	var in struct {
		Map json.RawMessage `json:"map"`
	}
	err := json.NewDecoder(bytes.NewReader(text)).Decode(&in)
	return err == nil && bytes.HasPrefix(in.Map, []byte("{"))
}
