package page

import (
	"bytes"
	"testing"
)

func TestWroteKnowsItsOwn(t *testing.T) {
	var pdf, html bytes.Buffer
	s := New(A4Short, A4Long)
	s.Text(10, 10, Regular, 11, Left, "a page")
	if err := WritePDF(&pdf, "title", s); err != nil {
		t.Fatal(err)
	}
	if err := WriteHTML(&html, "title", "", s); err != nil {
		t.Fatal(err)
	}
	for _, own := range [][]byte{pdf.Bytes(), html.Bytes()} {
		if !Wrote(own) {
			t.Errorf("%.20q is not known again", own)
		}
	}
	for _, other := range []string{"", "%PDF-1.3\nby somebody else", "<!DOCTYPE html>\n<html>", "notes", htmlHead + "mine</title>"} {
		if Wrote([]byte(other)) {
			t.Errorf("%q is taken for our own", other)
		}
	}
}
