package reference_test

import (
	"slices"
	"testing"

	"halves/checks"
	"halves/chem"
	"halves/redox"
	"halves/reference"
)

// without are half-reactions of the checks, as reductions in hydrogen ions,
// that no potential is known for: species without free energies.
var without = []string{
	"HSnO3^- + 2 H^+ + 2 e^- -> HSnO2^- + H2O",
	"SiO4^4- + 8 H^+ + 4 e^- -> Si + 4 H2O",
	"HNO3 + 3 H^+ + 3 e^- -> NO + 2 H2O", // as molecules; NO3^- has one
	"CrO4^2- + 3 IO4^- + 32 H^+ + 27 e^- -> CrI3 + 16 H2O",
	"Fe^3+ + 2 CO2 + 3 e^- -> FeC2O4",
	"4 CO2 + 10 H^+ + 10 e^- -> C4H6O6 + 2 H2O",
	"C6H8O4^2- + 10 H^+ + 8 e^- -> C6H10 + 4 H2O",
	"C6H5COO^- + 3 H^+ + 2 e^- -> C6H5CHO + H2O",
	"Cr2O7^2- + 12 CO2 + 12 NO3^- + 134 H^+ + 126 e^- -> 2 [Cr(CN)6]^3- + 67 H2O",
}

// inHydrons names a half-reaction as a reduction, without phases, with hydrogen
// ions and water in place of hydroxide ions.
func inHydrons(e chem.Equation) string {
	v := vector{}
	for side, term := range e.Terms {
		n := side * term.Coefficient.Num()
		switch s := term.Species; {
		case s.Same(chem.Hydroxide):
			v["H2O"] += n
			v["H^+"] -= n
		default:
			if row := reference.Species().Find(s); row != nil {
				s = row.Species
			}
			v[s.String()] += n
		}
	}
	return v.key()
}

// Every half-reaction of the equations of the checks in acid or in base has a
// potential: a row of the table, in either medium, or free energies of all its
// species. The rest is listed.
func TestPotentialsOfChecks(t *testing.T) {
	have := map[string]bool{}
	for _, c := range reference.Couples().All() {
		have[inHydrons(c.Half)] = true
	}
	missing := slices.Clone(without)
	seen := map[string]bool{}
	byTable, byEnergies := 0, 0
	for _, r := range checks.Equations() {
		if r.Medium != "acidic" && r.Medium != "basic" {
			continue
		}
		solution, err := redox.Work(r.Skeleton, redox.Medium(r.Medium), redox.Conventions{})
		if err != nil {
			t.Errorf("%s: %v", r.ID, err)
			continue
		}
		for _, h := range solution.Halves {
			half := h.Equation
			if h.Role == redox.Oxidation {
				half.Left, half.Right = half.Right, half.Left
			}
			key := inHydrons(half)
			if len(half.Left) == 0 || seen[key] {
				continue
			}
			seen[key] = true
			switch unknown := withoutEnergy(half); {
			case have[key]:
				byTable++
			case unknown == nil:
				byEnergies++
				t.Logf("%s: by free energies: %s", r.ID, half)
			default:
				t.Logf("%s: none, since %v has no free energy: %s", r.ID, unknown, half)
				i := slices.Index(missing, half.String())
				if i < 0 {
					t.Errorf("%s: no potential, and not listed: %s", r.ID, half)
					continue
				}
				missing = slices.Delete(missing, i, i+1)
			}
		}
	}
	t.Logf("%d half-reactions by the table, %d by free energies, %d not", byTable, byEnergies, len(without))
	if byTable < 50 {
		t.Errorf("%d half-reactions by the table: the search is broken", byTable)
	}
	for _, text := range missing {
		t.Errorf("listed, but has a potential: %s", text)
	}
}

func withoutEnergy(half chem.Equation) (unknown []*chem.Species) {
	for _, s := range half.Species() {
		if !s.IsElectron() && reference.Formations().Find(s) == nil {
			unknown = append(unknown, s)
		}
	}
	return unknown
}
