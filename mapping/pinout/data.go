package pinout

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// WriteJSON writes the pinout as JSON, with keys as in the types.
func (p Pinout) WriteJSON(w io.Writer) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(p)
}

// ReadJSON reads what WriteJSON wrote.
func ReadJSON(r io.Reader) (Pinout, error) {
	var p Pinout
	dec := json.NewDecoder(r)
	dec.DisallowUnknownFields()
	if err := dec.Decode(&p); err != nil {
		return Pinout{}, fmt.Errorf("this is no pinout written by bellout: %w", err)
	}
	return p, nil
}

// csvHead are the columns of the CSV. The first says what the line is: pod,
// end, contact (one row of a contact table), link, unresolved, reading, note or
// caution.
var csvHead = []string{
	"record", "end", "with", "when", "base", "tracer", "iec60757", "old cavity", "new cavity",
	"din72552", "function", "grade", "continuity", "do", "overruled", "wire", "ohms", "readings", "text",
}

// WriteCSV writes the pinout as one table of comma-separated values in UTF-8.
//
// Unless raw is set, a cell of text that a spreadsheet would take for a formula
// (it begins with =, +, - or @ after spaces) gets a ' before it, for whoever
// reads it to take off. Numbers that the program makes are left as they are.
func (p Pinout) WriteCSV(w io.Writer, raw bool) error {
	c := csv.NewWriter(w)
	put := func(record string, cells map[string]string) {
		row := make([]string, len(csvHead))
		row[0] = record
		for i, h := range csvHead[1:] {
			row[i+1] = cells[h]
			if !raw {
				row[i+1] = guard(cells[h])
			}
		}
		_ = c.Write(row) // the error is kept and given by Error
	}
	_ = c.Write(csvHead)
	put("pod", map[string]string{"text": strings.Join(append([]string{p.heading()}, append(p.about(), p.Counts.String())...), "; ")})
	for _, e := range p.Ends {
		over := ""
		if e.Overruled {
			over = "yes"
		}
		put("end", map[string]string{
			"end": e.ID, "base": e.Base, "tracer": e.Tracer, "iec60757": e.IEC, "old cavity": e.OldCavity, "new cavity": e.NewCavity,
			"din72552": e.Terminal, "function": e.Function, "grade": e.Grade.String(), "continuity": e.Says, "do": e.Do,
			"overruled": over, "wire": e.Fate, "text": e.Proposed,
		})
	}
	for _, t := range p.Tables {
		for _, r := range t.Rows {
			when := t.Switch + " " + r.label()
			if r.Deep {
				when = r.Label
			}
			for _, net := range r.Nets {
				put("contact", map[string]string{"end": net[0], "with": strings.Join(net[1:], " "), "when": when, "text": "joined"})
			}
			if len(r.Nets) == 0 {
				put("contact", map[string]string{"when": when, "text": "nothing joined"})
			}
		}
	}
	for _, part := range []struct {
		record string
		links  []Link
	}{{"link", p.Links}, {"unresolved", p.Unresolved}} {
		for _, l := range part.links {
			var n []string
			for _, r := range l.Readings {
				n = append(n, fmt.Sprint(r))
			}
			ohms := ""
			if l.Ohms != nil {
				ohms = strconv.FormatFloat(*l.Ohms, 'g', -1, 64)
			}
			put(part.record, map[string]string{
				"end": l.Between[0], "with": l.Between[1], "when": l.When, "grade": l.Grade.String(), "ohms": ohms, "readings": strings.Join(n, " "),
			})
		}
	}
	for _, r := range p.Readings {
		put("reading", map[string]string{"readings": fmt.Sprint(r.ID), "text": r.Says})
	}
	for _, s := range p.Notes {
		put("note", map[string]string{"text": s})
	}
	for _, s := range p.Cautions {
		put("caution", map[string]string{"text": s})
	}
	c.Flush()
	return c.Error()
}

// guard keeps a spreadsheet from taking text for a formula. Text is clean
// already: it has no tab and no line break.
func guard(s string) string {
	t := strings.TrimSpace(s)
	if t != "" && (strings.ContainsRune("=+-@", rune(t[0])) || t[0] == '\'') {
		return "'" + t
	}
	// Full-width forms of the same signs are taken alike by some programs.
	for _, r := range "\uff1d\uff0b\uff0d\uff20" {
		if strings.HasPrefix(t, string(r)) {
			return "'" + t
		}
	}
	return s
}
