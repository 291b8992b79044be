package oxidation

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"halves/chem"
	"halves/reference"
)

// ions are the polyatomic ions of the table of species, by their formula
// without charge.
var ions = sync.OnceValue(func() map[string][]*chem.Species {
	all := map[string][]*chem.Species{}
	for _, e := range reference.Species().Charged() {
		s := e.Species
		if monatomic(s) || len(s.Formula().Parts) > 1 {
			continue
		}
		for _, spelling := range append([]*chem.Species{s}, e.Spellings...) {
			f := spelling.Formula()
			if len(f.Parts) == 1 && spelling.Charge() == s.Charge() {
				key := unitsText(f.Parts[0].Units)
				if !slices.ContainsFunc(all[key], s.Same) {
					all[key] = append(all[key], s)
				}
			}
		}
	}
	return all
})

// group finds what a group in brackets may be by its atoms: an ion, sooner than
// a molecule.
func group(c chem.Composition) []*chem.Species {
	var all []*chem.Species
	for _, e := range reference.Species().WithAtoms(c) {
		if s := e.Species; !monatomic(s) && len(s.Formula().Parts) == 1 {
			all = append(all, s)
		}
	}
	slices.SortStableFunc(all, func(a, b *chem.Species) int { return neutral(a) - neutral(b) })
	return all
}

func monatomic(s *chem.Species) bool {
	c := s.Composition()
	return len(c) == 0 || len(c) == 1 && c[0].Atoms == 1
}

func neutral(s *chem.Species) int {
	if s.Charge() == 0 {
		return 1
	}
	return 0
}

func unitsText(units []chem.Unit) string {
	for len(units) == 1 && units[0].Group != nil && units[0].Count == 1 {
		units = units[0].Group
	}
	return chem.Formula{Parts: []chem.Part{{Count: 1, Units: units}}}.String()
}

// A piece is part of a formula read as a salt or a complex: an ion or ligand
// that is one of several, or atoms of a metal or halogen.
type piece struct {
	ions    []*chem.Species // nil for atoms of one element
	element chem.Element
	times   int64 // how often the ion, or how many atoms
}

// fromIons reads a formula as known ions and ligands with metals, and finds
// the charges that fit. It is false where the formula does not fall into such
// pieces, or no charges fit.
func fromIons(s *chem.Species, units []chem.Unit, charge int64) ([]State, bool) {
	for len(units) == 1 && units[0].Group != nil && units[0].Count == 1 {
		units = units[0].Group
	}
	if len(units) < 2 {
		return nil, false
	}
	pieces, ok := cut(units, true)
	if !ok {
		return nil, false
	}
	return fit(s, pieces, charge)
}

// maxUnits and maxIonUnits bound the formulas that are read as salts and the
// ions that are sought in them; maxFits the charges that are tried together.
const (
	maxUnits    = 64
	maxIonUnits = 16
	maxFits     = 4096
)

// cut divides a row of units into pieces with at least one ion or ligand,
// longest ions first.
func cut(units []chem.Unit, whole bool) ([]piece, bool) {
	if len(units) > maxUnits {
		return nil, false
	}
	type place struct {
		at    int
		known bool
	}
	dead := map[place]bool{} // places from which the end is not reached
	var walk, step func(i int, known bool) ([]piece, bool)
	walk = func(i int, known bool) ([]piece, bool) {
		if dead[place{i, known}] {
			return nil, false
		}
		pieces, ok := step(i, known)
		if !ok {
			dead[place{i, known}] = true
		}
		return pieces, ok
	}
	step = func(i int, known bool) ([]piece, bool) {
		if i == len(units) {
			return nil, known
		}
		for j := min(len(units), i+maxIonUnits); j > i+1; j-- {
			if whole && i == 0 && j == len(units) {
				continue // the formula itself: its parts are sought
			}
			if found := ions()[unitsText(units[i:j])]; found != nil {
				if rest, ok := walk(j, true); ok {
					return append([]piece{{ions: found, times: 1}}, rest...), true
				}
			}
		}
		u := units[i]
		if u.Group != nil {
			c, ok := chem.CompositionOf(u.Group)
			if !ok {
				return nil, false
			}
			if found := group(c); found != nil {
				if rest, ok := walk(i+1, true); ok {
					return append([]piece{{ions: found, times: u.Count}}, rest...), true
				}
			}
			// A complex that the table does not list: cut it in its turn.
			if inner, ok := cut(u.Group, false); ok {
				if rest, ok := walk(i+1, true); ok {
					for k := range inner {
						inner[k].times *= u.Count
					}
					return append(inner, rest...), true
				}
			}
			return nil, false
		}
		e := u.Element
		simple := IsMetal(e) || e == chem.H && i == 0 || e == chem.Sb || i > 0 && (e == chem.F || e == chem.Cl || e == chem.Br || e == chem.I || e == chem.O && i < len(units)-1 || e == chem.S && i == len(units)-1)
		if !simple {
			return nil, false
		}
		rest, ok := walk(i+1, known)
		if !ok {
			return nil, false
		}
		return append([]piece{{element: e, times: u.Count}}, rest...), true
	}
	return walk(0, false)
}

