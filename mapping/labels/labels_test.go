package labels

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"bellout/mapping"
	"bellout/mapping/page"
)

func pod(wires int) mapping.Pod {
	p := mapping.Pod{Name: "left"}
	for i := range wires {
		p.Ends = append(p.Ends, mapping.End{ID: mapping.EndID(fmt.Sprint(i + 1))})
	}
	p.Ends[0].Base, p.Ends[0].Tracer, p.Ends[0].Cavity = "BU", "WH", "A4"
	p.Ends = append(p.Ends, mapping.End{ID: "BODY", Kind: mapping.Body})
	return p
}

// Two flags a wire, since there are two sides of a cut; the body has none.
func TestTwoOfEachWire(t *testing.T) {
	var b strings.Builder
	if err := WriteText(&b, Of(pod(2))); err != nil {
		t.Fatal(err)
	}
	want := "left 1  BU/WH, cavity A4\nleft 1  BU/WH, cavity A4\nleft 2\nleft 2\n"
	if b.String() != want {
		t.Errorf("got\n%swant\n%s", b.String(), want)
	}
}

// The flags of two wires of the same two colours tell which is which.
func TestBaseComesBeforeTracer(t *testing.T) {
	p := mapping.Pod{Ends: []mapping.End{{ID: "1", Base: "YE", Tracer: "BK"}, {ID: "2", Base: "BK", Tracer: "YE"}, {ID: "3", Base: "GN", Tracer: "YE"}}}
	var got []string
	for _, l := range Of(p) {
		got = append(got, l.Colour)
	}
	if want := []string{"YE/BK", "YE/BK", "BK/YE", "BK/YE", "GN/YE", "GN/YE"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// Nothing is drawn off the paper, and no two flags share a place, however many
// there are.
func TestFlagsStayOnThePaper(t *testing.T) {
	for _, n := range []int{1, 12, 40} {
		p := pod(n)
		p.Name = "a pod with a rather long name of its own"
		list := Of(p)
		sheets := Sheets(list)
		room := across * down
		if want := (len(list) + room - 1) / room; len(sheets) != want {
			t.Errorf("%d wires: %d sheets, want %d", n, len(sheets), want)
		}
		for _, s := range sheets {
			left, top, right, bottom := s.Bounds()
			// Printers leave some 5 mm blank at the edge (common practice).
			if left < 5 || top < 5 || right > page.A4Short-5 || bottom > page.A4Long-5 {
				t.Errorf("%d wires: drawn from %.1f,%.1f to %.1f,%.1f", n, left, top, right, bottom)
			}
		}
	}
}

// The end stays readable when the pod's name does not fit, and the pages are
// the same every time.
func TestPages(t *testing.T) {
	p := pod(3)
	p.Name = "a pod with a rather long name of its own"
	var a, b, h bytes.Buffer
	for _, err := range []error{WritePDF(&a, Of(p)), WritePDF(&b, Of(p)), WriteHTML(&h, Of(p))} {
		if err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) || !bytes.HasPrefix(a.Bytes(), []byte("%PDF-")) {
		t.Error("the PDF is no PDF, or not twice the same")
	}
	for _, end := range []string{"own 1<", "own 2<", "own 3<", "BU/WH, cavity A4"} {
		if got := strings.Count(h.String(), end); got < 2*PerWire {
			t.Errorf("%q stands %d times on the page", end, got)
		}
	}
}

// Two pods whose names differ at their end only have flags that differ.
func TestFlagsTellPodsApart(t *testing.T) {
	drawn := func(name string) string {
		p := pod(1)
		p.Name = name
		var b bytes.Buffer
		if err := WriteHTML(&b, Of(p)); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	for _, base := range []string{"Interstate", "the pod on the bar at the"} {
		left, right := drawn(base+"-left"), drawn(base+"-right")
		if !strings.Contains(left, "left 1<") || !strings.Contains(right, "ight 1<") || left == right {
			t.Errorf("%s: %s", base, left)
		}
	}
}
