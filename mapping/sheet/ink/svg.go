package ink

import (
	"bytes"
	"encoding/base64"
	"fmt"

	"bellout/mapping/page"

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
		page.Num(p.W), page.Num(p.H), page.Escape(title))
	fmt.Fprintf(&b, "\n<rect width=\"%s\" height=\"%s\" fill=\"#fff\"/>\n", page.Num(p.W), page.Num(p.H))
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
			page.Num(m.X1), page.Num(m.Y1), page.Num(m.X2), page.Num(m.Y2), page.Num(m.Wide), dash)
	case Rect:
		fill, stroke := "none", ""
		if m.Grey > 0 {
			g := int(255*(1-m.Grey) + 0.5)
			fill = fmt.Sprintf("#%02x%02x%02x", g, g, g)
		}
		if m.Wide > 0 {
			stroke = ` stroke="#000" stroke-width="` + page.Num(m.Wide) + `"`
		}
		fmt.Fprintf(b, "<rect x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\" fill=\"%s\"%s/>\n",
			page.Num(m.X), page.Num(m.Y), page.Num(m.W), page.Num(m.H), fill, stroke)
	case Dot:
		fill := "#fff"
		if m.Filled {
			fill = "#000"
		}
		fmt.Fprintf(b, "<circle cx=\"%s\" cy=\"%s\" r=\"%s\" fill=\"%s\" stroke=\"#000\" stroke-width=\"%s\"/>\n",
			page.Num(m.X), page.Num(m.Y), page.Num(m.R), fill, page.Num(m.Wide))
	case Text:
		more := ""
		if m.Bold {
			more += ` font-weight="700"`
		}
		if m.White {
			more += ` fill="#fff"`
		}
		fmt.Fprintf(b, "<text x=\"%s\" y=\"%s\" font-size=\"%s\"%s xml:space=\"preserve\">%s</text>\n",
			page.Num(m.Box().X), page.Num(m.Y), page.Num(m.Size), more, page.Escape(m.S))
	}
}
