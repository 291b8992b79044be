package ooxml

import (
	_ "embed"
	"io"
	"strconv"
	"strings"

	"halves/balance"
	"halves/document"
)

// The parts of a DOCX that are the same in each but for the words in braces.
var (
	//go:embed parts/styles.xml
	stylesPart string
	//go:embed parts/settings.xml
	settingsPart string
	//go:embed parts/fonts.xml
	fontsPart string
	//go:embed parts/numbering.xml
	numberingPart string
	//go:embed parts/theme.xml
	themePart string
)

const wordSpaces = `xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships" xmlns:wp="http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing" xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" xmlns:pic="http://schemas.openxmlformats.org/drawingml/2006/picture"`

// DOCX writes d as a document of WordprocessingML. A deck is written as headings,
// each with the content of its slide and what is said to it.
//
// The error is that of w, or ErrNoDocument or a *SpaceError; with these nothing
// is written.
func DOCX(w io.Writer, d *document.Document, o Options) error {
	if err := check(d); err != nil {
		return err
	}
	x := &docx{width: o.Paper.textWidth()}
	x.tag(declaration, "<w:document ", wordSpaces, "><w:body>")
	x.document(d, o)
	x.section(o.Paper)
	x.tag("</w:body></w:document>")

	main := part{name: "word/document.xml", content: wordType + "document.main+xml", data: x.markup, refers: []relation{
		{"styles", "word/styles.xml"}, {"numbering", "word/numbering.xml"}, {"settings", "word/settings.xml"}, {"fontTable", "word/fontTable.xml"},
		{"theme", "word/theme/theme1.xml"}, {"header", "word/header1.xml"}, {"footer", "word/footer1.xml"},
	}}
	fill := strings.NewReplacer("{language}", escaped(proofing(d, o.Paper)), "{right}", strconv.Itoa(x.width))
	parts := []part{
		{refers: []relation{{"officeDocument", main.name}, {"core-properties", "docProps/core.xml"}}},
		coreProperties(nameOf(d), tag(d)),
		{}, // the document
		{name: "word/styles.xml", content: wordType + "styles+xml", data: []byte(fill.Replace(stylesPart))},
		{name: "word/numbering.xml", content: wordType + "numbering+xml", data: x.numbering()},
		{name: "word/settings.xml", content: wordType + "settings+xml", data: []byte(fill.Replace(settingsPart))},
		{name: "word/fontTable.xml", content: wordType + "fontTable+xml", data: []byte(fontsPart)},
		{name: "word/theme/theme1.xml", content: themeType, data: []byte(themePart)},
		{name: "word/header1.xml", content: wordType + "header+xml", data: header(d.Running)},
		{name: "word/footer1.xml", content: wordType + "footer+xml", data: footer(d.Running)},
	}
	for i, emf := range x.figures {
		name := figureName("word", i)
		main.refers = append(main.refers, relation{"image", name})
		parts = append(parts, part{name: name, data: emf})
	}
	parts[2] = main
	return writePackage(w, parts)
}

// The relations of the document to its parts, in the order of DOCX.
const (
	headerRelation = 5
	footerRelation = 6
	figureRelation = 7 // of the first figure
)

func figureName(folder string, i int) string {
	return folder + "/media/figure" + strconv.Itoa(i+1) + ".emf"
}

func escaped(s string) string {
	var m markup
	m.text(s)
	return string(m)
}

type docx struct {
	markup
	width int // of a line, in twips

	numbers []startingAt // the lists after the three of the part
	list    int          // of the exercises; 0 before the first
	next    int          // the number that the list would give to the next exercise

	inner, outer bool // keep the paragraphs of a block, and its last one, with the next
	newPage      bool // before the next paragraph
	afterTable   bool // the last thing written was one

	figures [][]byte // as EMF
}

// A startingAt is a numbered list.
type startingAt struct{ kind, number int }

// The kinds of lists, as the part of numbering has them.
const (
	bulletList = iota + 1
	questionList
	choiceList
)

// points are twips in points.
func points(twips int) float64 { return float64(twips) / 20 }

func (x *docx) document(d *document.Document, o Options) {
	if d.Title != nil {
		x.paragraph(paragraph{style: "Title"}, func() { x.inline(d.Title) })
	}
	_, height := o.Paper.twips()
	kept := keptWithNext(d.Blocks, points(x.width), 0.9*points(height-2*margin))
	var notes []document.Inline // of the slide
	for i := 0; i < len(d.Blocks); {
		n := equationsAt(d.Blocks[i:])
		last := i + max(n, 1) - 1
		x.outer = kept[last]
		x.inner = x.outer || i > 0 && kept[i-1]
		if n > 0 {
			x.equations(d.Blocks[i : i+n])
		} else {
			if s, ok := d.Blocks[i].(document.Slide); ok {
				x.said(notes)
				notes = s.Notes
			}
			x.block(d.Blocks[i])
		}
		i = last + 1
	}
	x.inner, x.outer = false, false
	x.said(notes)
	if x.afterTable || d.Title == nil && len(d.Blocks) == 0 {
		x.paragraph(paragraph{}, nil) // a body ends in a paragraph
	}
}

