package sheet

import (
	"strings"

	"github.com/charmbracelet/x/ansi"

	"bellout/mapping/plan"
)

// textWidth is the width of the text form in columns.
const textWidth = 80

// Text writes the whole paper as text, at most 80 columns wide: the diagram in
// words, then everything else. The same input gives the same bytes.
func Text(in Input) []byte {
	in = in.tidy()
	out := wrapText(strings.ToUpper(in.Plan.Name)+": WIRING", textWidth, "")
	out = append(out, wrapText(headLine(in.Plan)+".", textWidth, "")...)
	out = append(out, wrapText(gradeLine(in.Plan)+".", textWidth, "")...)
	for _, b := range bypasses(in) {
		out = append(out, wrapText("! "+b, textWidth, "  ")...)
	}
	out = append(out, "", bar(diagramTitle))
	out = append(out, wordsOf(in)...)
	for _, s := range report(in) {
		out = append(out, "", bar(s.title))
		for _, c := range s.care {
			out = append(out, wrapText("! "+c, textWidth, "  ")...)
		}
		for _, n := range s.notes {
			out = append(out, wrapText(n, textWidth, "  ")...)
		}
		for _, t := range s.tables {
			out = append(out, "")
			if t.title != "" {
				out = append(out, wrapText(t.title, textWidth, "  ")...)
			}
			for _, u := range t.under {
				out = append(out, wrapText(u, textWidth, "  ")...)
			}
			out = append(out, textTable(t)...)
		}
	}
	var b strings.Builder
	for _, l := range out {
		b.WriteString(strings.TrimRight(l, " ") + "\n")
	}
	return []byte(b.String())
}

func bar(title string) string {
	// Titles of sections are our own and short.
	s := "== " + title + " "
	return s + strings.Repeat("=", max(0, textWidth-ansi.StringWidth(s)))
}

// wordsOf tells the diagram in words: each box with its rows and where their
// wires go, then the contact tables. It is at most 80 columns wide.
func wordsOf(in Input) []string {
	s := newScheme(in)
	to := map[string][]string{}
	for _, w := range s.wires {
		to[w.from] = append(to[w.from], w.to)
		to[w.to] = append(to[w.to], w.from)
	}
	var out []string
	for _, x := range s.boxes {
		out = append(out, "")
		out = append(out, wrapText(x.title, textWidth, "  ")...)
		for _, h := range x.head {
			out = append(out, wrapText("  "+h, textWidth, "    ")...)
		}
		t := table{head: []string{"", "Wire", "What", "Inside", "Goes to"}}
		for _, r := range x.rows {
			goes := append([]string{}, to[r.point]...)
			if r.earth != "" {
				goes = append(goes, "earth "+r.earth)
			}
			t.rows = append(t.rows, []string{r.label, r.code, r.what, r.inside, strings.Join(goes, ", ")})
		}
		out = append(out, textTable(t)...)
		for _, f := range x.foot {
			out = append(out, wrapText("  "+f, textWidth, "    ")...)
		}
	}
	var pods []string
	for _, p := range in.Plan.Pods {
		pods = append(pods, podLines(p)...)
	}
	if len(pods) > 0 {
		out = append(out, "", "Contacts: tied ends are joined; * proved, o likely, ? open question,", "x not tested.")
		out = append(out, pods...)
	}
	return out
}

func podLines(p plan.Pod) []string {
	var out []string
	for _, t := range contactTables(p) {
		t.title = p.Name + ": " + t.title
		out = append(out, "")
		for _, l := range t.lines() {
			if ansi.StringWidth(l) > textWidth {
				l = ansi.Truncate(l, textWidth-4, " ...")
			}
			out = append(out, l)
		}
	}
	return out
}

// wrapText breaks a text at spaces, within a word where it must; lines after
// the first begin with the indent.
func wrapText(s string, width int, indent string) []string {
	lead := s[:len(s)-len(strings.TrimLeft(s, " "))]
	var lines []string
	line := lead
	empty := true
	for _, word := range strings.Fields(s) {
		for {
			gap := " "
			if empty {
				gap = ""
			}
			if ansi.StringWidth(line+gap+word) <= width {
				line += gap + word
				empty = false
				break
			}
			if !empty {
				lines = append(lines, line)
				line, empty = indent, true
				continue
			}
			head := ansi.Truncate(word, max(2, width-ansi.StringWidth(line)), "")
			if head == "" {
				line += word
				empty = false
				break
			}
			lines = append(lines, line+head)
			line, word = indent, word[len(head):]
			if word == "" {
				break
			}
		}
	}
	if !empty || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// textTable writes a table in 80 columns: cells are wrapped, columns two apart,
// or one where it is tight.
func textTable(t table) []string {
	if t.grid {
		return textGrid(t)
	}
	if len(t.rows) == 0 {
		return nil
	}
	n := len(t.head)
	widths, gap := textWidths(t)
	var out []string
	row := func(cells []string) {
		wrapped := make([][]string, n)
		high := 1
		for i, c := range cells {
			if widths[i] > 0 && c != "" {
				if c == tick || c == blank {
					wrapped[i] = []string{c}
				} else {
					wrapped[i] = wrapText(c, widths[i], "")
				}
				high = max(high, len(wrapped[i]))
			}
		}
		for k := range high {
			line := ""
			for i := range n {
				if widths[i] == 0 {
					continue
				}
				c := ""
				if k < len(wrapped[i]) {
					c = wrapped[i][k]
				}
				line += pad(c, widths[i]) + gap
			}
			out = append(out, strings.TrimRight(line, " "))
		}
	}
	if strings.Join(t.head, "") != "" {
		row(t.head)
		rule := ""
		for i := range n {
			if widths[i] > 0 {
				rule += strings.Repeat("-", widths[i]) + gap
			}
		}
		out = append(out, strings.TrimRight(rule, " "))
	}
	for _, r := range t.rows {
		row(r)
	}
	return out
}

// textGrid draws a plug's face.
func textGrid(t table) []string {
	cell := 2
	for _, r := range t.rows {
		for _, c := range r {
			cell = max(cell, ansi.StringWidth(c))
		}
	}
	var out []string
	for _, r := range t.rows {
		line := "  "
		for _, c := range r {
			if c == "" {
				line += strings.Repeat(" ", cell+3)
				continue
			}
			line += "[" + strings.Repeat(" ", cell-ansi.StringWidth(c)) + c + "] "
		}
		out = append(out, strings.TrimRight(line, " "))
	}
	return out
}
