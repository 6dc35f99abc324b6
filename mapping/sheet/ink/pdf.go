package ink

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// producer stands in every document as what made it.
const producer = "bellout"

// PDF writes pages as one document with a title. The same pages give the same
// bytes: the dates in it are fixed, the page itself shows the builder's.
func PDF(title string, pages []Page) ([]byte, error) {
	f := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "pt", SizeStr: "A4"})
	epoch := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	f.SetCreationDate(epoch)
	f.SetModificationDate(epoch)
	f.SetCatalogSort(true)
	f.SetProducer(producer, false)
	f.SetTitle(title, true)
	f.SetAutoPageBreak(false, 0)
	// Copies, because fpdf writes into the bytes while it cuts a font down: the
	// second document of a run would otherwise differ from the first.
	f.AddUTF8FontFromBytes("go", "", slices.Clone(goregular.TTF))
	f.AddUTF8FontFromBytes("go", "B", slices.Clone(gobold.TTF))
	for _, p := range pages {
		// Given as portrait or landscape with the sides in the order that fpdf
		// expects: it swaps them for a landscape page.
		o := "P"
		if p.W > p.H {
			o = "L"
		}
		f.AddPageFormat(o, fpdf.SizeType{Wd: math.Min(p.W, p.H), Ht: math.Max(p.W, p.H)})
		for _, m := range p.Marks {
			pdfMark(f, m)
		}
	}
	var out bytes.Buffer
	if err := f.Output(&out); err != nil {
		return nil, fmt.Errorf("the PDF cannot be written: %w", err)
	}
	return out.Bytes(), nil
}

func pdfMark(f *fpdf.Fpdf, m Mark) {
	switch m := m.(type) {
	case Line:
		f.SetDrawColor(0, 0, 0)
		f.SetLineWidth(m.Wide)
		if m.Dashed {
			f.SetDashPattern([]float64{3, 2}, 0)
		}
		f.Line(m.X1, m.Y1, m.X2, m.Y2)
		if m.Dashed {
			f.SetDashPattern(nil, 0)
		}
	case Rect:
		if m.Grey > 0 {
			g := int(math.Round(255 * (1 - m.Grey)))
			f.SetFillColor(g, g, g)
			f.Rect(m.X, m.Y, m.W, m.H, "F")
		}
		if m.Wide > 0 {
			f.SetDrawColor(0, 0, 0)
			f.SetLineWidth(m.Wide)
			f.Rect(m.X, m.Y, m.W, m.H, "D")
		}
	case Dot:
		f.SetDrawColor(0, 0, 0)
		f.SetLineWidth(m.Wide)
		style := "D"
		if m.Filled {
			f.SetFillColor(0, 0, 0)
			style = "F"
		} else {
			f.SetFillColor(255, 255, 255)
			style = "FD"
		}
		f.Circle(m.X, m.Y, m.R, style)
	case Text:
		style := ""
		if m.Bold {
			style = "B"
		}
		c := 0
		if m.White {
			c = 255
		}
		f.SetTextColor(c, c, c)
		f.SetFont("go", style, m.Size)
		f.Text(m.Box().X, m.Y, m.S)
	}
}

// WrotePDF says whether a document was written by PDF.
func WrotePDF(text []byte) bool {
	return bytes.HasPrefix(text, []byte("%PDF-")) && bytes.Contains(text, []byte("/Producer ("+producer+")"))
}
