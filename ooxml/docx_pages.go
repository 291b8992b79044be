package ooxml

import (
	"strings"

	"halves/document"
)

// section ends the body with the size of its pages.
func (x *docx) section(p Paper) {
	w, h := p.twips()
	x.tag(`<w:sectPr><w:headerReference w:type="default" r:id="`, id(headerRelation), `"/><w:footerReference w:type="default" r:id="`, id(footerRelation), `"/><w:pgSz`)
	x.attribute("w:w", w)
	x.attribute("w:h", h)
	x.tag("/><w:pgMar")
	for _, side := range [...]string{"top", "right", "bottom", "left"} {
		x.attribute("w:"+side, margin)
	}
	x.tag(` w:header="567" w:footer="567" w:gutter="0"/></w:sectPr>`)
}

// numbering returns the part that tells how lists are numbered.
func (x *docx) numbering() []byte {
	var m markup
	for i, n := range x.numbers {
		m.tag("<w:num")
		m.attribute("w:numId", choiceList+1+i)
		m.tag("><w:abstractNumId")
		m.attribute("w:val", n.kind)
		m.tag(`/><w:lvlOverride w:ilvl="0"><w:startOverride`)
		m.attribute("w:val", n.number)
		m.tag("/></w:lvlOverride></w:num>")
	}
	return []byte(strings.Replace(numberingPart, "{lists}", string(m), 1))
}

// header has the course and the version on one line.
func header(r document.Running) []byte {
	var m markup
	m.tag(declaration, "<w:hdr ", wordSpaces, `><w:p><w:pPr><w:pStyle w:val="Header"/></w:pPr>`)
	m.running(r.Left)
	if r.Right != "" {
		m.tag("<w:r><w:tab/></w:r>")
		m.running(r.Right)
	}
	m.tag("</w:p></w:hdr>")
	return m
}

// footer has the check code, and the number of the page of how many.
func footer(r document.Running) []byte {
	var m markup
	m.tag(declaration, "<w:ftr ", wordSpaces, `><w:p><w:pPr><w:pStyle w:val="Footer"/></w:pPr>`)
	m.running(r.Foot)
	m.tag("<w:r><w:tab/></w:r>")
	m.tag(`<w:fldSimple w:instr=" PAGE "><w:r><w:t>1</w:t></w:r></w:fldSimple>`)
	m.running(" of ")
	m.tag(`<w:fldSimple w:instr=" NUMPAGES "><w:r><w:t>1</w:t></w:r></w:fldSimple></w:p></w:ftr>`)
	return m
}

func (m *markup) running(s string) {
	if s != "" {
		m.tag(`<w:r><w:t xml:space="preserve">`)
		m.text(s)
		m.tag("</w:t></w:r>")
	}
}
