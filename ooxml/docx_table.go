package ooxml

import "halves/document"

// table writes a table, its head marked so that it is repeated on each page and
// named by a screen reader, or a paragraph for each row where it has no room.
func (x *docx) table(t document.Table) {
	g, records := gridOf(t, tableSize, points(x.width), points(cellPad))
	if g == nil {
		for i, r := range records {
			x.paragraph(paragraph{style: "Record", keep: x.keep(i == len(records)-1)}, func() { x.pieces(r) })
		}
		return
	}
	if len(g.widths) == 0 || len(g.all()) == 0 {
		return
	}
	if x.newPage || x.afterTable {
		// A table cannot begin a page by itself, and would grow together with one
		// before it.
		x.paragraph(paragraph{style: "TableGap", keep: true}, nil)
	}
	x.tag(`<w:tbl><w:tblPr><w:tblStyle w:val="WorkingTable"/><w:tblW`)
	total := 0
	columns := make([]int, len(g.widths))
	for k, w := range g.widths {
		columns[k] = int(20 * w)
		total += columns[k]
	}
	x.attribute("w:w", total)
	x.tag(` w:type="dxa"/><w:tblLook w:val="`)
	first := "0"
	if g.head != nil {
		first = "1"
		x.tag("04A0")
	} else {
		x.tag("0480")
	}
	x.tag(`" w:firstRow="`, first, `" w:lastRow="0" w:firstColumn="1" w:lastColumn="0" w:noHBand="0" w:noVBand="1"/>`)
	if g.caption != "" {
		x.tag(`<w:tblCaption w:val="`)
		x.markup.text(g.caption)
		x.tag(`"/>`)
	}
	x.tag("</w:tblPr><w:tblGrid>")
	for _, w := range columns {
		x.tag("<w:gridCol")
		x.attribute("w:w", w)
		x.tag("/>")
	}
	x.tag("</w:tblGrid>")
	if g.head != nil {
		x.tag("<w:tr><w:trPr><w:cantSplit/><w:tblHeader/></w:trPr>")
		for k, c := range g.head {
			x.cell(c, columns[k], paragraph{style: "TableHead", head: g.right[k], keep: true})
		}
		x.tag("</w:tr>")
	}
	for i, r := range g.rows {
		x.tag("<w:tr><w:trPr><w:cantSplit/></w:trPr>")
		for k, c := range r {
			p := paragraph{style: "TableText", keep: x.keep(i == len(g.rows)-1)}
			if g.right[k] {
				p.style = "TableNumber"
			}
			x.cell(c, columns[k], p)
		}
		x.tag("</w:tr>")
	}
	x.tag("</w:tbl>")
	x.afterTable = true
}

func (x *docx) cell(c cell, width int, p paragraph) {
	x.tag("<w:tc><w:tcPr><w:tcW")
	x.attribute("w:w", width)
	x.tag(` w:type="dxa"/></w:tcPr>`)
	x.paragraph(p, func() { x.pieces(c) })
	x.tag("</w:tc>")
}
