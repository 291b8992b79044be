package ooxml

import (
	"strconv"

	"halves/document"
)

// Where things stand on a slide, in points; as the master has them.
const (
	slideLeft  = 36.0
	titleTop   = 22.0
	titleRoom  = 76.0
	contentTop = 106.0
)

// A slideWriter writes one slide.
type slideWriter struct {
	markup
	*pptx
	part   part
	shapes int // so far; the first is the group of them all
}

// slide adds a slide.
func (x *pptx) slide(title document.Inline, p page, notes []document.Inline) {
	n := len(x.slides)
	w := &slideWriter{pptx: x, shapes: 1, part: part{name: slideName(n), content: slideType + "slide+xml", refers: []relation{{"slideLayout", layoutName}}}}
	w.tag(declaration, "<p:sld ", slideSpaces, `><p:cSld><p:spTree><p:nvGrpSpPr><p:cNvPr id="1" name=""/><p:cNvGrpSpPr/><p:nvPr/></p:nvGrpSpPr><p:grpSpPr/>`)
	w.title(title)
	w.content(p)
	if x.footer != "" {
		w.placeholder("Footer", `type="ftr" sz="quarter" idx="11"`, func() {
			w.tag(`<a:p><a:pPr algn="l"/>`)
			w.run(styled{piece: piece{x.footer, prose}}, 0)
			w.tag("</a:p>")
		})
	}
	w.placeholder("Slide Number", `type="sldNum" sz="quarter" idx="12"`, func() {
		w.tag(`<a:p><a:fld id="{5D3B1C60-2E5A-4C86-8E0B-6A1F4C9E7D02}" type="slidenum"><a:rPr lang="`, x.language, `"/><a:t>`)
		w.number(n + 1)
		w.tag("</a:t></a:fld></a:p>")
	})
	w.tag(`</p:spTree></p:cSld><p:clrMapOvr><a:masterClrMapping/></p:clrMapOvr></p:sld>`)
	if len(notes) > 0 {
		name := "ppt/notesSlides/notesSlide" + strconv.Itoa(len(x.notes)+1) + ".xml"
		w.part.refers = append(w.part.refers, relation{"notesSlide", name})
		x.note(name, w.part.name, notes)
	}
	w.part.data = w.markup
	x.slides = append(x.slides, w.part)
}

// shape begins a shape with text: a placeholder, or a text box where ph is "".
func (w *slideWriter) shape(name, ph string) {
	w.shapes++
	w.tag("<p:sp><p:nvSpPr><p:cNvPr")
	w.attribute("id", w.shapes)
	w.tag(` name="`, name, " ", strconv.Itoa(w.shapes), `"/>`)
	if ph == "" {
		w.tag(`<p:cNvSpPr txBox="1"/><p:nvPr/></p:nvSpPr>`)
	} else {
		w.tag(`<p:cNvSpPr><a:spLocks noGrp="1"/></p:cNvSpPr><p:nvPr><p:ph `, ph, `/></p:nvPr></p:nvSpPr>`)
	}
}

// placeholder writes one that is set as the layout has it.
func (w *slideWriter) placeholder(name, ph string, text func()) {
	w.shape(name, ph)
	w.tag("<p:spPr/><p:txBody><a:bodyPr/><a:lstStyle/>")
	text()
	w.tag("</p:txBody></p:sp>")
}

// title writes the title, smaller where it is long.
func (w *slideWriter) title(text document.Inline) {
	const large = 32
	all := piecesOf(text)
	size := large
	for size > 12 && float64(size)*1.15*float64(linesOf(all, float64(size), true, slideWidth, slideWidth)) > titleRoom {
		size -= 2
	}
	w.shape("Title", `type="title"`)
	w.tag("<p:spPr/><p:txBody><a:bodyPr/><a:lstStyle>")
	if size < large {
		w.tag("<a:lvl1pPr><a:defRPr")
		w.attribute("sz", 100*size)
		w.tag("/></a:lvl1pPr>")
	}
	w.tag("</a:lstStyle><a:p>")
	for _, p := range all {
		w.run(styled{piece: p}, 0)
	}
	w.tag("</a:p></p:txBody></p:sp>")
}

// content writes segments one below the other. The first of them is the content
// of the layout.
func (w *slideWriter) content(p page) {
	used, _ := heightOfAll(p.segments, p.scale)
	figures := 0
	for _, s := range p.segments {
		if s.figure != nil {
			figures++
		}
	}
	top := contentTop
	for i, s := range p.segments {
		h, _ := s.height(p.scale)
		ph := ""
		if i == 0 {
			ph = `idx="1"`
		}
		switch {
		case s.table != nil:
			w.table(s.table, ph, top, h, p.scale)
		case s.figure != nil:
			h += max(slideHeight-used, 0) / float64(figures)
			w.figure(*s.figure, top, h)
		default:
			w.text(s, ph, top, h, p.scale, len(p.segments) == 1)
		}
		top += h + segmentGap
	}
}

