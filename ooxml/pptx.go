package ooxml

import (
	_ "embed"
	"io"
	"strconv"
	"strings"

	"halves/document"
)

// The parts of a PPTX that are the same in each but for the words in braces.
var (
	//go:embed parts/master.xml
	masterPart string
	//go:embed parts/layout.xml
	layoutPart string
	//go:embed parts/notes.xml
	notesPart string
	//go:embed parts/tables.xml
	tablesPart string
)

const (
	slideSpaces = `xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships" xmlns:p="http://schemas.openxmlformats.org/presentationml/2006/main"`
	tableStyle  = "{7B1F0E52-6C1B-4B7E-9E6D-2D8C1B6F4A01}"
	masterName  = "ppt/slideMasters/slideMaster1.xml"
	layoutName  = "ppt/slideLayouts/slideLayout1.xml"
	notesName   = "ppt/notesMasters/notesMaster1.xml"
)

// PPTX writes d as slides of PresentationML, each Slide of a deck with the talk
// track as its notes. A document that is no deck has a slide for each section
// and each question. What has no room on a slide in letters that can be read
// goes on upon the next.
//
// The error is that of w, or ErrNoDocument or a *SpaceError; with these nothing
// is written.
func PPTX(w io.Writer, d *document.Document, o Options) error {
	if err := check(d); err != nil {
		return err
	}
	x := &pptx{language: escaped(proofing(d, o.Paper)), footer: running(d.Running)}
	slides := slidesOf(d)
	for k, pages := range fitAll(slides) {
		s := slides[k]
		if len(pages) == 0 {
			pages = []page{{scale: 1}}
		}
		for i, p := range pages {
			title, notes := s.title, s.notes
			if i > 0 {
				title = append(title[:len(title):len(title)], document.Span{Prose: " (continued)"})
				notes = nil
			}
			x.slide(title, p, notes)
		}
	}
	return writePackage(w, x.assemble(d, o.Paper))
}

// running joins what stands at the head and the foot of pages into a line.
func running(r document.Running) string {
	var parts []string
	for _, s := range []string{r.Left, r.Right, r.Foot} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	return strings.Join(parts, " · ")
}

type pptx struct {
	language string // for an attribute
	footer   string
	slides   []part
	notes    []part
	figures  []part
}

func slideName(i int) string { return "ppt/slides/slide" + strconv.Itoa(i+1) + ".xml" }

// assemble puts the slides together with what they are made from.
func (x *pptx) assemble(d *document.Document, p Paper) []part {
	w, h := p.twips()
	w, h = w*emuPerTwip, h*emuPerTwip
	main := part{name: "ppt/presentation.xml", content: slideType + "presentation.main+xml", refers: []relation{
		{"slideMaster", masterName}, {"notesMaster", notesName}, {"theme", "ppt/theme/theme1.xml"}, {"tableStyles", "ppt/tableStyles.xml"},
	}}
	var m markup
	m.tag(declaration, "<p:presentation ", slideSpaces, ` saveSubsetFonts="1"><p:sldMasterIdLst><p:sldMasterId id="2147483648" r:id="`, id(0), `"/></p:sldMasterIdLst><p:notesMasterIdLst><p:notesMasterId r:id="`, id(1), `"/></p:notesMasterIdLst><p:sldIdLst>`)
	for i := range x.slides {
		m.tag("<p:sldId")
		m.attribute("id", 256+i)
		m.tag(` r:id="`, id(len(main.refers)), `"/>`)
		main.refers = append(main.refers, relation{"slide", slideName(i)})
	}
	m.tag(`</p:sldIdLst><p:sldSz cx="12192000" cy="6858000"/><p:notesSz`)
	m.attribute("cx", w)
	m.attribute("cy", h)
	m.tag(`/><p:defaultTextStyle><a:defPPr><a:defRPr lang="`, x.language, `"/></a:defPPr></p:defaultTextStyle></p:presentation>`)
	main.data = m

	parts := []part{
		{refers: []relation{{"officeDocument", main.name}, {"core-properties", "docProps/core.xml"}}},
		coreProperties(nameOf(d), tag(d)),
		main,
		{name: masterName, content: slideType + "slideMaster+xml", data: []byte(strings.Replace(masterPart, "{levels}", levelStyles(1), 1)),
			refers: []relation{{"slideLayout", layoutName}, {"theme", "ppt/theme/theme1.xml"}}},
		{name: layoutName, content: slideType + "slideLayout+xml", data: []byte(layoutPart), refers: []relation{{"slideMaster", masterName}}},
		{name: "ppt/theme/theme1.xml", content: themeType, data: []byte(themePart)},
		{name: notesName, content: slideType + "notesMaster+xml", data: notesMaster(w, h), refers: []relation{{"theme", "ppt/theme/theme2.xml"}}},
		{name: "ppt/theme/theme2.xml", content: themeType, data: []byte(themePart)},
		{name: "ppt/tableStyles.xml", content: slideType + "tableStyles+xml", data: []byte(tablesPart)},
	}
	parts = append(parts, x.slides...)
	parts = append(parts, x.notes...)
	return append(parts, x.figures...)
}

// notesMaster has the slide above and what is said below it, on a page of a size
// in EMU.
func notesMaster(w, h int) []byte {
	const edge = margin * emuPerTwip
	wide := w - 2*edge
	high := wide * 9 / 16
	frame := func(left, top, cx, cy int) string {
		var m markup
		m.frame("a", left, top, cx, cy)
		return string(m)
	}
	top := edge + high + edge/2
	return []byte(strings.NewReplacer("{slide}", frame(edge, edge, wide, high), "{notes}", frame(edge, top, wide, h-top-edge)).Replace(notesPart))
}

// levelStyles are the levels of an outline in letters of a scale.
func levelStyles(scale float64) string {
	var m markup
	for n := 1; n < levels; n++ {
		s := lineStyles[n]
		level := "a:lvl" + strconv.Itoa(n) + "pPr"
		m.tag("<", level)
		if n == listLevel {
			m.hanging(s, scale)
		} else {
			m.attribute("marL", 0)
		}
		m.tag(` algn="l"><a:lnSpc><a:spcPct val="100000"/></a:lnSpc><a:spcBef><a:spcPts`)
		m.attribute("val", int(100*s.before*scale))
		m.tag("/></a:spcBef>")
		if n == listLevel {
			m.tag(`<a:buFont typeface="Arial"/><a:buChar char="•"/>`)
		} else {
			m.tag("<a:buNone/>")
		}
		colour := "tx1"
		if n == remarkLevel || n == ledgerLevel {
			colour = "tx2"
		}
		m.tag("<a:defRPr")
		m.attribute("sz", hundredths(s.size*scale))
		m.tag(` kern="1200"><a:solidFill><a:schemeClr val="`, colour, `"/></a:solidFill><a:latin typeface="+mn-lt"/><a:ea typeface="+mn-ea"/><a:cs typeface="+mn-cs"/></a:defRPr></`, level, ">")
	}
	return string(m)
}

// hanging writes how far the lines of a paragraph are indented, the first less
// than the others. An equation has that on its own paragraph, and one with tabs
// does not: some programs drop the tabs where the level is indented.
func (m *markup) hanging(s lineStyle, scale float64) {
	m.attribute("marL", emu(s.left*scale))
	m.attribute("indent", -emu(s.hang*scale))
}

// emu are points in EMU.
func emu(points float64) int { return int(points * emuPerPoint) }

// hundredths is a size in hundredths of a point, in whole points.
func hundredths(size float64) int { return 100 * max(int(size), 1) }