// said writes what is said to a slide.
func (x *docx) said(notes []document.Inline) {
	for _, n := range notes {
		x.paragraph(paragraph{style: "TalkTrack"}, func() { x.inline(n) })
	}
}

func (x *docx) block(b document.Block) {
	switch b := b.(type) {
	case document.Heading:
		x.text("Heading"+strconv.Itoa(min(max(b.Level, 1), 6)), b.Text)
	case document.Slide:
		x.text("Heading1", b.Title)
	case document.Paragraph:
		x.text("", b.Text)
	case document.Note:
		x.text("Note", b.Text)
	case document.List:
		for i, item := range b.Items {
			x.paragraph(paragraph{style: "ListBullet", keep: x.keep(i == len(b.Items)-1)}, func() { x.inline(item) })
		}
	case document.Table:
		x.table(b)
	case document.Figure:
		x.figure(b)
	case document.Equation:
		x.paragraph(paragraph{style: "FinalEquation", keep: x.outer}, func() {
			x.pieces(piecesOfLine(b.Line, finalSize, points(x.width), false))
		})
	case document.Exercise:
		x.exercise(b)
	case document.Choices:
		x.choices(b)
	case document.Space:
		x.space(b)
	case document.Fields:
		x.fields(b)
	case document.Break:
		if x.newPage {
			x.paragraph(paragraph{}, nil) // a page that stays empty
		}
		x.newPage = true
	}
}

// keep tells whether a paragraph of a block is kept with the next one.
func (x *docx) keep(last bool) bool {
	if last {
		return x.outer
	}
	return x.inner
}

// equations writes the lines of a working: what was done and why, the line with
// its arrow under those of the others, its ledger.
func (x *docx) equations(group []document.Block) {
	arrows := align(linesOfWorking(group), equationSize, points(x.width-indent-arrowGap)-equationSize, anyFresh(group))
	outer := x.outer
	for i, b := range group {
		e := b.(document.Equation)
		x.outer = outer
		if i+1 < len(group) {
			x.outer = x.inner
		}
		if len(e.Label)+len(e.Reason) > 0 {
			x.paragraph(paragraph{style: "Step", keep: x.outer || e.Line != nil || e.Ledger != nil}, func() { x.step(e) })
		}
		if e.Line != nil {
			p := paragraph{style: "Equation", keep: x.outer || e.Ledger != nil}
			if e.Fresh {
				p.style = "EquationFresh"
			}
			left, right := document.SidesOf(e.Line)
			aligned := arrows.takes(e.Line)
			if aligned {
				p.arrow = indent + int(20*arrows.at) + 1
			}
			x.paragraph(p, func() {
				if !aligned {
					x.pieces(piecesOfLine(e.Line, equationSize, points(x.width-indent), e.Fresh))
					return
				}
				x.tag("<w:r><w:tab/></w:r>")
				x.pieces(piecesOfRuns(left))
				x.tag("<w:r><w:tab/></w:r>")
				x.pieces(piecesOfRuns(right))
			})
		}
		if e.Ledger != nil {
			x.paragraph(paragraph{style: "Ledger", keep: x.outer}, func() { x.ledger(e.Ledger) })
		}
	}
}

// step writes what was done, and why.
func (x *docx) step(e document.Equation) {
	if len(e.Label) > 0 {
		label := piecesOf(e.Label)
		if len(e.Reason) > 0 {
			label = add(label, ":", prose)
		}
		for _, p := range label {
			style := ""
			if p.kind == prose {
				style = "StepLabel"
			}
			x.run(p, style, p.kind != prose)
		}
		if len(e.Reason) > 0 {
			x.run(piece{" ", prose}, "", false)
		}
	}
	x.inline(e.Reason)
}

func (x *docx) ledger(l balance.Ledger) {
	for i, e := range l {
		if i > 0 {
			x.run(piece{" \u2003", prose}, "", false)
		}
		style := ""
		if !e.Closed() {
			style = "OpenEntry"
		}
		x.run(piece{entry(e), prose}, style, false)
	}
}

// entry writes a line of a ledger, which is not broken: "O 4 ≠ 0".
func entry(e balance.Entry) string {
	left, right, sign := e.Left.String(), e.Right.String(), "="
	if e.Law == balance.Charge {
		left, right = e.Left.Signed(), e.Right.Signed()
	}
	if !e.Closed() {
		sign = "≠"
	}
	return strings.ReplaceAll(e.Law.String()+noBreak+left+noBreak+sign+noBreak+right, "-", "−")
}
