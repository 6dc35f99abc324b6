package plan

import (
	"testing"

	"bellout/mapping"
)

func TestLooksLike(t *testing.T) {
	first, _ := New("twin", nil)
	for _, own := range []string{string(Write(first)), "nonsense = \n[[wire]]\n", "  [ block ] # ways\n", "[[block.way]]\n"} {
		if !LooksLikePlan([]byte(own)) {
			t.Errorf("%.40q is not known for a plan", own)
		}
	}
	for _, other := range []string{"", "volts\n", "[1] a note\n", "[x] wire\n", "[[shopping]]\n"} {
		if LooksLikePlan([]byte(other)) {
			t.Errorf("%q is taken for a plan", other)
		}
	}
	if !LooksLikeMap(WriteMap(mapping.Map{})) || LooksLikeMap([]byte(`{"map": 3}`)) || LooksLikeMap([]byte("map")) {
		t.Error("a map is not told from what is none")
	}
}
