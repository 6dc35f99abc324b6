package main

import (
	"context"
	"strings"
	"testing"
)

func TestChosenByNameOrByATitleOfItsOwn(t *testing.T) {
	list := []jobLine{
		{Name: "left", Title: "the old twin", Path: "1"}, {Name: "a", Title: "spare", Path: "2"},
		{Name: "b", Title: "spare", Path: "3"}, {Name: "spare-one", Title: "left", Path: "4"},
	}
	for answer, want := range map[string]string{"left": "1", "the old twin": "1", "b": "3", "spare": "", "none": ""} {
		if got, ok := chosen(list, answer); got != want || ok != (want != "") {
			t.Errorf("%q: %q, want %q", answer, got, want)
		}
	}
}

func TestTheRestOfALongLineIsNoAnswer(t *testing.T) {
	in := strings.NewReader(strings.Repeat("0", 10_000) + "\nsecond\n")
	if _, err := readLine(context.Background(), in); err != nil {
		t.Fatal(err)
	}
	if got, err := readLine(context.Background(), in); got != "second" || err != nil {
		t.Errorf("the second line is %q (%v)", got, err)
	}
}