// text writes lines. A placeholder has the levels of the master, in smaller
// letters where there is much to write; a text box has them from here.
func (w *slideWriter) text(s segment, ph string, top, h, scale float64, alone bool) {
	name := "Content"
	if s.framed {
		name = "Answer"
	}
	w.shape(name, ph)
	w.tag("<p:spPr>")
	if !alone || s.framed {
		w.frame("a", emu(slideLeft), emu(top), emu(slideWidth), emu(h))
		w.tag(`<a:prstGeom prst="rect"><a:avLst/></a:prstGeom>`)
	}
	body := `<a:bodyPr wrap="square" lIns="0" tIns="0" rIns="0" bIns="0" anchor="t">`
	if s.framed {
		w.tag(`<a:noFill/><a:ln w="25400"><a:solidFill><a:schemeClr val="tx1"/></a:solidFill></a:ln>`)
		body = `<a:bodyPr wrap="square" lIns="127000" tIns="0" rIns="127000" bIns="0" anchor="ctr">`
	}
	w.tag("</p:spPr><p:txBody>", body, "<a:normAutofit/></a:bodyPr><a:lstStyle>")
	if ph == "" || scale < 1 {
		w.tag(levelStyles(scale))
	}
	w.tag("</a:lstStyle>")
	for i, l := range s.lines {
		w.line(l, scale, i == 0)
	}
	w.tag("</p:txBody></p:sp>")
}

// line writes a paragraph. The order of its properties is that of the schema.
func (w *slideWriter) line(l line, scale float64, first bool) {
	s := lineStyles[l.level]
	w.tag("<a:p><a:pPr")
	switch {
	case l.letter:
		w.hanging(lineStyle{left: 1.4 * s.size, hang: 1.4 * s.size}, scale)
	case l.arrow == 0 && (l.level == equationLevel || l.level == ledgerLevel):
		w.hanging(s, scale)
	}
	if l.level > 1 {
		w.attribute("lvl", l.level-1)
	}
	w.tag(">")
	if first {
		w.tag(`<a:spcBef><a:spcPts val="0"/></a:spcBef>`)
	}
	if l.letter {
		w.tag(`<a:buFont typeface="+mj-lt"/><a:buAutoNum type="alphaUcPeriod"/>`)
	}
	if l.arrow > 0 {
		w.tag(`<a:tabLst><a:tab`)
		w.attribute("pos", emu(l.arrow))
		w.tag(` algn="r"/><a:tab`)
		w.attribute("pos", emu(l.arrow+slideGap))
		w.tag(` algn="l"/></a:tabLst>`)
	}
	w.tag("</a:pPr>")
	if l.arrow > 0 {
		w.raw("\t")
	}
	for _, p := range l.parts {
		w.run(p, 0)
	}
	if l.arrow > 0 {
		w.raw("\t")
		for _, p := range l.right {
			w.run(p, 0)
		}
	}
	w.tag("</a:p>")
}

// raw writes a run of markup: a tab.
func (w *slideWriter) raw(s string) {
	w.tag(`<a:r><a:rPr lang="`, w.language, `"/><a:t>`, s, "</a:t></a:r>")
}

// run writes a piece, in letters of a size; 0 is that of the level.
func (w *slideWriter) run(p styled, size float64) {
	w.markup.run(p, size, w.language)
}

func (m *markup) run(p styled, size float64, language string) {
	if p.kind == newLine {
		m.tag("<a:br/>")
		return
	}
	m.tag(`<a:r><a:rPr lang="`, language, `"`)
	if size > 0 {
		m.attribute("sz", hundredths(size))
	}
	if p.bold {
		m.tag(` b="1"`)
	}
	if p.italic || p.kind == slanted {
		m.tag(` i="1"`)
	}
	if p.kind == blank {
		m.tag(` u="sng"`)
	}
	switch p.kind {
	case lowered:
		m.tag(` baseline="-25000"`)
	case raised:
		m.tag(` baseline="30000"`)
	}
	if p.kind != prose {
		m.tag(` noProof="1"`)
	}
	if p.kind == arrow {
		m.tag(`><a:latin typeface="`, arrowFace, `"/><a:ea typeface="`, arrowFace, `"/><a:cs typeface="`, arrowFace, `"/></a:rPr><a:t>`)
	} else {
		m.tag("/><a:t>")
	}
	m.text(p.text)
	m.tag("</a:t></a:r>")
}

// note adds a page of notes: the slide, and what is said to it.
func (x *pptx) note(name, of string, notes []document.Inline) {
	var m markup
	m.tag(declaration, "<p:notes ", slideSpaces, `><p:cSld><p:spTree><p:nvGrpSpPr><p:cNvPr id="1" name=""/><p:cNvGrpSpPr/><p:nvPr/></p:nvGrpSpPr><p:grpSpPr/>`,
		`<p:sp><p:nvSpPr><p:cNvPr id="2" name="Slide Image 2"/><p:cNvSpPr><a:spLocks noGrp="1" noRot="1" noChangeAspect="1"/></p:cNvSpPr><p:nvPr><p:ph type="sldImg"/></p:nvPr></p:nvSpPr><p:spPr/></p:sp>`,
		`<p:sp><p:nvSpPr><p:cNvPr id="3" name="Notes 3"/><p:cNvSpPr><a:spLocks noGrp="1"/></p:cNvSpPr><p:nvPr><p:ph type="body" idx="1"/></p:nvPr></p:nvSpPr><p:spPr/><p:txBody><a:bodyPr/><a:lstStyle/>`)
	for _, n := range notes {
		m.tag("<a:p>")
		for _, p := range piecesOf(n) {
			m.run(styled{piece: p}, 0, x.language)
		}
		m.tag("</a:p>")
	}
	m.tag("</p:txBody></p:sp></p:spTree></p:cSld><p:clrMapOvr><a:masterClrMapping/></p:clrMapOvr></p:notes>")
	x.notes = append(x.notes, part{name: name, content: slideType + "notesSlide+xml", data: m, refers: []relation{{"notesMaster", notesName}, {"slide", of}}})
}
