package question

import (
	"slices"

	"halves/chem"
	"halves/oxidation"
	"halves/redox"
	"halves/reference"
)

// A pair of couples may go by its potentials and yet be no question for a class,
// since something else happens among the same species. What that may be is looked
// up: in the potentials of all couples, and in the curated library, which says
// what reagents do when they meet. It is common practice, no source, unless it
// says otherwise, and never complete.

// A scene is what a pair of couples puts together.
type scene struct {
	red, ox     side
	left, right []*chem.Species // of the skeleton
	medium      redox.Medium
}

// further is the potential, in volts, from which a reaction beside the one that
// is asked for counts.
const further = 0.1

// besides reports whether something else happens, by the potentials of couples
// that are not slow in the direction in which they would run.
func besides(s scene, all sides) bool {
	up, down := s.red.couple.Volts, s.ox.couple.Volts
	// Water's own window, widened by the usual overpotentials (see the column
	// slow_way of the couples of oxygen and hydrogen).
	window := [2]float64{0, 1.229}
	if s.medium == redox.Basic {
		window = [2]float64{-0.828, 0.401}
	}
	if !ofWater(s.red) && up > window[1]+0.6 || !ofWater(s.ox) && down < window[0]-0.3 {
		return true
	}
	here := union(s.left, s.right)
	for _, x := range all {
		v := x.couple.Volts
		if s.ligandReacts(x) || s.goesFurther(x) || s.bindsBetter(x, here) {
			return true
		}
		if x.slowly[0] || !within(x.oxidized, here) {
			continue
		}
		for _, y := range all {
			if !y.slowly[1] && x.couple != y.couple && v-y.couple.Volts > further && within(y.reduced, here) && s.meets(x, y) {
				return true
			}
		}
	}
	return false
}

// ligandReacts reports whether a couple oxidizes or reduces what a reagent needs
// beside it, and which the asked couple leaves as it is.
func (s scene) ligandReacts(x side) bool {
	if x.couple == s.red.couple || x.couple == s.ox.couple {
		return false
	}
	v := x.couple.Volts
	return !x.slowly[1] && len(s.ox.reduced) > 1 && isPart(x.reduced, s.ox.reduced) && !changes(s.ox.couple, x.reduced[0]) && s.red.couple.Volts-v > further ||
		!x.slowly[0] && len(s.red.oxidized) > 1 && isPart(x.oxidized, s.red.oxidized) && !changes(s.red.couple, x.oxidized[0]) && v-s.ox.couple.Volts > further
}

// goesFurther reports whether a couple takes what forms on: a simple ion is
// oxidized or reduced again, and a compound of a metal is reduced to the metal.
func (s scene) goesFurther(x side) bool {
	if x.couple == s.red.couple || x.couple == s.ox.couple {
		return false
	}
	ion := func(one, of []*chem.Species) bool {
		return simple(one) && one[0].Charge() > 0 && slices.ContainsFunc(of, one[0].Same)
	}
	v := x.couple.Volts
	switch {
	case !x.slowly[1] && ion(x.reduced, s.ox.oxidized) && s.red.couple.Volts-v > further:
		return true
	case x.slowly[0] || v-s.ox.couple.Volts <= further:
		return false
	case ion(x.oxidized, s.red.reduced):
		return true
	}
	return metalOf(x.reduced) != nil && metalOf(s.ox.reduced) != nil && len(x.oxidized) > 0 && within(x.oxidized[:1], s.red.reduced) && within(x.oxidized, union(s.left, s.right))
}

// bindsBetter reports whether a metal of the question would bind to something
// else that is there: another couple of it, in the same state, has a lower
// potential.
func (s scene) bindsBetter(x side, here []*chem.Species) bool {
	for _, own := range []side{s.red, s.ox} {
		m := metalOf(own.reduced)
		if m == nil || x.couple == own.couple || metalOf(x.reduced) == nil || !metalOf(x.reduced).Same(m) {
			continue
		}
		if own.couple.Volts-x.couple.Volts > further/2 && within(x.reduced, here) && perAtom(own, m) == perAtom(x, m) {
			return true
		}
	}
	return false
}

// metalOf is the metal among species, as an element; nil for none.
func metalOf(all []*chem.Species) *chem.Species {
	for _, s := range all {
		if s.IsElement() && oxidation.IsMetal(s.Composition()[0].Element) {
			return s
		}
	}
	return nil
}

