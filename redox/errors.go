package redox

import (
	"fmt"
	"strings"

	"halves/balance"
	"halves/chem"
)

// A NoAnswerError says that nothing balances, and why.
type NoAnswerError struct {
	Equation chem.Equation
	Medium   Medium
	Cause    *balance.Cause
}

func (e *NoAnswerError) Error() string {
	c := e.Cause
	switch {
	case c == nil:
		return "the equation cannot be balanced"
	case len(c.OneSided) > 0:
		parts := make([]string, len(c.OneSided))
		for i, x := range c.OneSided {
			side := "right"
			if c.Left[i] {
				side = "left"
			}
			parts[i] = fmt.Sprintf("%s stands on the %s only", x, side)
		}
		return "the equation cannot be balanced: " + strings.Join(parts, ", ")
	case len(c.WrongSide) > 0:
		return fmt.Sprintf("the equation cannot be balanced as written; it balances with %s on the other side", speciesList(c.WrongSide))
	case len(c.Unused) > 0:
		return fmt.Sprintf("the equation cannot be balanced with all its species: %s could only have the coefficient 0", speciesList(c.Unused))
	case len(c.Contradiction) == 1 && c.Contradiction[0] == balance.Charge:
		return "the equation cannot be balanced: the charge cannot be made equal on both sides"
	case len(c.Contradiction) > 0:
		names := make([]string, len(c.Contradiction))
		for i, l := range c.Contradiction {
			names[i] = l.String()
		}
		return fmt.Sprintf("the equation cannot be balanced: %s cannot be conserved together", strings.Join(names, ", "))
	}
	return "the equation cannot be balanced"
}

// Hint says what to try.
func (e *NoAnswerError) Hint() string {
	c := e.Cause
	switch {
	case c == nil:
		return ""
	case len(c.OneSided) > 0 && e.Medium == None && (chem.Composition{{Element: c.OneSided[0]}}).Only(chem.O, chem.H):
		return "add the missing species, or name a medium (in acid, in base) if it takes place in water"
	case len(c.OneSided) > 0:
		if len(c.OneSided) == 1 {
			return fmt.Sprintf("add the species that holds %s on the other side", c.OneSided[0])
		}
		missing := make([]string, len(c.OneSided))
		for i, x := range c.OneSided {
			missing[i] = x.Symbol()
		}
		return fmt.Sprintf("add what holds %s on the side that lacks it", listed(missing))
	case len(c.WrongSide) > 0:
		return "check which are the reactants"
	case len(c.Unused) > 0:
		return "leave them out, or look for a species that was forgotten"
	}
	return "check the formulas and their charges, and whether a species was forgotten"
}

func speciesList(all []*chem.Species) string {
	parts := make([]string, len(all))
	for i, s := range all {
		parts[i] = s.String()
	}
	return strings.Join(parts, ", ")
}

// A ManyAnswersError says that the skeleton does not fix the ratio of its
// species.
type ManyAnswersError struct {
	Equation   chem.Equation
	Medium     Medium
	Nullity    int
	Elementary []chem.Equation // independent equations within it, at most balance.MaxElementary
	Complete   bool            // these are all
	Example    chem.Equation   // one that uses every species; empty where not worked out
}

func (e *ManyAnswersError) Error() string {
	return "the equation has many answers: the skeleton does not fix the ratio of its species"
}

// Hint says what to do.
func (e *ManyAnswersError) Hint() string {
	return "split it into separate equations, or give one product for each change"
}

// A HalfMissingError says that only oxidations, or only reductions, are there.
type HalfMissingError struct {
	Present Role
	Halves  []Half // worked
	Steps   []Step
	Medium  Medium
}

func (e *HalfMissingError) Error() string {
	if e.Present == Oxidation {
		return "only an oxidation is there: nothing is reduced"
	}
	return "only a reduction is there: nothing is oxidized"
}

// Hint says what to do.
func (e *HalfMissingError) Hint() string {
	if e.Present == Oxidation {
		return "add the species that takes up the electrons and what it becomes"
	}
	return "add the species that gives the electrons and what it becomes"
}

// A MediumNeededError says that water, hydrogen or hydroxide ions are needed
// and the question does not say which.
type MediumNeededError struct {
	Equation chem.Equation
	// Reagents are the acids or bases of which one must be chosen, where a
	// molecular equation lacks its own; nil where the medium itself is missing.
	Reagents []*chem.Species
}

func (e *MediumNeededError) Error() string {
	if e.Reagents != nil {
		return "the acid or base that takes part is not named, and more than one would do: " + speciesList(e.Reagents)
	}
	return "the medium matters here and is not given"
}

// Hint says how to give it.
func (e *MediumNeededError) Hint() string {
	if e.Reagents != nil {
		return "write the one that is meant among the reactants"
	}
	return `add ", in acid" or ", in base" to the question, or --medium acidic|basic|neutral|none`
}

// An InternalError is a defect of the program: a line that was about to be
// shown did not prove true. It holds the question.
type InternalError struct {
	Given string
	Msg   string
}

func (e *InternalError) Error() string {
	return fmt.Sprintf("this is a defect of the program, and nothing is shown rather than a wrong line: %s (question: %s)", e.Msg, e.Given)
}

// An OpenStatesError says that the method by oxidation states cannot be used,
// since the rules leave states open.
type OpenStatesError struct {
	Equation chem.Equation
	Species  []*chem.Species
}

func (e *OpenStatesError) Error() string {
	return fmt.Sprintf("the rules leave oxidation states open in %s, so the equation cannot be worked by them", speciesList(e.Species))
}

// Hint says what to try.
func (e *OpenStatesError) Hint() string {
	return "work it by half-reactions or by equations, which do not need the states"
}
