package labels

import (
	"bytes"
	"io"
	"testing"
)

func TestWroteKnowsEveryForm(t *testing.T) {
	for name, write := range map[string]func(io.Writer, []Label) error{"text": WriteText, "pdf": WritePDF, "html": WriteHTML} {
		var b bytes.Buffer
		if err := write(&b, Of(pod(3))); err != nil {
			t.Fatal(err)
		}
		if !Wrote(b.Bytes()) {
			t.Errorf("%s is not known again", name)
		}
	}
	for _, other := range []string{"", "\n\n", "notes\n", "left 1  BU\nleft 2  RD\n", "left 1\nleft 1\nright 1\nright 1\n", "left 1\nleft 1\nleft 2\n"} {
		if Wrote([]byte(other)) {
			t.Errorf("%q is taken for labels", other)
		}
	}
}
