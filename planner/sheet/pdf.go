package sheet

import (
	"fmt"
	"io"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// WritePDF writes all pages as one PDF, in true millimetres. The bytes depend
// on the pages and the time alone.
func WritePDF(w io.Writer, pages []Page, title string, when time.Time) error {
	if len(pages) == 0 {
		return fmt.Errorf("no pages to write")
	}
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: pages[0].Width, Ht: pages[0].Height}})
	doc.SetTitle(title, true)
	doc.SetCreationDate(when)
	doc.SetModificationDate(when)
	doc.SetCatalogSort(true)
	doc.SetMargins(0, 0, 0)
	doc.SetAutoPageBreak(false, 0)
	doc.AddUTF8FontFromBytes("sheet", "", goregular.TTF)
	doc.AddUTF8FontFromBytes("sheet", "B", gobold.TTF)
	doc.SetLineJoinStyle("round")
	doc.SetLineCapStyle("butt")
	for _, p := range pages {
		doc.AddPageFormat("P", fpdf.SizeType{Wd: p.Width, Ht: p.Height})
		pdfItems(doc, p.items)
	}
	return doc.Output(w)
}

func pdfItems(doc *fpdf.Fpdf, items []item) {
	for _, it := range items {
		switch it := it.(type) {
		case path:
			pdfPath(doc, it)
		case text:
			style := ""
			if it.bold {
				style = "B"
			}
			doc.SetFont("sheet", style, 10)
			doc.SetFontUnitSize(it.size)
			grey := int(it.grey * 255)
			doc.SetTextColor(grey, grey, grey)
			doc.Text(it.at.X-anchor(it), it.at.Y, it.string)
		case clip:
			doc.ClipRect(it.low.X, it.low.Y, it.high.X-it.low.X, it.high.Y-it.low.Y, false)
			pdfItems(doc, it.items)
			doc.ClipEnd()
		}
	}
}

func pdfPath(doc *fpdf.Fpdf, p path) {
	if len(p.points) < 2 {
		return
	}
	style := ""
	if p.fill >= 0 {
		grey := int(p.fill * 255)
		doc.SetFillColor(grey, grey, grey)
		style = "F"
	}
	if p.pen.width > 0 {
		grey := int(p.pen.grey * 255)
		doc.SetDrawColor(grey, grey, grey)
		doc.SetLineWidth(p.pen.width)
		doc.SetDashPattern(p.pen.dash, 0)
		style += "D"
	}
	if style == "" {
		return
	}
	doc.MoveTo(p.points[0].X, p.points[0].Y)
	for _, q := range p.points[1:] {
		doc.LineTo(q.X, q.Y)
	}
	if p.closed {
		doc.ClosePath()
	}
	doc.DrawPath(style)
}

// anchor is how far left of its anchor a text begins.
func anchor(t text) float64 {
	switch t.align {
	case centre:
		return widthOf(t.string, t.size, t.bold) / 2
	case right:
		return widthOf(t.string, t.size, t.bold)
	}
	return 0
}
