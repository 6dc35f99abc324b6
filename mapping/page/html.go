package page

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
)

const (
	htmlHead  = "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>"
	htmlStyle = "body { margin: 0; background: #fff; color: #000; font-family: Arial, Helvetica, sans-serif }\n" +
		"svg { display: block; max-width: 100%; height: auto; page-break-after: always; break-after: page }\n" +
		"svg:last-of-type { page-break-after: auto; break-after: auto }\n" +
		".bold, .monobold { font-weight: bold }\n.mono, .monobold { font-family: 'Courier New', Courier, monospace }\n" +
		"text { white-space: pre }\n"
)

// WriteHTML writes the sheets as one HTML page that needs nothing else: each
// sheet is a vector drawing that prints at its own size. body, already HTML,
// stands below the sheets and is left out when empty.
func WriteHTML(w io.Writer, title string, body string, sheets ...*Sheet) error {
	var b bytes.Buffer
	b.WriteString(htmlHead)
	b.WriteString(Escape(title))
	b.WriteString("</title>\n<style>\n")
	width, height := A4Short, A4Long
	if len(sheets) > 0 {
		width, height = sheets[0].Width, sheets[0].Height
	}
	fmt.Fprintf(&b, "@page { size: %smm %smm; margin: 0 }\n", Num(width), Num(height))
	b.WriteString(htmlStyle + "</style>\n</head>\n<body>\n")
	for _, s := range sheets {
		s.svg(&b, title)
	}
	b.WriteString(body)
	b.WriteString("</body>\n</html>\n")
	_, err := w.Write(b.Bytes())
	return err
}

// Escape makes text safe in HTML and SVG, attributes included.
func Escape(text string) string {
	var b bytes.Buffer
	_ = xml.EscapeText(&b, []byte(text)) // a buffer does not fail
	return b.String()
}

func (s *Sheet) svg(b *bytes.Buffer, title string) {
	fmt.Fprintf(b, "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%smm\" height=\"%smm\" viewBox=\"0 0 %s %s\" role=\"img\" aria-label=\"%s\">\n",
		Num(s.Width), Num(s.Height), Num(s.Width), Num(s.Height), Escape(title))
	for _, m := range s.marks {
		m.svg(b)
	}
	b.WriteString("</svg>\n")
}

func (m mark) svg(b *bytes.Buffer) {
	paint := " fill=\"none\""
	if m.shade >= 0 {
		g := grey(m.shade)
		paint = fmt.Sprintf(" fill=\"#%02x%02x%02x\"", g, g, g)
	}
	if m.pen > 0 {
		paint += " stroke=\"#000\" stroke-width=\"" + Num(m.pen) + "\""
	}
	switch m.kind {
	case lineMark:
		if m.dash > 0 {
			paint += " stroke-dasharray=\"" + Num(m.dash) + "\""
		}
		fmt.Fprintf(b, "<line x1=\"%s\" y1=\"%s\" x2=\"%s\" y2=\"%s\"%s/>\n", Num(m.x1), Num(m.y1), Num(m.x2), Num(m.y2), paint)
	case boxMark:
		fmt.Fprintf(b, "<rect x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\"%s/>\n", Num(m.x1), Num(m.y1), Num(m.x2), Num(m.y2), paint)
	case dotMark:
		fmt.Fprintf(b, "<circle cx=\"%s\" cy=\"%s\" r=\"%s\"%s/>\n", Num(m.x1), Num(m.y1), Num(m.x2), paint)
	case textMark:
		// The browser's font is another one: the length keeps the layout.
		fmt.Fprintf(b, "<text x=\"%s\" y=\"%s\" class=\"%s\" font-size=\"%s\" textLength=\"%s\" lengthAdjust=\"spacingAndGlyphs\">%s</text>\n",
			Num(m.start()), Num(m.y1), m.font.face().name, Num(m.size*MillimetresPerPoint),
			Num(Width(m.font, m.size, m.text)), Escape(m.text))
	}
}

// Num writes a length to a hundredth, the same everywhere.
func Num(v float64) string {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	for s[len(s)-1] == '0' {
		s = s[:len(s)-1]
	}
	if s[len(s)-1] == '.' {
		s = s[:len(s)-1]
	}
	if s == "-0" {
		return "0"
	}
	return s
}
