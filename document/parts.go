package document

import (
	"strings"

	"halves/chem"
	"halves/redox"
	"halves/speech"
)

// What a document is put together from, for the packages that lay out more than
// one solution: worksheets, keys, slides.

// Plain makes a text of prose that holds no formulas.
func Plain(s string) Inline { return Inline{{Prose: s}} }

// Said makes a text of prose that is said in other words.
func Said(s, spoken string) Inline { return Inline{{Prose: s, Spoken: spoken}} }

// Join strings texts together.
func Join(parts ...Inline) Inline {
	var out Inline
	for _, p := range parts {
		out = append(out, p...)
	}
	return out
}

// Series names things in a sentence: "a", "a and b", "a, b and c".
func Series(items []Inline) Inline {
	var out Inline
	for i, t := range items {
		switch {
		case i == 0:
		case i == len(items)-1:
			out = append(out, Span{Prose: " and "})
		default:
			out = append(out, Span{Prose: ", "})
		}
		out = append(out, t...)
	}
	return out
}

// FormulaOf makes a text of one formula, said by its name.
func FormulaOf(s *chem.Species, c redox.Conventions) Inline { return formula(s, c.Names) }

// EquationOf makes a text of a skeleton or of a whole equation, without its
// medium.
func EquationOf(e chem.Equation, c redox.Conventions) Inline {
	return equation(e, c.LineStyle(e), c.Names)
}

// MediumPhrase is what a question says of its medium behind the skeleton:
// ", in acid". It is nil where the medium is not stated.
func MediumPhrase(m redox.Medium) Inline {
	switch m {
	case redox.Acidic:
		return Plain(", in" + noBreak + "acid")
	case redox.Basic:
		return Plain(", in" + noBreak + "base")
	case redox.Neutral:
		return Plain(", in neutral solution")
	case redox.None:
		return Plain(", nothing" + noBreak + "added")
	}
	return nil
}

// Line makes a line of its own of a skeleton or of a whole equation.
func Line(e chem.Equation, c redox.Conventions) Equation {
	return Equation{Line: e.Runs(c.LineStyle(e)), Spoken: speech.Equation(e, c.Names)}
}

// Answer makes a line of an equation that is set off from the rest.
func Answer(e chem.Equation, c redox.Conventions) Equation {
	return Equation{Line: e.Runs(c.Style()), Spoken: speech.Equation(e, c.Names), Final: true}
}

// Blanks makes a line of an equation in which a Blank stands for each
// coefficient, 1 among them.
func Blanks(e chem.Equation, c redox.Conventions) Equation {
	style := c.Style()
	style.Ones, style.Equals = true, false // what is still to be balanced has an arrow
	var line []chem.Run
	start := true // of a term, where its coefficient stands
	for _, r := range e.Runs(style) {
		if start {
			line = append(line, Blank, chem.Run{Text: " "})
			start = false
			continue
		}
		line = append(line, r)
		start = isSign(r)
	}
	side := func(terms []chem.Term) string {
		all := make([]string, len(terms))
		for i, t := range terms {
			all[i] = blankSaid + " " + speech.Substance(t.Species, c.Names)
		}
		return strings.Join(all, " plus ")
	}
	return Equation{Line: line, Spoken: side(e.Left) + " give " + side(e.Right)}
}

// Worked lays out how a question is worked, to stand below an Exercise: what
// was understood, the oxidation states, each line by line, the answer, and what
// else there is to say. Its headings are of level 2. It has neither the question
// nor the table of the check, and WayTaken is left to whoever lays out many.
func Worked(s *redox.Solution) []Block {
	d := newLayout(s.Conventions)
	d.unknowns = unknownsOf(s.Steps)
	first, last := d.notes(s.Notes)
	d.add(first...)
	d.working(s)
	d.add(last...)
	return deeper(d.Blocks)
}

// WayTaken says by which method the lines of a solution were worked and in which
// conventions they are written, so far as these differ from the default and show
// in the lines: "By oxidation states. H3O^+ stands for H^+." It is nil where
// nothing does.
func WayTaken(s *redox.Solution) Inline { return wayTaken(s.Steps, s.Equation, s.Conventions) }

// deeper puts headings one level lower.
func deeper(all []Block) []Block {
	out := make([]Block, len(all))
	for i, b := range all {
		if h, ok := b.(Heading); ok {
			h.Level++
			b = h
		}
		out[i] = b
	}
	return out
}
