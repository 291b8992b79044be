package ooxml

import (
	"strconv"
	"strings"

	"halves/document"
)

// A styled is a piece with its weight and slant.
type styled struct {
	piece
	bold, italic bool
}

// The levels of an outline stand for styles.
const (
	proseLevel = iota + 1
	equationLevel
	remarkLevel // a label with its reason, a note
	ledgerLevel
	listLevel
	levels
)

// A lineStyle is how the master sets the lines of a level, in points.
type lineStyle struct {
	size   float64
	before float64 // above a line
	left   float64 // of the lines after the first
	hang   float64 // how far the first one stands out
}

var lineStyles = [levels]lineStyle{
	proseLevel:    {size: 24, before: 10},
	equationLevel: {size: 32, before: 6, left: 56, hang: 32},
	remarkLevel:   {size: 20, before: 14},
	ledgerLevel:   {size: 20, before: 4, left: 24},
	listLevel:     {size: 24, before: 6, left: 22, hang: 22},
}

// A line is a paragraph of a slide.
type line struct {
	level  int
	parts  []styled
	arrow  float64  // where it stands, in points from the left; 0 for none
	right  []styled // from the arrow on
	letter bool     // it has a letter, as an answer to choose
	keep   bool     // on the slide of the next line
}

// leading is the height of a line of letters of size 1, with room for what
// stands higher and lower in a formula.
const leading = 1.25

// height is that of a line on a slide, and how many lines it takes.
func (l line) height(scale, width float64) (h float64, n int) {
	s := lineStyles[l.level]
	size := s.size * scale
	bold := false
	var all []piece
	for _, p := range l.parts {
		all = append(all, p.piece)
		bold = bold || p.bold
	}
	n = 1 // a line whose arrow stands under that of another has room
	if l.arrow == 0 {
		n = linesOf(all, size, bold, width-(s.left-s.hang)*scale, width-s.left*scale)
	}
	return (float64(n)*leading*size + s.before*scale), n
}

const slideGap = 4 // before an arrow, in points

// A segment is a piece of a slide from the left to the right: lines, a table, a
// picture.
type segment struct {
	lines  []line
	framed bool // lines in a frame: the answer
	table  *grid
	figure *document.Figure
}

// segmentsOf lays blocks out in letters of a scale, with the arrows where they
// stand on other slides too; nil is as these blocks come.
func segmentsOf(blocks []document.Block, scale float64, arrows *alignment) []segment {
	b := &slideBuilder{scale: scale, width: slideWidth, arrows: arrows}
	for i := 0; i < len(blocks); {
		if n := equationsAt(blocks[i:]); n > 0 {
			b.equations(blocks[i : i+n])
			i += n
			continue
		}
		b.block(blocks[i])
		i++
	}
	return b.out
}

type slideBuilder struct {
	out          []segment
	scale, width float64
	arrows       *alignment
}

// slideArrows finds where the arrows of a working stand on a slide.
func slideArrows(group []document.Block, scale float64) *alignment {
	s := lineStyles[equationLevel]
	a := align(linesOfWorking(group), s.size*scale, slideWidth-(s.left-s.hang)*scale-2*slideGap, anyFresh(group))
	return &a
}

func (b *slideBuilder) line(l line) {
	if n := len(b.out); n == 0 || b.out[n-1].lines == nil || b.out[n-1].framed {
		b.out = append(b.out, segment{})
	}
	s := &b.out[len(b.out)-1]
	s.lines = append(s.lines, l)
}

func set(all []piece, bold, italic bool) []styled {
	out := make([]styled, len(all))
	for i, p := range all {
		out[i] = styled{p, bold, italic && p.kind == prose}
	}
	return out
}

func (b *slideBuilder) text(level int, text document.Inline) {
	b.line(line{level: level, parts: set(piecesOf(text), false, false)})
}

