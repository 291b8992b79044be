package ooxml

import (
	"strings"

	"halves/chem"
	"halves/document"
)

// A piece is text on a line that is set in one way.
type piece struct {
	text string
	kind kind
}

// A kind is a way of setting letters.
type kind uint8

const (
	prose   kind = iota
	formula      // upright, not checked for spelling
	lowered      // of a formula
	raised
	slanted // an unknown of algebra
	arrow   // in a face that has it
	blank   // a rule to write upon
	newLine // the line ends here
)

const (
	noBreak   = "\u00a0"
	arrowSign = "→" // the short one, which more faces have
	// Of the faces that every machine has it is one with a long arrow (it is in
	// WGL4, the set of signs that its makers hold to), and its lines are no higher
	// than those of the text. Faces for mathematics are made for high formulas, and
	// force lines apart.
	arrowFace = "Times New Roman"
	// A coefficient of two digits is written by hand in this much.
	blankText = noBreak + noBreak + noBreak + noBreak + noBreak + noBreak + noBreak
)

var signs = strings.NewReplacer("->", arrowSign, ".", "·", "-", "−", " ", noBreak)

// piecesOf writes a line in pieces.
func piecesOf(text document.Inline) []piece {
	var out []piece
	for _, s := range text {
		if s.Prose != "" {
			out = add(out, s.Prose, prose)
		}
		if s.Formula != nil {
			out = append(out, piecesOfRuns(s.Formula)...)
		}
	}
	return out
}

// add puts a text behind pieces, within the last one where it is of its kind.
func add(all []piece, text string, k kind) []piece {
	if n := len(all); n > 0 && all[n-1].kind == k {
		all[n-1].text += text
		return all
	}
	return append(all, piece{text, k})
}

// piecesOfRuns writes a formula or an equation in pieces. A line may end before
// a sign, and behind the comma of a list: all other spaces are no-break spaces,
// and a word processor breaks no word elsewhere that fits on a line.
func piecesOfRuns(runs []chem.Run) []piece {
	out := make([]piece, 0, len(runs)+2)
	for i, r := range runs {
		switch {
		case r == document.Blank:
			out = append(out, piece{blankText, blank})
		case isSign(r):
			if i > 0 {
				out = add(out, " ", formula)
			}
			core := strings.TrimSpace(r.Text)
			if core == "->" || core == arrowSign {
				out = append(out, piece{arrowSign, arrow})
			} else {
				out = add(out, signs.Replace(core), formula)
			}
			if i+1 < len(runs) {
				out = add(out, noBreak, formula)
			}
		case r.Level == chem.Normal && r.Text == ", ":
			out = add(out, ", ", formula)
		default:
			out = add(out, signs.Replace(r.Text), kindOf(r.Level))
		}
	}
	for i, p := range out {
		if p.kind == formula {
			out[i].text = joined.Replace(p.text)
		}
	}
	return out
}

// Between two brackets a line may end by the rules of Unicode (Standard Annex 14,
// LB30); a word joiner forbids it (LB11). The reader of package chem passes over
// it where a formula is copied.
var joined = strings.NewReplacer(")(", ")"+joiner+"(", ")[", ")"+joiner+"[", "](", "]"+joiner+"(", "][", "]"+joiner+"[")

const joiner = "\u2060"

// piecesOfLine writes an equation that stands on lines of its own. One that is
// longer than the room of a line ends it before the arrow.
func piecesOfLine(runs []chem.Run, size, room float64, bold bool) []piece {
	all := piecesOfRuns(runs)
	left, right := document.SidesOf(runs)
	// By the estimate, or a little more: the estimate is a safe one, and a line
	// that is longer after all ends before some other sign.
	if len(left) == 0 || right == nil || 0.92*widthOf(all, size, bold) <= room {
		return all
	}
	return append(append(piecesOfRuns(left), piece{kind: newLine}), piecesOfRuns(right)...)
}

func kindOf(l chem.Level) kind {
	switch l {
	case chem.Subscript:
		return lowered
	case chem.Superscript:
		return raised
	case chem.Variable:
		return slanted
	}
	return formula
}

// isSign reports whether a run parts the terms of an equation or of a line of
// algebra, or the phases of a cell.
func isSign(r chem.Run) bool {
	if r.Level != chem.Normal {
		return false
	}
	switch r.Text {
	case " + ", " - ", " − ", " | ", " || ":
		return true
	}
	return document.IsRelation(r)
}
