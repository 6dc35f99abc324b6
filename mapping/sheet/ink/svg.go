package ink

import (
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"fmt"
	"strconv"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// FontCSS is a style sheet with the font in it, under the family name "sheet".
func FontCSS() string {
	var b bytes.Buffer
	for _, f := range []struct {
		weight int
		data   []byte
	}{{400, goregular.TTF}, {700, gobold.TTF}} {
		fmt.Fprintf(&b, "@font-face{font-family:sheet;font-weight:%d;src:url(data:font/ttf;base64,%s) format(\"truetype\")}\n",
			f.weight, base64.StdEncoding.EncodeToString(f.data))
	}
	return b.String()
}

// SVG writes a page as an svg element for use inside an HTML page that has
// FontCSS. Title is what a screen reader says.
func SVG(title string, p Page) string {
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" role="img" font-family="sheet, sans-serif"><title>%s</title>`,
		num(p.W), num(p.H), Escape(title))
	fmt.Fprintf(&b, "\n<rect width=\"%s\" height=\"%s\" fill=\"#fff\"/>\n", num(p.W), num(p.H))
	for _, m := range p.Marks {
		svgMark(&b, m)
	}
	b.WriteString("</svg>\n")
	return b.String()
}

func svgMark(b *bytes.Buffer, m Mark) {
	switch m := m.(type) {
	case Line:
		dash := ""
		if m.Dashed {
			dash = ` stroke-dasharray="3 2"`
		}
		fmt.Fprintf(b, "<line x1=\"%s\" y1=\"%s\" x2=\"%s\" y2=\"%s\" stroke=\"#000\" stroke-width=\"%s\"%s/>\n",
			num(m.X1), num(m.Y1), num(m.X2), num(m.Y2), num(m.Wide), dash)
	case Rect:
		fill, stroke := "none", ""
		if m.Grey > 0 {
			g := int(255*(1-m.Grey) + 0.5)
			fill = fmt.Sprintf("#%02x%02x%02x", g, g, g)
		}
		if m.Wide > 0 {
			stroke = ` stroke="#000" stroke-width="` + num(m.Wide) + `"`
		}
		fmt.Fprintf(b, "<rect x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\" fill=\"%s\"%s/>\n",
			num(m.X), num(m.Y), num(m.W), num(m.H), fill, stroke)
	case Dot:
		fill := "#fff"
		if m.Filled {
			fill = "#000"
		}
		fmt.Fprintf(b, "<circle cx=\"%s\" cy=\"%s\" r=\"%s\" fill=\"%s\" stroke=\"#000\" stroke-width=\"%s\"/>\n",
			num(m.X), num(m.Y), num(m.R), fill, num(m.Wide))
	case Text:
		more := ""
		if m.Bold {
			more += ` font-weight="700"`
		}
		if m.White {
			more += ` fill="#fff"`
		}
		fmt.Fprintf(b, "<text x=\"%s\" y=\"%s\" font-size=\"%s\"%s xml:space=\"preserve\">%s</text>\n",
			num(m.Box().X), num(m.Y), num(m.Size), more, Escape(m.S))
	}
}

// num writes a number with at most two decimals and no exponent.
func num(x float64) string {
	s := strconv.FormatFloat(x, 'f', 2, 64)
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

// Escape makes text safe inside HTML and SVG, attributes too.
func Escape(s string) string {
	var b bytes.Buffer
	_ = xml.EscapeText(&b, []byte(s)) // a bytes.Buffer does not fail
	return b.String()
}
