package pinout

import (
	"bytes"
	"testing"
)

func TestWroteKnowsEveryForm(t *testing.T) {
	for ext, write := range writers() {
		var b bytes.Buffer
		if err := write(Build(workshop(t)), &b); err != nil {
			t.Fatal(err)
		}
		if !Wrote(b.Bytes()) {
			t.Errorf("%s is not known again", ext)
		}
	}
	for _, other := range []string{
		"", "notes\n", "PINOUT  of the old loom, by hand\n", "# Pinout: mine\n", "record,end\n1,2\n",
		`{"name": "left", "ends": [{"id": "1"}], "switches": []}`, `{"pod": "left"}`, `{"drawn_from": "memory"}`,
	} {
		if Wrote([]byte(other)) {
			t.Errorf("%q is taken for a pinout", other)
		}
	}
}
