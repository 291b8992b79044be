package energetics

import (
	"errors"
	"slices"

	"halves/chem"
	"halves/redox"
	"halves/reference"
)

// Read reads a half-reaction: balanced with its electrons, or only what is
// oxidized and what is reduced, with phases where they matter ("Br2(aq) ->
// Br^-"), with or without a medium (", in base"). Without one the medium is that
// of the row of the table that holds the couple, else acid. The errors are those
// of package redox for what cannot be read or balanced, and *HalfError for a
// whole equation.
func (t Tables) Read(text string) (chem.Equation, error) {
	q, err := redox.ReadQuestion(text)
	if err != nil {
		return chem.Equation{}, err
	}
	for _, r := range q.Readings {
		if balanced(r.Equation) && vectorOf(r.Equation).electrons != 0 {
			return asReduction(r.Equation), nil
		}
	}
	medium := q.Medium
	if medium == redox.Unstated {
		medium = redox.Acidic
		for _, r := range q.Readings {
			if holds(r.Equation, chem.Hydroxide) {
				medium = redox.Basic
			}
		}
	}
	s, err := redox.Work(text, medium, redox.Conventions{})
	var half *redox.HalfMissingError
	switch {
	case errors.As(err, &half) && len(half.Halves) == 1:
	case errors.As(err, &half):
		return chem.Equation{}, &HalfError{Msg: "more than one half-reaction stands there; give one at a time"}
	case err != nil:
		// What a couple needs beside its two species, the table may know: the
		// bromide of AgBr -> Ag.
		for _, r := range q.Readings {
			if c := t.mentioned(r.Equation); c != nil {
				return c.Half, nil
			}
		}
		return chem.Equation{}, err
	default:
		return chem.Equation{}, &HalfError{s.Equation, "this is a whole reaction; give one of its halves"}
	}
	found := asReduction(half.Halves[0].Equation)
	if q.Medium == redox.Unstated && medium == redox.Acidic {
		// As the table has it: Fe(OH)3 -> Fe(OH)2 is a couple of basic solution.
		v := vectorOf(found)
		if p, ok := t.byTable(found, v); ok {
			for _, c := range t.candidates(v) {
				if c.ID == p.Rows[0] && vectorOf(c.Half).hydroxide != 0 {
					return inMedium(found, true), nil
				}
			}
		}
	}
	return found, nil
}

// mentioned returns the couple that has the species of an equation on its two
// sides, in either direction, with the fewest others beside them; nil for none.
func (t Tables) mentioned(e chem.Equation) *reference.Couple {
	if len(e.Left) == 0 || len(e.Right) == 0 {
		return nil
	}
	within := func(some, all []chem.Term) bool {
		for _, x := range some {
			if x.Species.IsElectron() {
				continue
			}
			if !slices.ContainsFunc(all, func(y chem.Term) bool { return same(x.Species, y.Species) && alikePhase(x.Species, y.Species) }) {
				return false
			}
		}
		return true
	}
	var best *reference.Couple
	size := func(c *reference.Couple) int {
		n := 2 * (len(c.Half.Left) + len(c.Half.Right))
		if !c.Preferred {
			n++
		}
		return n
	}
	for _, c := range t.Couples.Holding(e.Left[0].Species) {
		forward := within(e.Left, c.Half.Left) && within(e.Right, c.Half.Right)
		backward := within(e.Left, c.Half.Right) && within(e.Right, c.Half.Left)
		if (forward || backward) && (best == nil || size(c) < size(best)) {
			best = c
		}
	}
	return best
}

// asReduction turns an oxidation round.
func asReduction(e chem.Equation) chem.Equation {
	if vectorOf(e).electrons < 0 {
		return chem.Equation{Left: e.Right, Right: e.Left}
	}
	return e
}
