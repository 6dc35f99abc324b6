package page

import (
	"fmt"
	"io"
	"slices"
	"time"

	"codeberg.org/go-pdf/fpdf"
)

// WritePDF writes the sheets as one PDF. The title stands in the document's
// properties. The same sheets give the same bytes.
func WritePDF(w io.Writer, title string, sheets ...*Sheet) error {
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: A4Short, Ht: A4Long}})
	// No clock: a fixed date stands in for "now", which would change the bytes.
	never := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	pdf.SetCreationDate(never)
	pdf.SetModificationDate(never)
	pdf.SetCatalogSort(true)
	pdf.SetProducer("bellout", true)
	pdf.SetCreator("bellout", true)
	pdf.SetTitle(title, true)
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	pdf.SetCellMargin(0)
	for _, f := range usedFonts(sheets) {
		// A copy, because fpdf writes into the bytes while it cuts the font down:
		// the second page of a run would otherwise differ from the first.
		pdf.AddUTF8FontFromBytes(f.face().name, "", slices.Clone(f.face().ttf))
	}
	for _, s := range sheets {
		pdf.AddPageFormat("P", fpdf.SizeType{Wd: s.Width, Ht: s.Height})
		for _, m := range s.marks {
			m.pdf(pdf)
		}
	}
	if err := pdf.Output(w); err != nil {
		return fmt.Errorf("the page could not be written as PDF: %w", err)
	}
	return nil
}

func usedFonts(sheets []*Sheet) []Font {
	var used [len(faces)]bool
	for _, s := range sheets {
		for _, m := range s.marks {
			if m.kind == textMark {
				used[m.font] = true
			}
		}
	}
	var out []Font
	for f, u := range used {
		if u {
			out = append(out, Font(f))
		}
	}
	return out
}

func (m mark) pdf(pdf *fpdf.Fpdf) {
	style := ""
	if m.shade >= 0 {
		g := grey(m.shade)
		pdf.SetFillColor(g, g, g)
		style = "F"
	}
	if m.pen > 0 {
		pdf.SetLineWidth(m.pen)
		style += "D"
	}
	switch m.kind {
	case lineMark:
		if m.dash > 0 {
			pdf.SetDashPattern([]float64{m.dash, m.dash}, 0)
		}
		pdf.Line(m.x1, m.y1, m.x2, m.y2)
		if m.dash > 0 {
			pdf.SetDashPattern(nil, 0)
		}
	case boxMark:
		if style != "" {
			pdf.Rect(m.x1, m.y1, m.x2, m.y2, style)
		}
	case dotMark:
		if style != "" {
			pdf.Circle(m.x1, m.y1, m.x2, style)
		}
	case textMark:
		pdf.SetFont(m.font.face().name, "", m.size)
		pdf.Text(m.start(), m.y1, m.text)
	}
}

func grey(shade float64) int { return 255 - int(min(max(shade, 0), 1)*255+0.5) }
