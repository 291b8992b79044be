package ooxml

import (
	"strconv"

	"halves/document"
)

// figureSize fits a picture into the line.
func figureSize(w, h float64, width int) (cx, cy int) {
	scale := min(1, float64(width)/(15*w)) // a pixel is 15 twips
	return max(int(w*scale*emuPerPixel), 1), max(int(h*scale*emuPerPixel), 1)
}

// figure writes a picture with its caption, and the table of its numbers.
func (x *docx) figure(f document.Figure) {
	outer := x.outer
	t := tableOf(f)
	emf, err := encodeEMF(f.Drawn.Picture)
	if err != nil { // no picture, or none that can be drawn: the words stand for it
		x.outer = x.inner
		x.text("", document.Inline{{Prose: f.Drawn.Description}})
	} else {
		x.figures = append(x.figures, emf)
		n := len(x.figures)
		cx, cy := figureSize(f.Drawn.Picture.Width, f.Drawn.Picture.Height, x.width)
		x.paragraph(paragraph{style: "Picture"}, func() {
			x.tag(`<w:r><w:drawing><wp:inline distT="0" distB="0" distL="0" distR="0"><wp:extent`)
			x.attribute("cx", cx)
			x.attribute("cy", cy)
			x.tag("/><wp:docPr")
			x.attribute("id", n)
			x.tag(` name="Figure `, strconv.Itoa(n), `" descr="`)
			x.markup.text(f.Drawn.Description)
			x.tag(`" title="`)
			x.markup.text(f.Drawn.Title)
			x.tag(`"/><a:graphic><a:graphicData uri="http://schemas.openxmlformats.org/drawingml/2006/picture">`)
			x.picture("pic", n, f.Drawn.Description, id(figureRelation+n-1), 0, 0, cx, cy)
			x.tag("</a:graphicData></a:graphic></wp:inline></w:drawing></w:r>")
		})
		x.outer = x.inner
		x.text("Caption", document.Inline{{Prose: f.Drawn.Title}})
	}
	x.outer = outer
	if len(t.Rows) > 0 {
		x.table(t)
	}
}

// picture writes a picture of DrawingML, which DOCX and PPTX name by different
// prefixes.
func (m *markup) picture(space string, n int, description, relation string, left, top, cx, cy int) {
	name := "<" + space + ":"
	end := "</" + space + ":"
	m.tag(name, "pic")
	if space == "pic" {
		m.tag(` xmlns:pic="http://schemas.openxmlformats.org/drawingml/2006/picture"`)
	}
	m.tag(">", name, "nvPicPr>", name, "cNvPr")
	m.attribute("id", n)
	m.tag(` name="Figure `, strconv.Itoa(n), `" descr="`)
	m.text(description)
	m.tag(`"/>`, name, `cNvPicPr><a:picLocks noChangeAspect="1"/>`, end, "cNvPicPr>")
	if space == "p" {
		m.tag("<p:nvPr/>")
	}
	m.tag(end, "nvPicPr>", name, `blipFill><a:blip r:embed="`, relation, `"/><a:stretch><a:fillRect/></a:stretch>`, end, "blipFill>", name, "spPr>")
	m.frame("a", left, top, cx, cy)
	m.tag(`<a:prstGeom prst="rect"><a:avLst/></a:prstGeom>`, end, "spPr>", end, "pic>")
}

// frame writes where a shape stands, in EMU.
func (m *markup) frame(space string, left, top, cx, cy int) {
	m.tag("<", space, ":xfrm><a:off")
	m.attribute("x", left)
	m.attribute("y", top)
	m.tag("/><a:ext")
	m.attribute("cx", cx)
	m.attribute("cy", cy)
	m.tag("/></", space, ":xfrm>")
}

// figure writes a picture as large as there is room.
func (w *slideWriter) figure(f document.Figure, top, h float64) {
	data, err := encodeEMF(f.Drawn.Picture)
	if err != nil { // the words stand for it
		text := piecesOf(document.Inline{{Prose: f.Drawn.Description}})
		w.text(segment{lines: []line{{level: proseLevel, parts: set(text, false, false)}}}, "", top, h, 1, false)
		return
	}
	n := len(w.figures)
	name := figureName("ppt", n)
	w.figures = append(w.figures, part{name: name, data: data})
	w.part.refers = append(w.part.refers, relation{"image", name})
	pw, ph := f.Drawn.Picture.Width, f.Drawn.Picture.Height
	scale := min(slideWidth/pw, h/ph)
	w.shapes++
	w.picture("p", w.shapes, f.Drawn.Description, id(len(w.part.refers)-1), emu(slideLeft+(slideWidth-pw*scale)/2), emu(top), max(emu(pw*scale), 1), max(emu(ph*scale), 1))
}
