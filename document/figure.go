package document

import (
	"bytes"

	"halves/diagram"
	"halves/drawing"
)

// A Figure is a picture with the table of its numbers. HTML shows both; where
// there are no pictures the description and the table stand for it.
type Figure struct{ Drawn diagram.Drawn }

func (Figure) block() {}

// blocks are what stands for a figure without its picture.
func (f Figure) blocks() []Block {
	return []Block{Paragraph{Plain(f.Drawn.Description)}, f.table()}
}

// FigureTable lays out the numbers of a picture, for a page that shows the picture
// itself.
func FigureTable(f diagram.Drawn) *Document {
	return &Document{Blocks: []Block{Paragraph{Plain(f.Description)}, Figure{f}.table()}}
}

// table returns the numbers of the picture.
func (f Figure) table() Table {
	t := f.Drawn.Table
	cells := func(row []diagram.Cell) []Inline {
		out := make([]Inline, len(row))
		for i, c := range row {
			switch {
			case c.Formula != nil:
				out[i] = Inline{{Formula: c.Formula, Spoken: c.Spoken}}
			case c.Spoken != "" && c.Prose != "":
				out[i] = Said(c.Prose, c.Spoken)
			case c.Prose != "":
				out[i] = Plain(c.Prose)
			}
		}
		return out
	}
	out := Table{Caption: t.Caption, Head: cells(t.Head), Right: t.Right}
	for _, r := range t.Rows {
		out.Rows = append(out.Rows, cells(r))
	}
	return out
}

// figure writes the picture inside the page.
func (h *htmlWriter) figure(f Figure) {
	h.figures++
	var svg bytes.Buffer
	// Writing to memory cannot fail.
	_ = drawing.SVG(&svg, f.Drawn.Picture, drawing.Options{Prefix: "figure-" + string(rune('a'+(h.figures-1)%26)), Bare: h.bare})
	h.tag("<figure>\n")
	h.tag(svg.String())
	h.tag("<figcaption>")
	h.text(f.Drawn.Title)
	h.tag("</figcaption>\n")
	h.table(f.table())
	h.tag("</figure>\n")
}
