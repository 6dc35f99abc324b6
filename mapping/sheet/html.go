package sheet

import (
	"fmt"
	"strings"

	"bellout/mapping/page"
	"bellout/mapping/sheet/ink"
)

// HTML writes the whole paper as one page that needs nothing else: the diagram
// as an inline drawing, the lists as tables, the font inside. It has no script
// and loads nothing. The same input gives the same bytes.
func HTML(in Input) ([]byte, error) {
	in = in.tidy()
	d, err := newDrawing(in)
	if err != nil {
		return nil, err
	}
	var b strings.Builder
	name := page.Escape(in.Plan.Name)
	b.WriteString("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n")
	b.WriteString("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n")
	b.WriteString("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; font-src data:\">\n")
	fmt.Fprintf(&b, "<title>%s: wiring</title>\n<style>\n%s%s@page wide{size:%.0fpt %.0fpt;margin:0}figure{page:wide}</style>\n</head>\n<body>\n",
		name, ink.FontCSS(), css, d.page.W, d.page.H)
	fmt.Fprintf(&b, "<div class=\"top\"><h1>%s: wiring</h1>\n<p>%s. %s.</p></div>\n", name, page.Escape(headLine(in.Plan)), page.Escape(gradeLine(in.Plan)))
	if notices := bypasses(in); len(notices) > 0 {
		b.WriteString("<div class=\"care\">\n")
		for _, n := range notices {
			fmt.Fprintf(&b, "<p>%s</p>\n", page.Escape(n))
		}
		b.WriteString("</div>\n")
	}
	b.WriteString("<figure>\n" + ink.SVG(in.Plan.Name+": wiring diagram; the same in words under \"In words\"", d.page) + "</figure>\n")
	for _, s := range report(in) {
		htmlSection(&b, s)
	}
	b.WriteString("<h2>In words</h2>\n<pre>")
	b.WriteString(page.Escape(strings.Join(wordsOf(in), "\n")))
	b.WriteString("</pre>\n</body>\n</html>\n")
	return []byte(b.String()), nil
}

// css is black on white; on paper the diagram has a sheet to itself.
const css = `body{font:15px/1.35 sheet,sans-serif;color:#000;background:#fff;margin:1.2em auto;max-width:80em;padding:0 1em}
h1{font-size:1.6em;margin:0}h2{background:#000;color:#fff;padding:.15em .5em;font-size:1.15em}h3{font-size:1em;margin:.9em 0 .2em}
figure{margin:1em 0;border:1px solid #000;overflow-x:auto}svg{display:block;width:100%;min-width:60em;height:auto}
table{border-collapse:collapse;margin:.2em 0 .8em}th,td{border-bottom:1px solid #999;padding:.12em .5em .12em 0;text-align:left;vertical-align:top}
th{border-bottom:2px solid #000}.grid{display:inline-table;margin-right:2.5em}.grid td{border:1px solid #000;width:2em;text-align:center;padding:.1em}
.grid td.no{border:0}.grid caption{text-align:left;font-weight:700}.care{border:2px solid #000;border-left-width:.6em;padding:.3em .6em;font-weight:700}
.care p{margin:.15em 0}.tick{display:inline-block;width:.8em;height:.8em;border:1.5px solid #000}.blank{display:inline-block;min-width:5em;border-bottom:1px solid #000}
pre{font:13px/1.3 monospace;overflow-x:auto}
@media print{body{font-size:9pt;margin:0;max-width:none;padding:0}.top{display:none}figure{break-after:page;border:0;margin:0}svg{min-width:0}tr,.care,.grid{break-inside:avoid}h2,h3{break-after:avoid}thead{display:table-header-group}}
`

func htmlSection(b *strings.Builder, s section) {
	fmt.Fprintf(b, "<h2>%s</h2>\n", page.Escape(s.title))
	if len(s.care) > 0 {
		b.WriteString("<div class=\"care\">\n")
		for _, c := range s.care {
			fmt.Fprintf(b, "<p>%s</p>\n", page.Escape(c))
		}
		b.WriteString("</div>\n")
	}
	for _, n := range s.notes {
		fmt.Fprintf(b, "<p>%s</p>\n", page.Escape(n))
	}
	for _, t := range s.tables {
		if t.grid {
			htmlGrid(b, t)
			continue
		}
		if t.title != "" {
			fmt.Fprintf(b, "<h3>%s</h3>\n", page.Escape(t.title))
		}
		for _, u := range t.under {
			fmt.Fprintf(b, "<p>%s</p>\n", page.Escape(u))
		}
		b.WriteString("<table>\n<thead><tr>")
		for _, h := range t.head {
			fmt.Fprintf(b, "<th>%s</th>", page.Escape(h))
		}
		b.WriteString("</tr></thead>\n<tbody>\n")
		for _, r := range t.rows {
			b.WriteString("<tr>")
			for _, c := range r {
				switch c {
				case tick:
					b.WriteString("<td><span class=\"tick\"></span></td>")
				case blank:
					b.WriteString("<td><span class=\"blank\">&#160;</span></td>")
				default:
					fmt.Fprintf(b, "<td>%s</td>", page.Escape(c))
				}
			}
			b.WriteString("</tr>\n")
		}
		b.WriteString("</tbody>\n</table>\n")
	}
}

func htmlGrid(b *strings.Builder, t table) {
	fmt.Fprintf(b, "<table class=\"grid\"><caption>%s</caption>", page.Escape(t.title))
	for _, r := range t.rows {
		b.WriteString("<tr>")
		for _, c := range r {
			if c == "" {
				b.WriteString("<td class=\"no\"></td>")
				continue
			}
			fmt.Fprintf(b, "<td>%s</td>", page.Escape(c))
		}
		b.WriteString("</tr>")
	}
	b.WriteString("</table>\n")
}
