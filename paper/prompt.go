package paper

import (
	"fmt"

	"halves/chem"
	"halves/document"
	"halves/question"
	"halves/redox"
	"halves/reference"
)

// inMedium says a medium at the beginning of what is asked.
func inMedium(m redox.Medium) string {
	switch m {
	case redox.Acidic:
		return "In acidic solution: "
	case redox.Basic:
		return "In basic solution: "
	case redox.Neutral:
		return "In neutral solution: "
	case redox.None:
		return "With nothing added: "
	}
	return ""
}

// prompt is what an item asks: the sentence and the lines below it, options among
// them.
func prompt(x *question.Item, c redox.Conventions) (document.Inline, []document.Block) {
	q := x.Question
	skeleton := document.Line(q.Skeleton(), c)
	lead := inMedium(q.Medium)
	var text document.Inline
	blocks := []document.Block{skeleton}
	switch x.Ask {
	case question.Split:
		text = document.Plain(lead + "write the oxidation and the reduction, each balanced with its electrons.")
	case question.Agents:
		text = document.Plain(lead + "what is oxidized, what is reduced, which is the oxidizing agent and which the reducing agent?")
		if x.Options != nil {
			text = document.Plain(lead + "which is the oxidizing agent?")
		}
	case question.States:
		text = document.Plain("Give the oxidation state of each element that changes, before and after.")
	case question.Complete:
		a, b := couplesOf(q)
		text = document.Join(document.Plain(lead+"complete and balance. The couples are "), coupleText(a, c), document.Plain(" and "), coupleText(b, c), document.Plain("."))
		blocks = []document.Block{reactants(q, c)}
	case question.FindError:
		text = document.Plain(lead + "here is a working of this question. Which is the first wrong line, and what is wrong with it?")
		blocks = append(blocks, working(x, c)...)
	case question.Electrons:
		text = document.Plain(lead + "how many electrons are transferred in the balanced equation, in lowest whole numbers?")
	case question.WillItGo:
		a, b := couplesOf(q)
		text = document.Join(document.Plain(lead+"does this reaction go, by the standard potentials? "),
			potential(a, c), document.Plain(" and "), potential(b, c), document.Plain("."))
		if x.Reversed {
			blocks = []document.Block{document.Line(turned(q.Skeleton()), c)}
		}
	default:
		text = document.Plain(lead + map[redox.Method]string{redox.ByHalves: "balance by half-reactions.", redox.ByStates: "balance by oxidation states.", redox.ByEquations: "balance by one equation for each element and for the charge."}[c.By])
		if q.Medium == redox.None {
			text = document.Plain("Balance; every substance is there already.")
		}
		if x.Options != nil {
			text = document.Plain(lead + "which is the balanced equation?")
		}
	}
	if x.Options != nil {
		blocks = append(blocks, choices(x, c, false))
	}
	return text, blocks
}

// couplesOf returns the couples that a question was made from, the reduction
// first.
func couplesOf(q *question.Question) (reduction, oxidation *reference.Couple) {
	for _, c := range q.Pair() {
		if reduction == nil {
			reduction = c
		} else {
			oxidation = c
		}
	}
	return reduction, oxidation
}

// coupleText writes a couple: "MnO4^-/Mn^2+".
func coupleText(k *reference.Couple, c redox.Conventions) document.Inline {
	if k == nil {
		return nil
	}
	oxidized, reduced := question.Mains(k)
	list := func(all []*chem.Species) (out document.Inline) {
		for i, s := range all {
			if i > 0 {
				out = append(out, document.Span{Prose: ", "})
			}
			out = append(out, document.FormulaOf(s, c)...)
		}
		return out
	}
	return document.Join(list(oxidized), document.Said("/", " and "), list(reduced))
}

// potential writes a couple with its standard potential.
func potential(k *reference.Couple, c redox.Conventions) document.Inline {
	if k == nil {
		return nil
	}
	return document.Join(coupleText(k, c), document.Prose(fmt.Sprintf(" has E° = %s V", volts(k)), c))
}

// volts writes a potential with its sign and a true minus.
func volts(k *reference.Couple) string {
	if k.Volts < 0 {
		return "\u2212" + k.Text[1:]
	}
	return "+" + k.Text
}

// reactants writes the left side of a skeleton and leaves the right one open.
func reactants(q *question.Question, c redox.Conventions) document.Equation {
	e := q.Skeleton()
	e.Right = nil
	left := document.Line(chem.Equation{Left: e.Left, Right: e.Left}, c)
	// The runs of the left side, the arrow, and a blank.
	var runs []chem.Run
	for _, r := range left.Line {
		runs = append(runs, r)
		if r.Level == chem.Normal && (r.Text == " -> " || r.Text == " = ") {
			break
		}
	}
	spoken := ""
	for i, t := range e.Left {
		if i > 0 {
			spoken += " plus "
		}
		spoken += document.FormulaOf(t.Species, c)[0].Spoken
	}
	return document.Equation{Line: append(runs, document.Blank), Spoken: spoken + " give blank"}
}

// turned returns an equation from right to left.
func turned(e chem.Equation) chem.Equation { return chem.Equation{Left: e.Right, Right: e.Left} }

// working writes the lines of a working with a slip, numbered.
func working(x *question.Item, c redox.Conventions) []document.Block {
	var out []document.Block
	for i, l := range question.Lines(x.Working) {
		line := document.Line(l, c)
		line.Label = document.Plain(fmt.Sprintf("line %d", i+1))
		out = append(out, line)
	}
	return out
}

// choices writes the options of an item; in a key with what they show.
func choices(x *question.Item, c redox.Conventions, key bool) document.Choices {
	var out document.Choices
	for _, o := range x.Options {
		item := document.Choice{Text: document.Inline{{Formula: o.Runs, Spoken: question.Spoken(o, c)}}}
		if key {
			item.Right = o.Right
			if o.Shows != "" {
				item.Note = document.Join(document.Plain("choosing it shows: "), document.Prose(o.Shows, c))
			}
		}
		out.Items = append(out.Items, item)
	}
	return out
}

// goes is what the key says of a reaction that may go or not.
func goes(x *question.Item, c redox.Conventions) document.Inline {
	a, b := couplesOf(x.Question)
	if a == nil || b == nil {
		return nil
	}
	e := a.Volts - b.Volts
	if x.Reversed {
		e = -e
	}
	what := "Yes: the potentials favour it. How fast it goes they do not tell."
	if e < 0 {
		what = "No: the potentials favour the reverse."
	}
	figure := fmt.Sprintf("%+.2f", e)
	if e < 0 {
		figure = "\u2212" + figure[1:]
	}
	return document.Prose(fmt.Sprintf("E° of the cell is %s V. %s", figure, what), c)
}