func (b *slideBuilder) block(x document.Block) {
	switch x := x.(type) {
	case document.Heading:
		b.line(line{level: proseLevel, parts: set(piecesOf(x.Text), true, false), keep: true})
	case document.Paragraph:
		b.text(proseLevel, x.Text)
	case document.Note:
		b.text(remarkLevel, x.Text)
	case document.List:
		for _, item := range x.Items {
			b.text(listLevel, item)
		}
	case document.Equation:
		s := lineStyles[equationLevel]
		room := b.width - 2*framePad - (s.left-s.hang)*b.scale
		parts := set(piecesOfLine(x.Line, s.size*b.scale, room, x.Fresh), x.Fresh, false)
		b.out = append(b.out, segment{framed: true, lines: []line{{level: equationLevel, parts: parts}}})
	case document.Exercise:
		parts := set([]piece{{strconv.Itoa(x.Number) + "." + noBreak, prose}}, true, false)
		parts = append(parts, set(piecesOf(x.Text), false, false)...)
		if x.Marks != "" {
			parts = append(parts, styled{piece: piece{" (" + whole(x.Marks) + ")", prose}})
		}
		b.line(line{level: proseLevel, parts: parts, keep: true})
	case document.Choices:
		for _, c := range x.Items {
			parts := set(piecesOf(c.Text), c.Right, false)
			if c.Right {
				parts = append(parts, styled{piece{noBreak + checkMark, prose}, true, false})
			}
			b.line(line{level: listLevel, parts: parts, letter: true, keep: len(c.Note) > 0})
		}
		for i, c := range x.Items {
			if len(c.Note) > 0 { // below them all: a paragraph between would begin the letters again
				parts := set([]piece{{document.Letter(i) + ":" + noBreak, prose}}, false, true)
				b.line(line{level: remarkLevel, parts: append(parts, set(piecesOf(c.Note), false, true)...)})
			}
		}
	case document.Space: // there is nothing to write with on a slide
		if len(x.Label) > 0 {
			b.text(proseLevel, x.Label)
		}
	case document.Fields:
		if len(x.Labels) > 0 {
			b.text(proseLevel, document.Inline{{Prose: strings.Join(x.Labels, ", ")}})
		}
	case document.Table:
		b.table(x)
	case document.Figure:
		b.out = append(b.out, segment{figure: &x})
	}
}

func (b *slideBuilder) equations(group []document.Block) {
	s := lineStyles[equationLevel]
	size, inset := s.size*b.scale, (s.left-s.hang)*b.scale
	arrows := b.arrows
	if arrows == nil {
		arrows = slideArrows(group, b.scale)
	}
	for _, x := range group {
		e := x.(document.Equation)
		if len(e.Label)+len(e.Reason) > 0 {
			label := piecesOf(e.Label)
			if len(label) > 0 && len(e.Reason) > 0 {
				label = add(label, ": ", prose)
			}
			b.line(line{level: remarkLevel, parts: append(set(label, true, false), set(piecesOf(e.Reason), false, false)...), keep: e.Line != nil || e.Ledger != nil})
		}
		if e.Line != nil {
			l := line{level: equationLevel, keep: e.Ledger != nil}
			if arrows.takes(e.Line) {
				left, right := document.SidesOf(e.Line)
				l.arrow = inset + arrows.at
				l.parts, l.right = set(piecesOfRuns(left), e.Fresh, false), set(piecesOfRuns(right), e.Fresh, false)
			} else {
				l.parts = set(piecesOfLine(e.Line, size, b.width-inset, e.Fresh), e.Fresh, false)
			}
			b.line(l)
		}
		if e.Ledger != nil {
			var parts []styled
			for k, x := range e.Ledger {
				if k > 0 {
					parts = append(parts, styled{piece: piece{" \u2003", prose}})
				}
				parts = append(parts, styled{piece{entry(x), prose}, !x.Closed(), false})
			}
			b.line(line{level: ledgerLevel, parts: parts})
		}
	}
}

// Sizes of a table on a slide, in points.
const (
	slideCell      = 20.0 // of the letters
	leastSlideCell = 14.0
	slidePad       = 8.0 // at each side of a cell
	slideRow       = 6.0 // above and below a line of a cell together
)

// cellSize is that of the letters of a table. They are not made as small as
// those of a line, but where nothing else helps.
func cellSize(scale float64) float64 {
	if scale < scales[len(scales)-1] {
		return slideCell * scale
	}
	return max(slideCell*scale, leastSlideCell)
}

func (b *slideBuilder) table(t document.Table) {
	g, records := gridOf(t, cellSize(b.scale), b.width, slidePad)
	if g == nil {
		for _, r := range records {
			b.line(line{level: remarkLevel, parts: set(r, false, false)})
		}
		return
	}
	if len(g.widths) > 0 && len(g.all()) > 0 {
		b.out = append(b.out, segment{table: g})
	}
}

// rowHeight is that of a row of a table.
func rowHeight(r []cell, widths []float64, size float64, bold bool) float64 {
	n := 1
	for k, c := range r {
		room := widths[k] - 2*slidePad + 0.1
		n = max(n, linesOf(c, size, bold, room, room))
	}
	return float64(n)*leading*size + slideRow
}
