package sheet

import "testing"

func TestWroteKnowsEveryForm(t *testing.T) {
	in := madePlan(1, 3, 6, 2)
	pdf, err := PDF(in)
	if err != nil {
		t.Fatal(err)
	}
	html, err := HTML(in)
	if err != nil {
		t.Fatal(err)
	}
	for name, own := range map[string][]byte{"pdf": pdf, "html": html, "text": Text(in)} {
		if !Wrote(own) {
			t.Errorf("%s is not known again", name)
		}
	}
	for _, other := range []string{"", "HERON: WIRING\nas I remember it\n", "%PDF-1.3\n", "<!DOCTYPE html>\n<html></html>\n"} {
		if Wrote([]byte(other)) {
			t.Errorf("%q is taken for the paper of a plan", other)
		}
	}
}
