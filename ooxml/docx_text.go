package ooxml

import (
	"strings"

	"halves/document"
)

// A paragraph is how a paragraph differs from its style.
type paragraph struct {
	style  string // its id; "" is the usual one
	keep   bool   // with the next paragraph
	list   int    // another than that of the style; 0 for none
	arrow  int    // where arrows stand, twips from the margin; 0 for none
	fields []int  // where rules to fill in end, twips from the margin
	head   bool   // of a table: at the right, as the numbers below it
}

// paragraph writes a paragraph. The order of its properties is that of the
// schema.
func (x *docx) paragraph(p paragraph, content func()) {
	x.tag("<w:p>")
	start := len(x.markup)
	x.tag("<w:pPr>")
	empty := len(x.markup)
	if p.style != "" {
		x.tag(`<w:pStyle w:val="`, p.style, `"/>`)
	}
	if p.keep {
		x.tag("<w:keepNext/>")
	}
	if x.newPage {
		x.tag("<w:pageBreakBefore/>")
	}
	if p.list > 0 {
		x.tag(`<w:numPr><w:ilvl w:val="0"/><w:numId`)
		x.attribute("w:val", p.list)
		x.tag("/></w:numPr>")
	}
	if p.arrow > 0 {
		x.tag(`<w:tabs><w:tab w:val="right"`)
		x.attribute("w:pos", p.arrow)
		x.tag(`/><w:tab w:val="left"`)
		x.attribute("w:pos", p.arrow+arrowGap)
		x.tag("/></w:tabs>")
	}
	if len(p.fields) > 0 {
		x.tag("<w:tabs>")
		for _, at := range p.fields {
			x.tag(`<w:tab w:val="left" w:leader="underscore"`)
			x.attribute("w:pos", at)
			x.tag("/>")
		}
		x.tag("</w:tabs>")
	}
	if x.afterTable {
		x.tag(`<w:spacing w:before="160"/>`)
	}
	if p.arrow > 0 {
		// What has no room behind the arrow goes on below the first product.
		left := p.arrow + arrowGap + arrowHang
		x.tag("<w:ind")
		x.attribute("w:left", left)
		x.attribute("w:hanging", left-indent)
		x.tag("/>")
	}
	if p.head {
		x.tag(`<w:jc w:val="right"/>`)
	}
	if len(x.markup) == empty {
		x.markup = x.markup[:start]
	} else {
		x.tag("</w:pPr>")
	}
	x.newPage, x.afterTable = false, false
	if content != nil {
		content()
	}
	x.tag("</w:p>")
}

// The space before an arrow, and from there to what follows it, in twips.
const (
	arrowGap  = 60
	arrowHang = 400
)

// text writes a block of one paragraph.
func (x *docx) text(style string, t document.Inline) {
	x.paragraph(paragraph{style: style, keep: x.outer}, func() { x.inline(t) })
}

func (x *docx) inline(t document.Inline) { x.pieces(piecesOf(t)) }

func (x *docx) pieces(all []piece) {
	for _, p := range all {
		x.run(p, "", false)
	}
}

// styles of the kinds of pieces.
var kindStyles = [...]string{prose: "", formula: "Formula", lowered: "Formula", raised: "Formula", slanted: "Variable", arrow: "Arrow", blank: "Blank", newLine: ""}

// run writes a piece in a style, "" for that of its kind. Sub- and superscripts
// are marked as such beside the style, so that they survive where styles are
// lost, as in a copy.
func (x *docx) run(p piece, style string, bold bool) {
	if p.kind == newLine {
		x.tag("<w:r><w:br/></w:r>")
		return
	}
	if style == "" {
		style = kindStyles[p.kind]
	}
	script := ""
	switch p.kind {
	case lowered:
		script = "subscript"
	case raised:
		script = "superscript"
	}
	x.tag("<w:r>")
	if style != "" || script != "" || bold {
		x.tag("<w:rPr>")
		if style != "" {
			x.tag(`<w:rStyle w:val="`, style, `"/>`)
		}
		if bold {
			x.tag("<w:b/>")
		}
		if script != "" {
			x.tag(`<w:vertAlign w:val="`, script, `"/>`)
		}
		x.tag("</w:rPr>")
	}
	x.tag(`<w:t xml:space="preserve">`)
	x.markup.text(p.text)
	x.tag("</w:t></w:r>")
}

