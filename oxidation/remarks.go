package oxidation

import (
	"fmt"

	"halves/chem"
)

// Remarks says where the school's value of a state and the IUPAC definition, or
// another school rule, part; nil where nothing need be said. Each is one
// sentence.
//
// The definition gives the electrons of a bond to the more electronegative
// atom, by Allen's electronegativities (Karen, McArdle, Takats, Pure Appl.
// Chem. 88, 831–839, 2016); Allen's values, in Pauling units: H 2.300, P 2.253,
// As 2.211, Te 2.158, Sb 1.984 (from memory of the named table).
func Remarks(s *chem.Species) []string {
	c := s.Composition()
	switch {
	case s.Charge() == 0 && len(c) == 2 && c[0].Element == chem.H && (c[1].Element == chem.P || c[1].Element == chem.As || c[1].Element == chem.Sb || c[1].Element == chem.Te):
		return []string{fmt.Sprintf("School rules count hydrogen as +1 here; by the IUPAC definition of 2016, with Allen's electronegativities, hydrogen is the more electronegative partner of %s and would be −1.", name(c[1].Element))}
	case len(c) == 2 && s.Atoms(chem.S) == 2 && s.Atoms(chem.O) == 3 && s.Charge() == -2:
		return []string{"+2 is the mean that schools count with; the two sulfur atoms are bound differently."}
	case len(c) >= 2 && c.Only(chem.H, chem.N, chem.Cl) && s.Atoms(chem.N) > 0 && s.Atoms(chem.Cl) > 0 && s.Atoms(chem.H) < 4:
		return []string{"Nitrogen is counted as the more electronegative partner of chlorine; a rule that gives chlorine −1 in every compound without oxygen would put nitrogen higher."}
	}
	return nil
}
