package pinout

import (
	"fmt"
	"io"
	"strings"

	"bellout/mapping"
)

const markdownHead = "| end | colour | IEC 60757 | old cavity | new cavity | DIN 72552 | function | grade | continuity |"

// WriteMarkdown writes the pinout as Markdown, contact tables as preformatted
// text, so that they stay aligned.
func (p Pinout) WriteMarkdown(w io.Writer, g mapping.Glyphs) error {
	var b mdPage
	b.line("# Pinout: %s", md(p.Pod))
	b.line("")
	if p.Job != "" {
		b.line("%s  ", md("of "+p.Job))
	}
	for _, l := range p.about() {
		b.line("%s  ", md(l))
	}
	b.line("%s", md(p.Counts.String()))
	b.line("")
	b.line(markdownHead)
	b.line("|---|---|---|---|---|---|---|---|---|")
	for _, e := range p.Ends {
		b.end(e, g)
	}
	b.line("")
	b.line("## Contact tables")
	b.line("")
	b.line("Other switches at rest. %s", md(g.Legend()))
	for _, t := range p.Tables {
		b.line("")
		b.line("### %s", md(t.title()))
		b.line("")
		for _, l := range t.Draw(g, TextWidth) {
			b.line("    %s", l)
		}
	}
	b.line("")
	b.line("## Links and the readings behind them")
	b.line("")
	b.line("| between | when | grade | ohms | readings |")
	b.line("|---|---|---|---|---|")
	for _, l := range p.Links {
		b.link(l)
	}
	b.section("What is not known, and notes", p.Notes)
	b.section("Cautions", p.Cautions)
	var read []string
	for _, r := range p.Readings {
		read = append(read, fmt.Sprintf("%d: %s", r.ID, r.Says))
	}
	b.section("Readings cited", read)
	_, err := io.WriteString(w, b.String())
	return err
}

// mdPage is a page of Markdown in the making.
type mdPage struct{ strings.Builder }

func (b *mdPage) line(format string, args ...any) { fmt.Fprintf(b, format+"\n", args...) }

// end is the row of an end in the first table.
func (b *mdPage) end(e End, g mapping.Glyphs) {
	function := e.Function
	if e.Overruled {
		function += " (named by the builder)"
		if e.Proposed != "" {
			function += "; proposed: " + e.Proposed
		}
	}
	if e.Fate != "" {
		function += "; wire: " + e.Fate
	}
	says := e.Says
	if e.Do != "" {
		says += ": " + e.Do
	}
	var cells []string
	for _, c := range []string{
		e.ID, e.Colour, e.IEC, e.OldCavity, e.NewCavity, e.Terminal, function,
		g.Grade(mapping.Grade(e.Grade)) + " " + e.Grade.String(), says,
	} {
		cells = append(cells, md(c))
	}
	b.line("| %s |", strings.Join(cells, " | "))
}

// link is the row of a link, with the readings behind it.
func (b *mdPage) link(l Link) {
	n := ""
	if len(l.Readings) > 0 {
		n = strings.TrimPrefix(strings.TrimPrefix(numbers(l, 0), "readings "), "reading ")
	}
	ohms := ""
	if l.Ohms != nil {
		ohms = mapping.Resistance(*l.Ohms)
	}
	b.line("| %s | %s | %s | %s | %s |", md(l.Between[0]+"-"+l.Between[1]), md(l.When), md(l.Grade.String()), ohms, n)
}

func (b *mdPage) section(title string, items []string) {
	if len(items) == 0 {
		return
	}
	b.line("")
	b.line("## %s", title)
	b.line("")
	for _, s := range items {
		b.line("- %s", md(s))
	}
}

// md takes the meaning from the characters that Markdown gives one.
func md(s string) string {
	var b strings.Builder
	for _, r := range s {
		if strings.ContainsRune("\\`*_{}[]<>#|~&", r) {
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return b.String()
}
