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
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("# Pinout: %s", md(p.Pod))
	line("")
	if p.Job != "" {
		line("%s  ", md("of "+p.Job))
	}
	for _, l := range p.about() {
		line("%s  ", md(l))
	}
	line("%s", md(p.Counts.String()))
	line("")
	line(markdownHead)
	line("|---|---|---|---|---|---|---|---|---|")
	for _, e := range p.Ends {
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
		line("| %s |", strings.Join(cells, " | "))
	}
	line("")
	line("## Contact tables")
	line("")
	line("Other switches at rest. %s", md(g.Legend()))
	for _, t := range p.Tables {
		line("")
		line("### %s", md(t.title()))
		line("")
		for _, l := range t.Draw(g, TextWidth) {
			line("    %s", l)
		}
	}
	line("")
	line("## Links and the readings behind them")
	line("")
	line("| between | when | grade | ohms | readings |")
	line("|---|---|---|---|---|")
	for _, l := range p.Links {
		n := ""
		if len(l.Readings) > 0 {
			n = strings.TrimPrefix(strings.TrimPrefix(numbers(l, 0), "readings "), "reading ")
		}
		ohms := ""
		if l.Ohms != nil {
			ohms = mapping.Resistance(*l.Ohms)
		}
		line("| %s | %s | %s | %s | %s |", md(l.Between[0]+"-"+l.Between[1]), md(l.When), md(l.Grade.String()), ohms, n)
	}
	section := func(title string, items []string) {
		if len(items) == 0 {
			return
		}
		line("")
		line("## %s", title)
		line("")
		for _, s := range items {
			line("- %s", md(s))
		}
	}
	section("What is not known, and notes", p.Notes)
	section("Cautions", p.Cautions)
	var read []string
	for _, r := range p.Readings {
		read = append(read, fmt.Sprintf("%d: %s", r.ID, r.Says))
	}
	section("Readings cited", read)
	_, err := io.WriteString(w, b.String())
	return err
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