// fit finds the charges of the pieces: ions as the table lists them, metals
// with one state as that, one other metal by what is left.
func fit(s *chem.Species, pieces []piece, charge int64) ([]State, bool) {
	var openMetal chem.Element
	var openAtoms, rest int64 = 0, charge
	var metals []chem.Element
	for _, p := range pieces {
		if p.ions == nil && isVariable(p.element) && !slices.Contains(metals, p.element) {
			metals = append(metals, p.element)
		}
	}
	settled := map[chem.Element]int64{}
	for _, p := range pieces {
		if p.ions != nil {
			continue
		}
		e := p.element
		if n, ok := simpleCharge(e); ok && !(len(metals) == 0 && e.Symbol() == "Ag") {
			settled[e] = n
		}
	}
	if len(metals) > 1 {
		return nil, false
	}
	if len(metals) == 1 {
		openMetal = metals[0]
	} else if _, ok := settled[0]; !ok {
		for _, p := range pieces { // silver is open where no other metal is
			if p.ions == nil && p.element.Symbol() == "Ag" {
				openMetal = p.element
			}
		}
	}
	var choices []int // indices of pieces that are ions
	fits := 1
	for i, p := range pieces {
		switch {
		case p.ions != nil:
			choices = append(choices, i)
			if fits *= len(p.ions); fits > maxFits {
				return nil, false
			}
		case p.element == openMetal:
			openAtoms += p.times
		default:
			rest -= settled[p.element] * p.times
		}
	}
	best, bestScore := []int(nil), 99
	pick := make([]int, len(choices))
	for {
		left := rest
		anionic := false
		for k, i := range choices {
			c := pieces[i].ions[pick[k]].Charge()
			left -= c * pieces[i].times
			anionic = anionic || c < 0
		}
		if score := fitScore(openMetal, openAtoms, left, anionic); score < bestScore {
			best, bestScore = slices.Clone(pick), score
		}
		k := 0
		for ; k < len(pick); k++ {
			if pick[k]++; pick[k] < len(pieces[choices[k]].ions) {
				break
			}
			pick[k] = 0
		}
		if k == len(pick) {
			break
		}
	}
	if best == nil {
		return nil, false
	}
	var g gathering
	left := rest
	var named []string
	for k, i := range choices {
		ion := pieces[i].ions[best[k]]
		left -= ion.Charge() * pieces[i].times
		states, err := States(ion)
		if err != nil {
			return nil, false
		}
		g.add(states, pieces[i].times, "in "+ion.String()+": ")
		named = append(named, ion.String())
	}
	for _, p := range pieces {
		if p.ions != nil || p.element == openMetal {
			continue
		}
		n := chem.Whole(settled[p.element])
		kind := "salts"
		if p.element == chem.H {
			kind = "acids"
		}
		g.add([]State{{Element: p.element, Sites: []Site{{n, p.times}}, Reason: fmt.Sprintf("%s is %s, as always in %s", name(p.element), minus(n.Signed()), kind)}}, 1, "")
	}
	if openAtoms > 0 {
		n := chem.NewRatio(left, openAtoms)
		g.add([]State{{Element: openMetal, Sites: []Site{{n, openAtoms}}, Average: !n.IsWhole(),
			Reason: fmt.Sprintf("%s is %s, what is left for it beside %s", name(openMetal), minus(n.Signed()), strings.Join(named, " and "))}}, 1, "")
	}
	return g.states(), true
}

// isVariable reports whether a metal has several states.
func isVariable(e chem.Element) bool {
	_, fixedState := simpleCharge(e)
	return !fixedState
}

// simpleCharge returns the charge of atoms that are always the same ion in salts.
func simpleCharge(e chem.Element) (int64, bool) {
	switch e {
	case chem.H:
		return 1, true
	case chem.F, chem.Cl, chem.Br, chem.I:
		return -1, true
	case chem.O, chem.S:
		return -2, true
	}
	return fixed(e)
}

// fitScore says how well the charge that is left fits the open metal: 0 a
// usual state, more for less usual ones, 99 impossible.
func fitScore(metal chem.Element, atoms, left int64, anionic bool) int {
	if atoms == 0 {
		if left == 0 {
			return 0
		}
		return 99
	}
	n := chem.NewRatio(left, atoms)
	switch {
	case n.Sign() < 0 && anionic, n.Sign() == 0 && anionic, n.Cmp(chem.Whole(Highest(metal))) > 0, n.Cmp(chem.Whole(-2)) < 0:
		return 99
	case n.IsWhole() && slices.Contains(reference.ElementOf(metal).CommonStates, n.Num()):
		return 0
	case n.IsWhole():
		return 1
	}
	return 2
}
