package energetics

import (
	"slices"

	"halves/chem"
)

// A CellNotation is the diagram of a cell after the IUPAC recommendations (Green
// Book, 3rd edition, section 2.13): the anode at the left, a bar for each
// boundary of phases, two for the liquid junction.
type CellNotation struct {
	Runs  []chem.Run
	Inert bool // an inert electrode (Pt) had to be taken at one side or both
}

// Notation returns the diagram of the cell.
func (c *Cell) Notation() CellNotation {
	anode, inertLeft := phasesOf(c.Oxidation.Half)
	cathode, inertRight := phasesOf(c.Reduction.Half)
	slices.Reverse(cathode)
	var n CellNotation
	n.Inert = inertLeft || inertRight
	write := func(groups [][]*chem.Species) {
		for i, g := range groups {
			if i > 0 {
				n.Runs = append(n.Runs, chem.Run{Text: " | "})
			}
			for j, s := range g {
				if j > 0 {
					n.Runs = append(n.Runs, chem.Run{Text: ", "})
				}
				n.Runs = append(n.Runs, s.Runs()...)
				n.Runs = append(n.Runs, chem.Run{Text: s.Phase().String()})
			}
		}
	}
	write(anode)
	n.Runs = append(n.Runs, chem.Run{Text: " || "})
	write(cathode)
	return n
}

// platinum is the usual inert electrode.
var platinum = mustSpecies("Pt").WithPhase(chem.Solid)

func mustSpecies(formula string) *chem.Species {
	r, err := chem.ReadSpecies(formula, nil)
	if err != nil {
		panic(err) // a constant
	}
	return r[0].Species
}

// phasesOf groups the species of a half-cell by phase, the electrode first:
// the metal of the couple, else platinum, then other solids, liquids, gases, and
// what is dissolved.
func phasesOf(half chem.Equation) (groups [][]*chem.Species, inert bool) {
	var electrode *chem.Species
	byPhase := map[chem.Phase][]*chem.Species{}
	for _, x := range half.Terms {
		s := x.Species
		switch {
		case s.IsElectron() || s.Same(chem.Water):
		case electrode == nil && s.IsElement() && isMetal(s.Composition()[0].Element) && (s.Phase() == chem.Solid || s.Phase() == chem.Liquid):
			electrode = s
		default:
			byPhase[s.Phase()] = append(byPhase[s.Phase()], s)
		}
	}
	if electrode == nil {
		electrode, inert = platinum, true
	}
	groups = append(groups, []*chem.Species{electrode})
	for _, p := range []chem.Phase{chem.Solid, chem.Liquid, chem.Gas, chem.Aqueous} {
		switch all := byPhase[p]; {
		case len(all) == 0:
		case p == chem.Aqueous:
			groups = append(groups, all)
		default: // each solid is a phase of its own
			for _, s := range all {
				groups = append(groups, []*chem.Species{s})
			}
		}
	}
	return groups, inert
}

// isMetal reports whether an element conducts as an electrode does.
func isMetal(e chem.Element) bool {
	switch e.Symbol() {
	case "H", "He", "B", "C", "N", "O", "F", "Ne", "Si", "P", "S", "Cl", "Ar", "Ge", "As", "Se", "Br", "Kr", "Te", "I", "Xe", "At", "Rn":
		return false
	}
	return true
}
