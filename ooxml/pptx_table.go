package ooxml

import "strconv"

// table writes a table of DrawingML.
func (w *slideWriter) table(g *grid, ph string, top, h, scale float64) {
	size := cellSize(scale)
	w.shapes++
	w.tag("<p:graphicFrame><p:nvGraphicFramePr><p:cNvPr")
	w.attribute("id", w.shapes)
	w.tag(` name="Table `, strconv.Itoa(w.shapes), `" descr="`)
	w.markup.text(g.caption)
	w.tag(`"/><p:cNvGraphicFramePr><a:graphicFrameLocks noGrp="1"/></p:cNvGraphicFramePr><p:nvPr>`)
	if ph != "" {
		w.tag("<p:ph ", ph, "/>")
	}
	w.tag("</p:nvPr></p:nvGraphicFramePr>")
	w.frame("p", emu(slideLeft), emu(top), emu(sum(g.widths)), emu(h))
	w.tag(`<a:graphic><a:graphicData uri="http://schemas.openxmlformats.org/drawingml/2006/table"><a:tbl><a:tblPr`)
	if g.head != nil {
		w.tag(` firstRow="1"`)
	}
	w.tag(` firstCol="1"><a:tableStyleId>`, tableStyle, "</a:tableStyleId></a:tblPr><a:tblGrid>")
	for _, x := range g.widths {
		w.tag("<a:gridCol")
		w.attribute("w", emu(x))
		w.tag("/>")
	}
	w.tag("</a:tblGrid>")
	for i, r := range g.all() {
		head := i == 0 && g.head != nil
		w.tag("<a:tr")
		w.attribute("h", emu(rowHeight(r, g.widths, size, head)))
		w.tag(">")
		for k, c := range r {
			w.tag("<a:tc><a:txBody><a:bodyPr/><a:lstStyle/><a:p>")
			if g.right[k] {
				w.tag(`<a:pPr algn="r"/>`)
			}
			for _, p := range c {
				w.run(styled{piece: p, bold: head}, size)
			}
			if len(c) == 0 {
				w.tag(`<a:endParaRPr lang="`, w.language, `"`)
				w.attribute("sz", hundredths(size))
				w.tag("/>")
			}
			w.tag("</a:p></a:txBody><a:tcPr")
			w.attribute("marL", emu(slidePad))
			w.attribute("marR", emu(slidePad))
			w.attribute("marT", emu(slideRow/2))
			w.attribute("marB", emu(slideRow/2))
			w.tag(` anchor="ctr"/></a:tc>`)
		}
		w.tag("</a:tr>")
	}
	w.tag("</a:tbl></a:graphicData></a:graphic></p:graphicFrame>")
}
