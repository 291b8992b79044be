package redox

import (
	"slices"

	"halves/chem"
	"halves/reference"
)

// ionsOf returns the ions as which a species is written in solution, nil for
// one that is written whole.
func ionsOf(s *chem.Species) []chem.Term {
	if s.Charge() != 0 || s.Phase() == chem.Solid || s.Phase() == chem.Gas || s.Phase() == chem.Liquid {
		return nil
	}
	e := reference.Species().Find(s)
	if e == nil {
		return nil
	}
	return e.Ions
}

// isAcid reports whether a species is a strong acid by the table, or H2SO4 and
// HNO3 in any strength.
func isAcid(s *chem.Species) bool {
	e := reference.Species().Find(s)
	return e != nil && s.Phase() != chem.Gas && slices.ContainsFunc(e.Ions, func(t chem.Term) bool { return t.Species.Same(chem.Hydron) })
}

func isBase(s *chem.Species) bool {
	e := reference.Species().Find(s)
	return s.Same(chem.Hydroxide) || e != nil && s.Phase() != chem.Solid && s.Phase() != chem.Liquid && slices.ContainsFunc(e.Ions, func(t chem.Term) bool { return t.Species.Same(chem.Hydroxide) })
}

// wet decides whether an equation to which nothing is added takes place in
// water, and says why.
func (w *work) wet() (bool, string) {
	const by = "It was worked by half-reactions, with water and hydrogen ions that cancel in the end."
	for _, a := range w.final {
		if a.species.Charge() != 0 {
			return true, "Ions stand in the equation, so it takes place in water. " + by
		}
	}
	for _, a := range w.final {
		switch s := a.species; {
		case a.n < 0 && isAcid(s):
			return true, s.String() + " is a strong acid, so the reaction takes place in water or in the acid. " + by
		case a.n < 0 && isBase(s):
			return true, s.String() + " is a strong base, so the reaction takes place in water. " + by
		case s.Phase() == chem.Aqueous:
			return true, s.String() + " is marked (aq), so the reaction takes place in water. " + by
		}
	}
	salt, fuel, alone := (*chem.Species)(nil), false, true
	for i, a := range w.final {
		if a.n > 0 {
			continue
		}
		alone = alone && i == 0
		switch {
		case ionsOf(a.species) != nil:
			salt = a.species
		case a.species.IsElement() && burnsDry(a.species.Composition()[0].Element):
			fuel = true
		}
	}
	if salt != nil && !fuel && !alone {
		return true, salt.String() + " dissolves as ions, so the reaction was taken to be in water. " + by
	}
	return false, "No acid, base or dissolved salt is there, so nothing is said about water: the changes are followed by oxidation states in place of the water and hydrogen-ion steps."
}

// burnsDry names the elements that react with water or, as solids, with molten
// salts, so that a salt beside them is not dissolved (common practice, no source).
func burnsDry(e chem.Element) bool {
	switch e.Symbol() {
	case "Li", "Na", "K", "Rb", "Cs", "Ca", "Sr", "Ba", "C", "S", "P", "Si", "B":
		return true
	}
	return false
}

// ionic writes a balanced molecular equation as its net ionic one.
func (w *work) ionic(final tally) tally {
	var t tally
	for _, a := range final {
		ions := ionsOf(a.species)
		if ions == nil {
			t = t.add(a.species, a.n)
			continue
		}
		for _, i := range w.splitSulfate(a.species, ions) {
			t = t.add(i.Species, product(a.n, i.Coefficient.Num()))
		}
		// The water of a hydrate goes into the solution.
		if parts := a.species.Formula().Parts; len(parts) > 1 {
			for _, p := range parts[1:] {
				if water, ok := chem.NewSpecies(chem.Formula{Parts: []chem.Part{{Count: 1, Units: p.Units}}}, 0, chem.NoPhase); ok && water.Same(chem.Water) {
					t = t.add(chem.Water, product(a.n, p.Count))
				}
			}
		}
	}
	return t.divided(1)
}

// splitSulfate writes sulfuric acid as two hydrogen ions and sulfate where no
// hydrogensulfate stands in the question, as courses do.
func (w *work) splitSulfate(s *chem.Species, ions []chem.Term) []chem.Term {
	if s.Key() != "H2SO4" {
		return ions
	}
	for _, t := range w.Skeleton.Terms {
		if t.Species.Key() != "H2SO4" {
			for _, i := range ionsOf(t.Species) {
				if i.Species.Key() == "HSO4^-" {
					return ions
				}
			}
		}
	}
	sulfate := sulfateIon()
	return []chem.Term{{Coefficient: chem.Whole(2), Species: chem.Hydron}, {Coefficient: chem.Whole(1), Species: sulfate}}
}

func sulfateIon() *chem.Species {
	r, err := chem.ReadSpecies("SO4^2-", nil)
	if err != nil {
		panic(err) // a constant
	}
	return r[0].Species
}

// writeIons writes the first lines of a molecular equation: all as ions, then
// without the spectators.
func (w *work) writeIons(target, molecular tally) {
	one := func(t tally) line {
		var l line
		for _, a := range t {
			switch {
			case a.n < 0:
				l.left = append(l.left, amount{a.species, 1})
			case a.n > 0:
				l.right = append(l.right, amount{a.species, 1})
			}
		}
		return l
	}
	var full line
	for _, a := range molecular {
		side := &full.right
		if a.n < 0 {
			side = &full.left
		}
		ions := ionsOf(a.species)
		if ions == nil {
			*side = addOnce(*side, a.species)
			continue
		}
		for _, i := range w.splitSulfate(a.species, ions) {
			*side = addOnce(*side, i.Species)
		}
	}
	net := one(target)
	if sameVector(full.vector(), one(molecular).vector()) {
		return // nothing dissolves into ions
	}
	w.Steps = append(w.Steps,
		Step{Rule: WriteIons, Half: -1, Before: w.Skeleton, After: full.equation(w.Conventions.Hydronium), Done: true, Reason: "strong acids, strong bases and soluble salts are ions in water"},
		Step{Rule: LeaveOut, Half: -1, Before: full.equation(w.Conventions.Hydronium), After: net.equation(w.Conventions.Hydronium), Done: true, Reason: "what stands on both sides alike does not react"})
}

func addOnce(side tally, s *chem.Species) tally {
	if side.get(s) != 0 {
		return side
	}
	return append(side, amount{s, 1})
}
