package podfile

import "testing"

func TestLooksLike(t *testing.T) {
	for _, own := range []string{
		`{"name": "left", "ends": [{"id": "1"}], "switches": []}`, "\ufeff" + `{"ends": []}`,
		`{"name": "left", "ends": [{"id": "1",}]`,
	} {
		if !LooksLike([]byte(own)) {
			t.Errorf("%q is not known for a description", own)
		}
	}
	for _, other := range []string{"", "ends", `{"pod": "left", "drawn_from": {}, "ends": []}`, `{"a": 1}`, `{"ends`} {
		if LooksLike([]byte(other)) {
			t.Errorf("%q is taken for a description", other)
		}
	}
}
