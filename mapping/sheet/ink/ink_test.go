package ink

import (
	"bytes"
	"encoding/xml"
	"io"
	"math"
	"strings"
	"testing"
)

func sample() Page {
	p := Page{W: 842, H: 595}
	p.Add(
		Rect{X: 10, Y: 10, W: 100, H: 50, Wide: 1, Grey: 0.1},
		Line{X1: 1, Y1: 2, X2: 300, Y2: 2, Wide: 0.5, Dashed: true},
		Dot{X: 5, Y: 5, R: 2, Filled: true, Wide: 1},
		Dot{X: 15, Y: 5, R: 2, Wide: 1},
		Text{X: 20, Y: 30, Size: 9, S: `5 Ω → <"&'> mm²`, Anchor: Middle},
		Text{X: 20, Y: 60, Size: 9, Bold: true, White: true, S: "bold", Anchor: End},
	)
	return p
}

func TestSameBytes(t *testing.T) {
	pages := []Page{sample(), {W: 595, H: 842}}
	a, err := PDF("Tést", pages)
	if err != nil {
		t.Fatal(err)
	}
	for range 3 {
		b, err := PDF("Tést", pages)
		if err != nil || !bytes.Equal(a, b) {
			t.Fatalf("the same pages gave other bytes (%v)", err)
		}
	}
	if !bytes.HasPrefix(a, []byte("%PDF-")) || bytes.Count(a, []byte("/MediaBox")) < 1 {
		t.Error("not a PDF of pages")
	}
}

func TestSVGIsXML(t *testing.T) {
	s := SVG(`a < "b"`, sample())
	d := xml.NewDecoder(strings.NewReader(s))
	text := ""
	for {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if c, ok := tok.(xml.CharData); ok {
			text += string(c)
		}
	}
	if !strings.Contains(text, `5 Ω → <"&'> mm²`) {
		t.Errorf("the text came out as %q", text)
	}
}

// TestWidths: the widths are the font's own; Go Regular is built on a 2048 unit
// square with digits of 1139 units (read from its hmtx table).
func TestWidths(t *testing.T) {
	if w := Width("0", 1, false); math.Abs(w-1139.0/2048) > 0.002 {
		t.Errorf("a digit is %.4f wide", w)
	}
	if Width("mm", 10, false) != 2*Width("m", 10, false) || Width("WWW", 9, true) <= Width("WWW", 9, false)*0.9 {
		t.Error("widths do not add up")
	}
}

func TestPrintable(t *testing.T) {
	if s, missing := Printable("5 Ω → mm² é"); missing || s != "5 Ω → mm² é" {
		t.Errorf("%q, %v", s, missing)
	}
	if s, missing := Printable("左a"); !missing || s != "U+5DE6a" {
		t.Errorf("%q, %v", s, missing)
	}
}

func TestWrapAndFit(t *testing.T) {
	for _, s := range []string{"", "one", "a long line of several words that goes on", "Averyveryverylongwordwithoutanyspaceatall x"} {
		for _, w := range []float64{12, 40, 90} {
			lines := Wrap(s, 8, false, w)
			for _, l := range lines {
				if Width(l, 8, false) > w+1e-9 && len([]rune(l)) > 1 {
					t.Errorf("%q is wider than %v", l, w)
				}
			}
			if got := strings.ReplaceAll(strings.Join(lines, ""), " ", ""); got != strings.ReplaceAll(s, " ", "") {
				t.Errorf("%q lost text: %q", s, lines)
			}
		}
	}
	if s, cut := Fit("something long", 8, false, 30); !cut || Width(s, 8, false) > 30 || !strings.HasSuffix(s, "...") {
		t.Errorf("%q, %v", s, cut)
	}
}
