package redox_test

import (
	"testing"

	"halves/chem"
	"halves/redox"
)

// side counts the terms of one side.
func side(terms []chem.Term) map[string]int64 {
	n := map[string]int64{}
	for _, x := range terms {
		n[x.Species.Key()] += x.Coefficient.Num()
	}
	return n
}

// What a line forms or cancels is exactly what its step says: nothing else
// changes on either side.
func TestStepsChangeNothingElse(t *testing.T) {
	for _, q := range []string{
		"Cl2 -> Cl^- + ClO3^-, in base",
		"H2O2 + Cr(OH)4^- -> CrO4^2-, in base",
		"MnO4^- + SO3^2- -> MnO2 + SO4^2-, in base",
		"Zn + NO3^- -> Zn(OH)4^2- + NH3, in base",
		"Cr(OH)3 + FeO4^2- -> CrO4^2- + Fe(OH)3, in base",
		"MnO4^- + H2C2O4 -> Mn^2+ + CO2, in acid",
	} {
		for _, c := range []redox.Conventions{{}, {Hydronium: true}, {BaseInHalves: true}, {Hydronium: true, BaseInHalves: true}} {
			s, err := redox.Work(q, redox.Unstated, c)
			if err != nil {
				t.Errorf("Work(%s, %+v) = %v", q, c, err)
				continue
			}
			for _, st := range s.Steps {
				switch st.Rule {
				case redox.FormWater:
					formsWater(t, q, c, st)
				case redox.Cancel:
					cancelsAlike(t, q, st)
				}
			}
		}
	}
}

func formsWater(t *testing.T, q string, c redox.Conventions, st redox.Step) {
	t.Helper()
	acid, water := "H^+", int64(1)
	if c.Hydronium {
		acid, water = "H3O^+", 2
	}
	for _, x := range [][2]map[string]int64{{side(st.Before.Left), side(st.After.Left)}, {side(st.Before.Right), side(st.After.Right)}} {
		before, after := x[0], x[1]
		n := min(before[acid], before["OH^-"])
		before[acid] -= n
		before["OH^-"] -= n
		before["H2O"] += water * n
		for key := range before {
			if before[key] != after[key] {
				t.Errorf("%s (%+v): from %s to %s %s should be %d", q, c, st.Before, st.After, key, before[key])
			}
		}
	}
}

func cancelsAlike(t *testing.T, q string, st redox.Step) {
	t.Helper()
	l, r := side(st.Before.Left), side(st.Before.Right)
	al, ar := side(st.After.Left), side(st.After.Right)
	for key := range l {
		if l[key]-al[key] != r[key]-ar[key] {
			t.Errorf("%s: from %s to %s %d %s go from the left and %d from the right", q, st.Before, st.After, l[key]-al[key], key, r[key]-ar[key])
		}
	}
}
