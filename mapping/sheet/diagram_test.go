package sheet

import (
	"os"
	"testing"
)

func TestTmp(t *testing.T) {
	in := heron(t)
	b, err := PDF(in)
	if err != nil {
		t.Fatal(err)
	}
	os.WriteFile("/tmp/d.pdf", b, 0o644)
	h, err := HTML(in)
	if err != nil {
		t.Fatal(err)
	}
	os.WriteFile("/tmp/d.html", h, 0o644)
	os.WriteFile("/tmp/d.txt", Text(in), 0o644)
}