// exercise writes a question. Its number is that of a list, so that questions
// that are moved are numbered again; a number that does not follow the last one
// begins a list of its own.
func (x *docx) exercise(e document.Exercise) {
	number := min(max(e.Number, 0), 32767) // what a list can count
	if x.list == 0 || number != x.next {
		x.list = x.begin(questionList, number)
	}
	x.next = number + 1
	x.paragraph(paragraph{style: "Question", keep: x.outer, list: x.list}, func() {
		x.inline(e.Text)
		if e.Marks != "" {
			x.tag("<w:r><w:tab/></w:r>")
			x.run(piece{whole(e.Marks), prose}, "Marks", false)
		}
	})
}

// whole keeps a phrase on one line.
func whole(s string) string { return strings.ReplaceAll(s, " ", noBreak) }

// begin adds a list that starts at a number and returns its id.
func (x *docx) begin(kind, number int) int {
	x.numbers = append(x.numbers, startingAt{kind, number})
	return choiceList + len(x.numbers)
}

const checkMark = "✓"

// choices writes the answers, each with its letter. The right one has a mark as
// well as its weight.
func (x *docx) choices(c document.Choices) {
	if len(c.Items) == 0 {
		return
	}
	list := x.begin(choiceList, 1)
	for i, item := range c.Items {
		last := i == len(c.Items)-1
		p := paragraph{style: "Choice", list: list, keep: x.keep(last) || len(item.Note) > 0}
		if item.Right {
			p.style = "RightChoice"
		}
		x.paragraph(p, func() {
			x.inline(item.Text)
			if item.Right {
				x.run(piece{noBreak, prose}, "", false)
				x.run(piece{checkMark, prose}, "CheckMark", false)
			}
		})
		if len(item.Note) > 0 {
			x.paragraph(paragraph{style: "ChoiceNote", keep: x.keep(last)}, func() {
				for _, p := range piecesOf(item.Note) {
					style := ""
					if p.kind == prose {
						style = "Remark" // the words are slanted, formulas are not
					}
					x.run(p, style, false)
				}
			})
		}
	}
}

// space writes ruled lines, each an empty paragraph that can be deleted or
// copied.
func (x *docx) space(s document.Space) {
	lines := max(s.Lines, 1)
	for i := range lines {
		x.paragraph(paragraph{style: "AnswerLine", keep: x.keep(i == lines-1)}, func() {
			if i == 0 && len(s.Label) > 0 {
				x.inline(s.Label)
			}
		})
	}
}

// fields writes rules behind their labels, as many on a line as have room for a
// name to be written.
func (x *docx) fields(f document.Fields) {
	const least = 1700 // twips for a rule
	var row []string
	used := 0
	widthOf := func(label string) int { return int(20*widthOfText(label+"   ", prose, textSize, false)) + 1 }
	write := func(last bool) {
		if len(row) == 0 {
			return
		}
		rule := max((x.width-used)/len(row), 0)
		p := paragraph{style: "Fields", keep: x.keep(last)}
		at := 0
		for _, label := range row {
			at += widthOf(label) + rule
			p.fields = append(p.fields, min(at, x.width))
		}
		x.paragraph(p, func() {
			for i, label := range row {
				if i > 0 {
					x.run(piece{noBreak + " ", prose}, "", false)
				}
				x.run(piece{label + noBreak, prose}, "", false)
				x.tag("<w:r><w:tab/></w:r>")
			}
		})
		row, used = nil, 0
	}
	for _, label := range f.Labels {
		w := widthOf(label)
		if len(row) > 0 && used+w+least*(len(row)+1) > x.width {
			write(false)
		}
		row, used = append(row, label), used+w
	}
	write(true)
}
