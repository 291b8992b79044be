package energetics_test

import (
	"slices"
	"strings"
	"testing"

	"halves/chem"
	"halves/energetics"
	"halves/redox"
	"halves/reference"
)

// TestRemarks: what a teacher would strike out, with what forms instead, and
// nothing on what every book writes. Common practice, no source, where no
// reason stands.
func TestRemarks(t *testing.T) {
	const acid, base = redox.Acidic, redox.Basic
	tests := []struct {
		species string
		medium  redox.Medium
		forms   string // "" for no remark
		why     string
	}{
		{"Fe^3+", base, "Fe(OH)3", "Ksp 4e-38 (OpenStax, Chemistry 2e, Appendix J)"},
		{"Fe^2+", base, "Fe(OH)2", "Ksp 1.8e-15"},
		{"Mn^2+", base, "Mn(OH)2", "Ksp 2e-13"},
		{"Cu^2+", base, "Cu(OH)2", "Ksp 2.2e-20"},
		{"Cr^3+", base, "Cr(OH)", "a hydroxide or its complex"},
		{"Al^3+", base, "Al(OH)4^-", "amphoteric"},
		{"Zn^2+", base, "Zn(OH)4^2-", "amphoteric"},
		{"Ag^+", base, "Ag2O", "silver has no hydroxide that lasts"},
		{"CO3^2-", acid, "H2CO3", "carbonic acid, pKa 6.4 and 10.3"},
		{"HCO3^-", acid, "H2CO3", "pKa 6.4"},
		{"Cr2O7^2-", base, "CrO4^2-", "dichromate and base give chromate"},
		{"CrO4^2-", acid, "Cr", "chromate and acid give dichromate"},
		{"SO3^2-", acid, "H2SO3", "pKa 1.8 and 7.2"},
		{"ClO^-", acid, "HClO", "pKa 7.5"},
		{"HClO", base, "ClO^-", "pKa 7.5"},
		{"NO2^-", acid, "HNO2", "pKa 3.3"},
		{"HNO2", base, "NO2^-", "pKa 3.3"},
		{"CN^-", acid, "HCN", "pKa 9.3"},
		{"NH4^+", base, "NH3", "pKa 9.3"},
		{"NH3", acid, "NH4^+", "pKa 9.3"},
		{"H2C2O4", base, "C2O4^2-", "pKa 1.2 and 4.2"},
		{"Al(OH)4^-", acid, "Al^3+", "amphoteric"},
		{"Zn(OH)4^2-", acid, "Zn^2+", "amphoteric"},
		{"S^2-", acid, "H2S", "pKa 7"},
		{"CO2", base, "CO3^2-", "carbon dioxide and base give carbonate"},
		{"HSO4^-", base, "SO4^2-", "pKa 1.9"},

		{"MnO4^-", acid, "", ""},
		{"MnO4^-", base, "", ""},
		{"Mn^2+", acid, "", ""},
		{"MnO4^2-", base, "", ""},
		{"MnO2", acid, "", "a solid is often meant as it stands"},
		{"Cr2O7^2-", acid, "", ""},
		{"CrO4^2-", base, "", ""},
		{"Cr^3+", acid, "", ""},
		{"Fe^2+", acid, "", ""},
		{"Fe^3+", acid, "", "haematite is more stable at pH 1 and 0.1 mol/L, yet the solution is in every laboratory"},
		{"Cu^2+", acid, "", ""},
		{"Sn^2+", acid, "", ""},
		{"Sn^4+", acid, "", "books write it in acid; that hydrochloric acid holds it is left to them"},
		{"ClO^-", base, "", ""},
		{"ClO3^-", acid, "", ""},
		{"ClO3^-", base, "", ""},
		{"Cl^-", acid, "", ""},
		{"Cl2", acid, "", ""},
		{"SO4^2-", acid, "", "at pH 1 nearly all is HSO4^-, at pH 2 half; books write SO4^2- and a remark on each would be noise"},
		{"SO4^2-", base, "", ""},
		{"SO3^2-", base, "", ""},
		{"S^2-", base, "", "its second constant is in doubt, and books write it"},
		{"NO3^-", acid, "", ""},
		{"NO3^-", base, "", ""},
		{"NO", acid, "", ""},
		{"NO2", acid, "", ""},
		{"N2O4", acid, "", ""},
		{"NO2^-", base, "", ""},
		{"NH3", base, "", ""},
		{"H2O2", acid, "", ""},
		{"H2C2O4", acid, "", ""},
		{"CO2", acid, "", ""},
		{"C2O4^2-", base, "", ""},
		{"HCHO", acid, "", "isomers and carbon are no forms of it"},
		{"C2H5OH", acid, "", "dimethyl ether is no form of it"},
		{"CH3COOH", acid, "", ""},
		{"I2", acid, "", ""},
		{"I3^-", acid, "", ""},
		{"I^-", base, "", ""},
		{"IO3^-", acid, "", ""},
		{"IO3^-", base, "", ""},
		{"S2O3^2-", base, "", ""},
		{"Ag^+", acid, "", ""},
		{"Hg2^2+", acid, "", ""},
		{"VO2^+", acid, "", ""},
		{"VO^2+", acid, "", ""},
		{"Ce^4+", acid, "", ""},
		{"H3AsO4", acid, "", ""},
		{"AsO4^3-", base, "", ""},
		{"Fe(CN)6^3-", base, "", ""},
		{"Zn(OH)4^2-", base, "", ""},
		{"OH^-", base, "", ""},
		{"H^+", acid, "", ""},
		{"H2O", acid, "", ""},
	}
	tables := energetics.Shipped()
	for _, test := range tests {
		e := chem.Equation{Left: []chem.Term{{Coefficient: chem.Whole(1), Species: species(t, test.species)}}}
		got := tables.Remarks(e, test.medium)
		switch {
		case test.forms == "" && got != nil:
			t.Errorf("Remarks(%s, %s) = %q, want none (%s)", test.species, test.medium, got, test.why)
		case test.forms != "" && (len(got) != 1 || !strings.HasPrefix(got[0], test.species+" does not persist in strong") || !strings.Contains(got[0], ": "+test.forms)):
			t.Errorf("Remarks(%s, %s) = %q, want that %s forms (%s)", test.species, test.medium, got, test.forms, test.why)
		}
		for _, m := range []redox.Medium{redox.Neutral, redox.None, redox.Unstated} {
			if r := tables.Remarks(e, m); r != nil {
				t.Errorf("Remarks(%s, %q) = %q, want none: no pH is known", test.species, m, r)
			}
		}
	}
}

// TestRemarksOfRows: what a row of one medium holds is what is taught there, so
// few of them may be remarked on.
func TestRemarksOfRows(t *testing.T) {
	tables := energetics.Shipped()
	rows := 0
	var remarks []string
	for _, c := range reference.Couples().All() {
		if !c.Preferred || c.Medium == "any" {
			continue
		}
		rows++
		m := redox.Acidic
		if c.Medium == "basic" {
			m = redox.Basic
		}
		for _, r := range tables.Remarks(c.Half, m) {
			if !slices.Contains(remarks, r) {
				remarks = append(remarks, r)
			}
		}
	}
	for _, r := range remarks {
		t.Log(r)
	}
	if len(remarks) > rows/8 {
		t.Errorf("%d remarks on %d rows", len(remarks), rows)
	}
}
