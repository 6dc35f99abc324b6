package page

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"bellout/mapping"
)

func sample() *Sheet {
	s := New(A4Short, A4Long)
	s.Line(10, 10, 200, 10, 0.3)
	s.Dashed(10, 20, 200, 20, 0.3, 2)
	s.Box(10, 30, 50, 20, 0.3, 0.1)
	s.Dot(80, 40, 3, 0.3, 1)
	s.Text(100, 40, Bold, 12, Centre, "left pod, 0.4 Ω → µA")
	s.Text(10, 60, Mono, 9, Left, "a <b> & \"c\" \x1b[31mred\x1b[0m 中")
	return s
}

func TestEveryFontParsesAndHasTheGlyphs(t *testing.T) {
	u := mapping.UnicodeGlyphs()
	for f := Regular; f <= MonoBold; f++ {
		for _, signs := range []string{u.Legend(), u.Tie, "Ω µ → – …", "ÄÖÜäöüßéñçåø"} {
			if _, missing := Printable(f, signs); len(missing) > 0 {
				t.Errorf("font %s lacks %q", f.face().name, missing)
			}
		}
	}
}

func TestSameBytesTwice(t *testing.T) {
	var a, b, c, d bytes.Buffer
	if err := errors.Join(WritePDF(&a, "t", sample()), WritePDF(&b, "t", sample()),
		WriteHTML(&c, "t", "", sample()), WriteHTML(&d, "t", "", sample())); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) || !bytes.Equal(c.Bytes(), d.Bytes()) {
		t.Error("the same sheet gives other bytes")
	}
	if !bytes.HasPrefix(a.Bytes(), []byte("%PDF-")) || a.Len() < 5000 {
		t.Errorf("no PDF with a font in it: %d bytes", a.Len())
	}
}

func TestTextIsCleanedAndEscaped(t *testing.T) {
	var b bytes.Buffer
	if err := WriteHTML(&b, "<t>", "", sample()); err != nil {
		t.Fatal(err)
	}
	out := b.String()
	for _, want := range []string{"a &lt;b&gt; &amp; &#34;c&#34; red [U+4E2D]", "<title>&lt;t&gt;</title>"} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is not in the page", want)
		}
	}
	if strings.ContainsAny(out, "\x1b") {
		t.Error("an escape came through")
	}
	for _, outside := range []string{"src=", "href=", "url(", "@import", "<script"} {
		if strings.Contains(out, outside) {
			t.Errorf("the page asks for something else: %s", outside)
		}
	}
	dec := xml.NewDecoder(strings.NewReader(out[strings.Index(out, "<svg"):strings.LastIndex(out, "</body>")]))
	for {
		if _, err := dec.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatalf("the drawing is not well formed: %v", err)
		}
	}
}

func TestWidthFitWrap(t *testing.T) {
	// Every character of a font of even pitch has the same width.
	if a, b := Width(Mono, 10, "iiii"), Width(Mono, 10, "MMMM"); math.Abs(a-b) > 1e-9 || a <= 0 {
		t.Errorf("mono: %g and %g", a, b)
	}
	if got := Fit(Regular, 10, 20, "a rather long function name"); Width(Regular, 10, got) > 20 || !strings.HasSuffix(got, "…") {
		t.Errorf("fitted: %q", got)
	}
	if got := Fit(Regular, 10, 50, "short"); got != "short" {
		t.Errorf("fitted: %q", got)
	}
	for _, text := range []string{"one two three four five six seven", strings.Repeat("x", 90), "", "中中中中中中"} {
		lines := Wrap(Regular, 10, 25, text)
		for _, l := range lines {
			if Width(Regular, 10, l) > 25 {
				t.Errorf("%q is too wide", l)
			}
		}
		want, _ := Printable(Regular, strings.ReplaceAll(text, " ", ""))
		if got := strings.ReplaceAll(strings.Join(lines, ""), " ", ""); got != want {
			t.Errorf("%q lost something: %q", text, lines)
		}
	}
}

func TestBounds(t *testing.T) {
	l, top, r, bottom := sample().Bounds()
	if math.Abs(l-9.85) > 1e-9 || math.Abs(top-9.85) > 1e-9 || math.Abs(r-200.15) > 1e-9 || bottom < 60 || bottom > 62 {
		t.Errorf("bounds %g %g %g %g", l, top, r, bottom)
	}
}
