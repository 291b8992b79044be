package ooxml

import (
	"math"

	"halves/document"
)

// keptWithNext tells of each block whether it stays on the page of the block
// behind it: in an exercise with what belongs to it, and in a section that is to
// be kept, where these fit on a page of a height in points. What does not fit is
// broken where the page ends; a word processor would leave half a page empty
// first.
func keptWithNext(all []document.Block, width, height float64) []bool {
	out := make([]bool, len(all))
	for from := 0; from < len(all); {
		to := from + 1
		if keeps, inner := begins(all[from]); keeps {
			used := heightOf(all[from], width)
			for to < len(all) && used <= height && !ends(all[to], inner) {
				used += heightOf(all[to], width)
				to++
			}
			if used <= height {
				for i := from; i < to-1; i++ {
					out[i] = true
				}
			} else {
				to = from + 1 // a section within may still be kept
			}
		}
		from = to
	}
	return out
}

// begins reports whether a block begins what is kept on one page, and which
// headings belong to it: those of a level above inner.
func begins(b document.Block) (keeps bool, inner int) {
	switch b := b.(type) {
	case document.Exercise:
		return true, 1
	case document.Heading:
		return b.Keep, max(b.Level, 1)
	}
	return false, 0
}

func ends(b document.Block, inner int) bool {
	switch b := b.(type) {
	case document.Exercise, document.Slide, document.Break:
		return true
	case document.Heading:
		return b.Level <= inner
	}
	return false
}

// Sizes of letters in points, and distances in twips, as the styles have them.
const (
	textSize     = 11.0
	equationSize = 12.5
	finalSize    = 14.0
	ledgerSize   = 9.5
	tableSize    = 10.5
	answerLine   = 520 // between two ruled lines: 9 mm
	indent       = 284 // of equations and ledgers
	cellPad      = 80  // at each side of a cell
)

// heightOf estimates the height of a block in points, on the safe side. In it
// leading is what a line of letters of size 1 takes with the space below it.
func heightOf(b document.Block, width float64) float64 {
	const leading = 1.4
	text := func(t document.Inline, size float64) float64 {
		if len(t) == 0 {
			return 0
		}
		return leading*size*float64(linesOf(piecesOf(t), size, false, width, width)) + 4
	}
	switch b := b.(type) {
	case document.Heading:
		return text(b.Text, 15) + 18
	case document.Exercise:
		return text(b.Text, textSize) + 20
	case document.Paragraph:
		return text(b.Text, textSize)
	case document.Note:
		return text(b.Text, textSize)
	case document.List:
		h := 0.0
		for _, t := range b.Items {
			h += text(t, textSize)
		}
		return h
	case document.Equation:
		h := text(b.Label, textSize) + text(b.Reason, textSize)
		if b.Line != nil {
			h += text(document.Inline{{Formula: b.Line}}, equationSize)
		}
		if b.Ledger != nil {
			h += leading*ledgerSize + 4
		}
		if b.Final {
			h += 30
		}
		return h
	case document.Table:
		return float64(len(b.Rows)+1) * leading * tableSize * 1.2
	case document.Figure:
		h := text(document.Inline{{Prose: b.Drawn.Description}}, textSize) + float64(len(b.Drawn.Table.Rows)+1)*leading*tableSize*1.2
		if p := b.Drawn.Picture; p != nil && p.Height > 0 {
			h += 0.75 * p.Height
		}
		return h
	case document.Choices:
		h := 0.0
		for _, c := range b.Items {
			h += text(c.Text, textSize) + text(c.Note, textSize)
		}
		return h
	case document.Space:
		return answerLine / 20 * float64(max(b.Lines, 1))
	case document.Fields:
		return 2 * leading * textSize * math.Ceil(float64(len(b.Labels))/3)
	}
	return 0
}
