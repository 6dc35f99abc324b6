package pinout

import (
	"fmt"
	"io"
	"strings"

	"bellout/mapping"
)

// TextWidth is the most columns that a line of the plain text has.
const TextWidth = 80

// WriteText writes the pinout as plain text of at most TextWidth columns, with
// the signs of g.
func (p Pinout) WriteText(w io.Writer, g mapping.Glyphs) error {
	t := &textPage{g: g}
	t.para(p.heading())
	for _, l := range p.about() {
		t.para(l)
	}
	t.para(p.Counts.String())
	t.blank()
	t.ends(p)
	t.questions(p)
	t.blank()
	t.para(tablesHead)
	t.para(g.Legend())
	for _, table := range p.Tables {
		t.blank()
		t.para(table.title())
		t.lines = append(t.lines, table.Draw(g, TextWidth)...)
	}
	t.blank()
	t.para(linksHead)
	t.linkLines(p.Links)
	if len(p.Links) == 0 {
		t.para("none found")
	}
	t.list("WHAT IS NOT KNOWN, AND NOTES", p.Notes, "nothing is left open")
	t.list("CAUTIONS", p.Cautions, "")
	_, err := io.WriteString(w, strings.Join(t.lines, "\n")+"\n")
	return err
}

func (p Pinout) heading() string {
	s := "PINOUT  " + p.Pod
	if p.Job != "" {
		s += "  job: " + p.Job
	}
	return s
}

// about are the lines under the heading: who, when, which face.
func (p Pinout) about() []string {
	var s []string
	for _, f := range [][2]string{{"date", p.Date}, {"revision", p.Revision}, {"serial", p.Serial}, {"by", p.By}} {
		if f[1] != "" {
			s = append(s, f[0]+" "+f[1])
		}
	}
	face := "cavities: " + p.Face
	if p.Face != FaceNotStated {
		face = "cavities seen from: " + p.Face
	}
	if len(s) == 0 {
		return []string{face}
	}
	return []string{strings.Join(s, ", "), face}
}

// title of a contact table, with its common and form.
func (t Table) title() string {
	s := t.Switch
	if len(t.Ends) == 0 {
		return s
	}
	switch t.Common {
	case "none":
		s += ", no common"
	case "not settled":
	default:
		s += ", common " + t.Common
	}
	if t.Form != "" {
		s += "; form " + t.Form
	}
	return s
}

type textPage struct {
	g     mapping.Glyphs
	lines []string
}

func (t *textPage) blank()        { t.lines = append(t.lines, "") }
func (t *textPage) para(s string) { t.lines = append(t.lines, wrap(s, TextWidth)...) }

var endWidths = []int{6, 6, 4, 4, 7, 33, 8}

func (t *textPage) ends(p Pinout) {
	rule := strings.Repeat("-", TextWidth)
	t.lines = append(t.lines, aligned(endWidths, []string{"end", "colour", "old", "new", "DIN", "function", "grade"})...)
	t.lines = append(t.lines, rule)
	for _, e := range p.Ends {
		function := e.Function
		if e.Overruled {
			function += " (named by the builder)"
		}
		if e.Says != "" {
			function += " [" + e.mark() + "]"
		}
		if e.Fate != "" {
			function += "; wire: " + e.Fate
		}
		t.lines = append(t.lines, aligned(endWidths, []string{
			e.ID, e.Colour, e.OldCavity, e.NewCavity, e.Terminal, function, t.g.Grade(mapping.Grade(e.Grade)) + " " + e.Grade.String(),
		})...)
	}
	t.lines = append(t.lines, rule)
}

// mark is the short form of what continuity cannot settle; the questions below
// the table say it in full.
func (e End) mark() string {
	if e.Says == Harmless {
		return "either, harmless"
	}
	return "either, MATTERS"
}

// questions lists what continuity cannot settle, each once with the ends that
// it concerns.
func (p Pinout) questions() []string {
	var order []string
	ends := map[string][]string{}
	for _, e := range p.Ends {
		if e.Says == "" {
			continue
		}
		q := e.Says + ": " + e.Do
		if e.Do == "" {
			q = e.Says
		}
		if len(ends[q]) == 0 {
			order = append(order, q)
		}
		ends[q] = append(ends[q], e.ID)
	}
	var out []string
	for _, q := range order {
		out = append(out, strings.Join(ends[q], ", ")+": "+q)
	}
	return out
}

func (t *textPage) questions(p Pinout) {
	q := p.questions()
	if len(q) == 0 {
		return
	}
	t.list("WHAT CONTINUITY CANNOT SETTLE", q, "")
}

func (t *textPage) list(title string, items []string, none string) {
	t.blank()
	t.para(title)
	if len(items) == 0 && none != "" {
		t.para(none)
	}
	for _, s := range items {
		for i, l := range wrap(s, TextWidth-2) {
			lead := "  "
			if i == 0 {
				lead = "* "
			}
			t.lines = append(t.lines, lead+l)
		}
	}
}

// linkLines gives each link a line, and what was read on the next where both
// do not fit.
func (t *textPage) linkLines(links []Link) {
	for _, l := range links {
		head := fmt.Sprintf("%s-%s  %s  %s %s", l.Between[0], l.Between[1], l.When, t.g.Grade(mapping.Grade(l.Grade)), l.Grade)
		var read []string
		if l.Ohms != nil {
			read = append(read, mapping.Resistance(*l.Ohms))
		}
		if len(l.Readings) > 0 {
			read = append(read, numbers(l, fewRuns))
		}
		tail := strings.Join(read, ", ")
		if tail != "" && columns(head)+2+columns(tail) <= TextWidth {
			head, tail = head+"  "+tail, ""
		}
		t.para(head)
		if tail != "" {
			for _, line := range wrap(tail, TextWidth-6) {
				t.lines = append(t.lines, "      "+line)
			}
		}
	}
}

// fewRuns is how many runs of readings a page names for one link; the rest are
// counted. JSON and CSV name all.
const fewRuns = 6

// numbers lists the readings behind a link, "readings 3, 8-12 and 20 more",
// naming at most a number of runs (0: all).
func numbers(l Link, most int) string {
	word := "readings "
	if len(l.Readings) == 1 {
		word = "reading "
	}
	var s []string
	for i := 0; i < len(l.Readings); {
		j := i
		for j+1 < len(l.Readings) && l.Readings[j+1] == l.Readings[j]+1 {
			j++
		}
		if most > 0 && len(s) == most {
			return word + strings.Join(s, ", ") + fmt.Sprintf(" and %d more", len(l.Readings)-i)
		}
		run := fmt.Sprint(l.Readings[i])
		switch {
		case j == i+1:
			run += ", " + fmt.Sprint(l.Readings[j])
		case j > i:
			run += "-" + fmt.Sprint(l.Readings[j])
		}
		s = append(s, run)
		i = j + 1
	}
	return word + strings.Join(s, ", ")
}
