package paper

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"halves/document"
	"halves/energetics"
	"halves/question"
	"halves/redox"
)

// mostCouples is how many couples a page of reference holds beside the rules.
const mostCouples = 14

// Reference lays out one page: the couples of a set with their potentials, the
// highest first, the rules of oxidation states, and the method in brief.
func Reference(s *question.Set, tables energetics.Tables, o Options) (*document.Document, error) {
	d := newDocument(s, nil, "Reference: "+s.Wish.Title)
	all, err := potentials(s, tables)
	if err != nil {
		return nil, err
	}
	left := max(0, len(all)-mostCouples)
	all = all[:len(all)-left] // those of the first version first
	slices.SortStableFunc(all, func(a, b energetics.Potential) int { return cmp.Compare(b.Volts, a.Volts) })
	if len(all) > 0 {
		t := document.Table{Caption: "Standard potentials", Head: []document.Inline{document.Plain("half-reaction, as a reduction"), document.Plain("E° in V")}, Right: []bool{false, true}}
		var sources []string
		for _, p := range all {
			t.Rows = append(t.Rows, []document.Inline{document.EquationOf(p.Half, o.Conventions), document.Prose(figure(p), o.Conventions)})
			for _, key := range p.Sources {
				if text := shortName(question.Citation(key)); !slices.Contains(sources, text) {
					sources = append(sources, text)
				}
			}
		}
		add(d, document.Heading{Level: 1, Text: document.Plain("Couples"), Keep: true}, t,
			document.Note{Text: document.Plain("At 25 °C, 1 mol/L and 1 bar, against the standard hydrogen electrode. Sources: " + strings.Join(sources, "; ") + "; in full: halves couple." + more(left))})
	}
	add(d, document.Heading{Level: 1, Text: document.Plain("Oxidation states"), Keep: true}, document.List{Items: stateRules(o)})
	add(d, document.Heading{Level: 1, Text: document.Plain("A half, line by line"), Keep: true}, document.List{Items: methodLines(o)})
	return d, nil
}

// shortName is what a work is called where there is little room: what stands
// before its first colon, comma or bracket.
func shortName(citation string) string {
	if i := strings.IndexAny(citation, ":,("); i > 0 {
		citation = citation[:i]
	}
	return strings.TrimRight(citation, " .")
}

// more says how many couples found no room.
func more(n int) string {
	switch n {
	case 0:
		return ""
	case 1:
		return " One couple more of this set found no room here."
	}
	return fmt.Sprintf(" %d couples more of this set found no room here.", n)
}

// potentials are those of the couples of all questions, each once.
func potentials(s *question.Set, tables energetics.Tables) ([]energetics.Potential, error) {
	var all []energetics.Potential
	for _, v := range s.Versions {
		for _, x := range v.Items {
			w, err := x.Question.Work(redox.Conventions{})
			if err != nil {
				return nil, err
			}
			cell, err := tables.Work(w, energetics.Conditions{})
			var none *energetics.NoCellError
			var missing *energetics.MissingError
			var half *energetics.HalfError
			switch {
			case errors.As(err, &none), errors.As(err, &missing), errors.As(err, &half):
				continue // a reaction without water, or without figures
			case err != nil:
				return nil, err
			}
			for _, p := range []energetics.Potential{cell.Reduction, cell.Oxidation} {
				if !slices.ContainsFunc(all, func(q energetics.Potential) bool { return q.Half.String() == p.Half.String() }) {
					all = append(all, p)
				}
			}
		}
	}
	return all, nil
}

// figure writes a potential with its sign.
func figure(p energetics.Potential) string {
	text := energetics.Figure(p.Volts, p.Decimals())
	if p.Volts > 0 {
		text = "+" + text
	}
	return text
}

// stateRules are the rules of oxidation states in the order in which they are
// tried (IUPAC, Pure Appl. Chem. 88, 831-839, 2016, in the short form that
// textbooks give; the wording is the project's own).
func stateRules(o Options) []document.Inline {
	return proseList(o,
		"An element by itself has the state 0.",
		"A simple ion has the state of its charge.",
		"Fluorine has -1 in compounds.",
		"Hydrogen has +1 with non-metals and -1 with metals.",
		"Oxygen has -2, but -1 in peroxides and a positive state with fluorine.",
		"The other halogens have -1, unless they are bound to oxygen or to a halogen above them.",
		"All states of a species add up to its charge.")
}

// methodLines are the lines of the method.
func methodLines(o Options) []document.Inline {
	return proseList(o,
		"Balance the atoms that change, and all others but O and H.",
		"Balance O with H2O, then H with H^+.",
		"Balance the charge with e^-.",
		"Multiply the halves until as many electrons are lost as are gained; add; cancel.",
		"In base: add as many OH^- to both sides as there are H^+, form H2O, cancel.",
		"Divide by a common factor; count atoms and charge once more.")
}

func proseList(o Options, lines ...string) []document.Inline {
	out := make([]document.Inline, len(lines))
	for i, l := range lines {
		out[i] = document.Prose(strings.NewReplacer(" -1", " \u22121", " -2", " \u22122").Replace(l), o.Conventions)
	}
	return out
}
