package podfile

import (
	"bytes"
	"encoding/json"
)

// LooksLike says whether a text is a pod description, in order or not. One that
// is not even well formed counts if it speaks of ends and of switches or names.
func LooksLike(text []byte) bool {
	text = bytes.TrimSpace(bytes.TrimPrefix(text, []byte("\ufeff")))
	if !bytes.HasPrefix(text, []byte("{")) {
		return false
	}
	var keys map[string]json.RawMessage
	if json.Unmarshal(text, &keys) == nil {
		_, counts := keys["drawn_from"] // only a pinout has them
		return keys["ends"] != nil && !counts
	}
	has := func(key string) bool { return bytes.Contains(text, []byte(`"`+key+`"`)) }
	return has("ends") && (has("switches") || has("name"))
}
