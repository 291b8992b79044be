package redox

import (
	"errors"
	"slices"

	"halves/balance"
	"halves/chem"
)

// refuse says why nothing balances: a half is missing, or there is no answer.
func (w *work) refuse(c *balance.Cause) error {
	no := &NoAnswerError{Equation: w.Skeleton, Medium: w.Medium, Cause: c}
	for _, e := range c.OneSided {
		if e != chem.O && e != chem.H || w.Medium != None {
			return no
		}
	}
	halves, err := w.loneHalves(w.Medium)
	if err != nil {
		return no
	}
	missing := &HalfMissingError{Present: halves[0].role, Medium: w.Medium}
	for _, h := range halves {
		if w.Medium == None && (h.vector.get(chem.Water) != 0 || h.vector.get(chem.Hydron) != 0) && !w.mayAdd(h) {
			return no
		}
		half, steps := w.halfSteps(h, len(missing.Halves))
		missing.Halves = append(missing.Halves, half)
		missing.Steps = append(missing.Steps, steps...)
	}
	return missing
}

// mayAdd reports whether the water and ions of a half were typed.
func (w *work) mayAdd(h *component) bool {
	for _, a := range h.vector {
		if isMedium(a.species) && a.n != 0 && !slices.ContainsFunc(w.free, a.species.Same) {
			return false
		}
	}
	return true
}

var errNoHalves = errors.New("not a set of halves of one role")

// loneHalves solves the skeleton as halves of one role, as where only an
// oxidation was given.
func (w *work) loneHalves(m Medium) ([]*component, error) {
	flows, _, open := pattern(w.left, w.right, w.book, true, false)
	sc := scene{left: own(w.left), right: own(w.right), book: w.book}
	all := components(withOzone(flows, w.left, w.right))
	if len(open) == 0 && w.covers(all, sc) {
		return all, nil
	}
	// States that the rules leave open, or one species that gains and loses at
	// once (Si -> SiH4): the charge tells.
	for _, r := range []Role{Oxidation, Reduction} {
		c := &component{role: r, left: sc.left, right: sc.right}
		if c.solve(w.book) {
			return []*component{c}, nil
		}
	}
	return nil, errNoHalves
}

// covers solves components that must all have one role and use every species.
func (w *work) covers(all []*component, sc scene) bool {
	var used []*chem.Species
	for _, c := range all {
		if c.role != all[0].role || !c.withHelpers(sc) {
			return false
		}
		used = union(union(used, c.left), c.right)
	}
	for _, s := range slices.Concat(sc.left, sc.right) {
		if !slices.ContainsFunc(used, s.Same) {
			return false
		}
	}
	return len(all) > 0
}