// perAtom is the electrons of a couple for one atom of its metal, in sixtieths, so
// that it is whole for up to six atoms.
func perAtom(s side, m *chem.Species) int64 {
	for _, t := range s.couple.Half.Right {
		if t.Species.Same(m) {
			return 60 * s.couple.Electrons / t.Coefficient.Num()
		}
	}
	return 0
}

// meets reports whether a reduction x and an oxidation y, which would go by their
// potentials, spoil the question: products react with each other, a product reacts
// with the reagent that should be left over, or one simple species
// disproportionates. The reaction that is asked for does not count.
func (s scene) meets(x, y side) bool {
	if x.couple == s.red.couple && y.couple == s.ox.couple {
		return false
	}
	alone := simple(x.oxidized) && len(y.reduced) == 1 && y.reduced[0].Same(x.oxidized[0])
	if alone {
		asked := meet(s.red.oxidized, s.ox.reduced) && meet(x.oxidized, s.red.oxidized)
		return !asked
	}
	if meet(x.oxidized, y.reduced) {
		return false
	}
	switch {
	case within(x.oxidized, s.right) && within(y.reduced, s.right):
		return true
	// What was oxidized oxidizes the oxidizing agent, as chromate does with peroxide.
	case within(x.oxidized, s.ox.oxidized) && within(y.reduced, s.red.oxidized):
		return true
	case within(x.oxidized, s.ox.reduced) && within(y.reduced, s.red.reduced):
		return true
	}
	return false
}

// otherwise reports whether the library knows that the reagents do something
// else in this medium, or that the medium breaks one of the species up.
func otherwise(left, right []*chem.Species, m redox.Medium) bool {
	here := union(left, right)
	for _, r := range libraryRows() {
		if r.medium != m {
			continue
		}
		reagents, products := mains(r.skeleton.Left), mains(r.skeleton.Right)
		switch {
		case len(reagents) > 1 && within(reagents, left) && !within(products, right):
			return true
		case len(reagents) == 1 && len(r.skeleton.Left) > 1 && !isWater(reagents[0]) && within(reagents, here) && !within(products, here):
			return true // with an acid or a base alone
		}
	}
	return false
}

// unusual reports whether the library knows that a reagent of a pair becomes
// something else in this medium.
func unusual(s scene) bool {
	w := library()
	return !w.usual(s.medium, redox.Reduction, s.red.oxidized, coupleKey(s.red.oxidized, s.red.reduced)) ||
		!w.usual(s.medium, redox.Oxidation, s.ox.reduced, coupleKey(s.ox.oxidized, s.ox.reduced))
}

// within reports whether all of some are among the others.
func within(some, all []*chem.Species) bool {
	return !slices.ContainsFunc(some, func(s *chem.Species) bool { return !slices.ContainsFunc(all, s.Same) && !isWater(s) })
}

// isPart reports whether one species is some of several.
func isPart(one, several []*chem.Species) bool {
	return len(one) == 1 && !isWater(one[0]) && slices.ContainsFunc(several, one[0].Same)
}

// changes reports whether a species of a couple holds an element whose state the
// couple changes: the species is no ligand there.
func changes(c *reference.Couple, s *chem.Species) bool {
	for _, x := range s.Composition() {
		if x.Element == chem.O || x.Element == chem.H {
			continue
		}
		total := chem.Whole(0)
		for side, t := range c.Half.Terms {
			states, _ := oxidation.States(t.Species)
			i := slices.IndexFunc(states, func(st oxidation.State) bool { return st.Element == x.Element })
			if i >= 0 {
				total = total.Add(states[i].Total().Mul(t.Coefficient).Mul(chem.Whole(side)))
			}
		}
		if total.Sign() != 0 {
			return true
		}
	}
	return false
}

// ofWater reports a couple of oxygen or hydrogen with water.
func ofWater(s side) bool {
	return slices.ContainsFunc(s.oxidized, isWater) || slices.ContainsFunc(s.reduced, isWater)
}

// simple reports whether one species of one element stands alone: an element or a
// simple ion, whose electrons are exchanged fast (common practice, no source).
func simple(all []*chem.Species) bool {
	return len(all) == 1 && len(all[0].Composition()) == 1 && !isWater(all[0])
}
