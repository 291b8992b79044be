package energetics

import (
	"slices"

	"halves/balance"
	"halves/chem"
	"halves/reference"
)

// A half-reaction is compared as a vector: species with signed numbers, left
// negative, hydroxide written as water less a hydrogen ion. Two ways of writing
// one couple, in acid and in base, are then one vector.

// An amount is a species with its signed number.
type amount struct {
	species *chem.Species
	n       int64
}

// A vector is a reduction, or an equilibrium without electrons.
type vector struct {
	amounts       []amount // without electrons, water and its ions; in order
	water, hydron int64
	hydroxide     int64 // hydroxide ions as written, right less left
	electrons     int64 // on the left; of a reduction positive
}

// vectorOf reads an equation with whole coefficients.
func vectorOf(e chem.Equation) vector {
	var v vector
	for side, t := range e.Terms {
		n := side * t.Coefficient.Num()
		switch s := t.Species; {
		case s.IsElectron():
			v.electrons -= n
		case s.Same(chem.Water):
			v.water += n
		case s.Same(chem.Hydron):
			v.hydron += n
		case s.Same(chem.Hydronium):
			v.hydron += n
			v.water += n
		case s.Same(chem.Hydroxide):
			v.hydroxide += n
			v.water += n
			v.hydron -= n
		default:
			v.add(s, n)
		}
	}
	v.amounts = slices.DeleteFunc(v.amounts, func(a amount) bool { return a.n == 0 })
	return v
}

func (v *vector) add(s *chem.Species, n int64) {
	for i := range v.amounts {
		if same(v.amounts[i].species, s) && alikePhase(v.amounts[i].species, s) {
			v.amounts[i].n += n
			return
		}
	}
	v.amounts = append(v.amounts, amount{s, n})
}

// turned returns the vector of the reverse.
func (v vector) turned() vector { return v.times(-1) }

func (v vector) times(k int64) vector {
	w := vector{water: v.water * k, hydron: v.hydron * k, hydroxide: v.hydroxide * k, electrons: v.electrons * k, amounts: slices.Clone(v.amounts)}
	for i := range w.amounts {
		w.amounts[i].n *= k
	}
	return w
}

// plus adds two vectors.
func (v vector) plus(w vector) vector {
	out := vector{water: v.water + w.water, hydron: v.hydron + w.hydron, hydroxide: v.hydroxide + w.hydroxide, electrons: v.electrons + w.electrons, amounts: slices.Clone(v.amounts)}
	for _, a := range w.amounts {
		out.add(a.species, a.n)
	}
	out.amounts = slices.DeleteFunc(out.amounts, func(a amount) bool { return a.n == 0 })
	return out
}

// same reports whether two formulas are one species, spelled alike or as the
// table of species spells them.
func same(a, b *chem.Species) bool {
	if a == b || a.Same(b) {
		return true
	}
	if a.Charge() != b.Charge() || !a.Composition().Equal(b.Composition()) {
		return false
	}
	e := reference.Species().Find(a)
	return e != nil && e == reference.Species().Find(b)
}

// of returns the number of a species, 0 where it does not stand.
func (v vector) of(s *chem.Species) int64 {
	for _, a := range v.amounts {
		if same(a.species, s) && alikePhase(a.species, s) {
			return a.n
		}
	}
	return 0
}

// ends reports whether n times w is m times v, species by species.
func (v vector) ends(w vector, n, m int64) bool {
	return !slices.ContainsFunc(w.amounts, func(a amount) bool { return n*a.n != m*v.of(a.species) })
}

func alikePhase(a, b *chem.Species) bool {
	return a.Phase() == b.Phase() || a.Phase() == chem.NoPhase || b.Phase() == chem.NoPhase
}

// agrees reports whether w is v up to a factor, where species marked with a
// phase in v stand in it in w.
func (v vector) agrees(w vector) bool {
	if len(v.amounts) != len(w.amounts) || v.electrons == 0 || w.electrons == 0 {
		return false
	}
	if v.hydron*w.electrons != w.hydron*v.electrons || v.water*w.electrons != w.water*v.electrons {
		return false
	}
	for _, a := range v.amounts {
		i := slices.IndexFunc(w.amounts, func(b amount) bool { return same(a.species, b.species) && alikePhase(a.species, b.species) })
		if i < 0 || a.n*w.electrons != w.amounts[i].n*v.electrons {
			return false
		}
	}
	return true
}

// balanced reports whether an equation conserves atoms and charge and has whole
// coefficients.
func balanced(e chem.Equation) bool {
	for _, t := range e.Terms {
		if !t.Coefficient.IsWhole() {
			return false
		}
	}
	l, err := balance.NewLedger(e)
	return err == nil && l.Closed()
}

// likelyPhase is the phase in which a species without one takes part in a
// half-reaction in water: ions and soluble compounds dissolved, ammonia and
// strong acids too, other gases as gases, the rest as the table of species has it.
func likelyPhase(s *chem.Species) chem.Phase {
	switch {
	case s.Phase() != chem.NoPhase:
		return s.Phase()
	case s.IsElectron():
		return chem.NoPhase
	case s.Same(chem.Water):
		return chem.Liquid
	case s.Charge() != 0:
		return chem.Aqueous
	}
	e := reference.Species().Find(s)
	switch {
	case e == nil:
		return chem.NoPhase
	case e.Soluble == "yes" && !s.IsElement() && (e.Phase != chem.Gas || e.Ions != nil || s.Same(ammonia)):
		return chem.Aqueous
	}
	return e.Phase
}

// ammonia is a ligand or a base in water, not a gas.
var ammonia = mustSpecies("NH3")

// marked returns the equation with the phases that are likely, where none was
// typed.
func marked(e chem.Equation) chem.Equation {
	side := func(terms []chem.Term) []chem.Term {
		out := slices.Clone(terms)
		for i, t := range out {
			out[i].Species = t.Species.WithPhase(likelyPhase(t.Species))
		}
		return out
	}
	return chem.Equation{Left: side(e.Left), Right: side(e.Right)}
}
