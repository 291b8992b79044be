package paper

import (
	"strconv"

	"halves/chem"
	"halves/document"
	"halves/question"
	"halves/redox"
	"halves/speech"
)

// Stem is what an item asks, as paragraphs, without the options: for a platform.
// The skeleton of a question with gaps is left out, for the line with the gaps
// shows it.
func Stem(x *question.Item, c redox.Conventions) []document.Inline {
	text, blocks := prompt(x, c)
	gaps := x.Options == nil && x.Ask == question.Balance
	if gaps {
		text = document.Plain(inMedium(x.Question.Medium) + "balance the equation in lowest whole numbers.")
	}
	out := []document.Inline{text}
	for _, b := range blocks {
		e, ok := b.(document.Equation)
		if !ok || gaps {
			continue
		}
		line := document.Inline{{Formula: e.Line, Spoken: e.Spoken}}
		if e.Label != nil {
			line = document.Join(e.Label, document.Plain(": "), line)
		}
		out = append(out, line)
	}
	return out
}

// Choices are the options of an item with what they show.
func Choices(x *question.Item, c redox.Conventions) []document.Choice {
	return choices(x, c, true).Items
}

// A Piece is a part of an equation with gaps: text, then the coefficient that
// goes in; "" where none does.
type Piece struct {
	Text   document.Inline
	Answer string
	Label  string // of the gap, in words
}

// Gaps parts the answer of an item into gaps, one for each coefficient, and what
// stands between them.
func Gaps(x *question.Item, c redox.Conventions) []Piece {
	e := x.Question.Answer()
	var out []Piece
	text := document.Inline(nil)
	side := func(terms []chem.Term) {
		for i, t := range terms {
			if i > 0 {
				text = document.Join(text, document.Said(" + ", " plus "))
			}
			name := speech.Species(t.Species, c.Names)
			out = append(out, Piece{Text: text, Answer: strconv.FormatInt(t.Coefficient.Num(), 10), Label: "coefficient of " + name})
			text = document.Join(document.Plain(" "), document.FormulaOf(t.Species, c))
		}
	}
	side(e.Left)
	text = document.Join(text, document.Inline{{Formula: []chem.Run{{Text: " -> "}}, Spoken: " give "}})
	side(e.Right)
	return append(out, Piece{Text: text})
}
