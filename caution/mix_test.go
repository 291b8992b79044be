package caution

import (
	"slices"
	"testing"

	"halves/chem"
	"halves/reference"
)

// examples has a mixture for each row of the table: common practice, from
// memory.
var examples = map[string]string{
	"X001": "KMnO4 + H2SO4",
	"X002": "KMnO4 + C3H8O3",
	"X003": "KMnO4 + HCl",
	"X004": "KMnO4 + H2O2",
	"X005": "NaClO3 + S",
	"X006": "KClO3 + P4",
	"X007": "KClO3 + NH4Cl",
	"X008": "KClO3 + H2SO4",
	"X009": "KClO3 + C6H12O6",
	"X010": "KClO3 + Mg",
	"X011": "KClO4 + C12H22O11",
	"X012": "HClO4 + C2H5OH",
	"X013": "NH4ClO4 + Al",
	"X014": "NaClO + H2SO4",
	"X015": "NaClO + NH3",
	"X016": "NaClO + C3H6O",
	"X017": "Ca(ClO)2 + C3H8O3",
	"X018": "NaClO2 + HCl",
	"X019": "Cl2 + NH3",
	"X020": "Cl2 + H2",
	"X021": "Cl2 + C2H2",
	"X022": "Br2 + Al",
	"X023": "I2 + NH3",
	"X024": "I2 + Zn",
	"X025": "KCN + HCl",
	"X026": "KCN(s) + KNO3(s)",
	"X027": "K4Fe(CN)6 + H2SO4",
	"X028": "KSCN + HNO3",
	"X029": "FeS + HCl",
	"X030": "NaN3 + HCl",
	"X031": "NaN3 + Pb(NO3)2",
	"X032": "NaN3 + CH2Cl2",
	"X033": "AgNO3 + NH3",
	"X034": "AgNO3 + C2H2",
	"X035": "AgNO3 + C2H5OH + HNO3",
	"X036": "Hg + C2H5OH + HNO3",
	"X037": "HgCl2 + Al",
	"X038": "HAuCl4 + NH3",
	"X039": "CuCl + C2H2",
	"X040": "HNO3 + C2H5OH",
	"X041": "HNO3 + (CH3CO)2O",
	"X042": "HNO3 + N2H4",
	"X043": "HNO3 + Cu",
	"X044": "HNO3 + HCl",
	"X045": "KNO3 + C + S",
	"X046": "KNO3(s) + C6H12O6",
	"X047": "NH4NO3",
	"X048": "NH4^+ + NO2^-",
	"X049": "NaNO2 + HCl",
	"X050": "(NH4)2Cr2O7",
	"X051": "CrO3 + C2H5OH",
	"X052": "K2Cr2O7 + H2SO4",
	"X053": "K2Cr2O7 + C2H5OH + H2SO4",
	"X054": "C3H6O + H2O2",
	"X055": "H2O2 + FeSO4",
	"X056": "H2O2 + H2SO4",
	"X057": "K2S2O8 + Al",
	"X058": "Na2O2 + C2H5OH",
	"X059": "KO2 + H2O",
	"X060": "K + H2O",
	"X061": "Na + CCl4",
	"X062": "Na + HCl",
	"X063": "Mg + CO2",
	"X064": "Al + Fe2O3",
	"X065": "Al + NaNO3",
	"X066": "Fe + S",
	"X067": "Zn + HCl + As2O3",
	"X068": "Ca3P2 + H2O",
	"X069": "P4 + O2",
	"X070": "NaH2PO2",
	"X071": "CaH2 + H2O",
	"X072": "NaBH4 + HCl",
	"X073": "H2SO4 + H2O",
	"X074": "H2SO4 + C12H22O11",
	"X075": "H2SO4 + HCOOH",
	"X076": "H2SO4 + KBr",
	"X077": "Na2SO3 + HCl",
	"X078": "MnO2 + HCl",
	"X079": "PbO + C",
	"X080": "HgO -> Hg + O2",
	"X081": "F2",
	"X082": "ClF3",
	"X083": "O2(l) + C2H5OH",
	"X084": "O3 + C2H4",
	"X085": "H2 + O2",
	"X086": "C2H2 + O2",
	"X087": "N2H4 + H2O2",
	"X088": "NH3OH^+ + Fe^3+",
	"X089": "CS2 + NO",
	"X090": "KMnO4(s) + H2C2O4(s)",
	"X091": "KMnO4 + KI",
	"X092": "BaO2 + Mg",
	"X095": "H2O -> H2 + O2",
	"X098": "KIO3 + S",
	"X099": "AgNO3(s) + Mg",
	"X100": "Zn + S",
	"X101": "KClO3 + Sb2S3",
	"X102": "KNO3(s) + Sb2S3",
	"X103": "NaN3",
	"X104": "HCN",
	"X105": "AsH3",
	"X106": "COCl2",
	"X107": "NCl3",
	"X108": "NH4Cl + NaNO2",
	"X109": "P + HNO3",
	"X110": "Na + Cl2",
	"X111": "H2O2 + KI",
	"X112": "Mg + H2O(g)",
	"X113": "NaCl + H2O -> NaOH + Cl2 + H2",
	"X114": "P + NO2",
	"X115": "H2SO4 + KSCN",
	"X116": "Br2 + P",
	"X117": "CaC2 + H2O",
	"X118": "HClO4 + Zn",
	"X119": "NaNO2 + KCN",
}

// innocent are substances that match nothing together.
var innocent = []string{
	"NaCl + H2O", "Zn + CuSO4", "Fe + CuSO4", "Cu + AgNO3", "Fe^2+ + Ce^4+", "I2 + S2O3^2-", "CO2 + Ca(OH)2",
	"Ca + HCl", "Fe2O3 + CO", "NaCl + AgNO3", "Sn^2+ + Fe^3+", "Na2CO3 + HCl", "CH3COOH + NaOH",
}

// TestEveryMixture: each row matches its example, certain or under a condition,
// and not when one of the substances is taken away.
func TestEveryMixture(t *testing.T) {
	for _, m := range reference.Mixtures() {
		example, ok := examples[m.ID]
		if !ok {
			t.Errorf("%s (%s + %s) has no example", m.ID, m.Parts[0], m.Parts[1])
			continue
		}
		e := read(t, example)
		if a := For(e); !matched(a, m.ID) {
			t.Errorf("%s does not match %s", m.ID, example)
		}
		for i := range e.Left {
			less := chem.Equation{Left: slices.Delete(slices.Clone(e.Left), i, i+1), Right: e.Right}
			if m.ID != "X095" && m.ID != "X113" && matched(For(less), m.ID) {
				t.Errorf("%s matches %s without %s", m.ID, example, e.Left[i].Species)
			}
		}
		for i := range e.Right {
			less := chem.Equation{Left: e.Left, Right: slices.Delete(slices.Clone(e.Right), i, i+1)}
			if s := e.Right[i].Species.String(); s != "NaOH" && !(m.ID == "X080" && s == "O2") && matched(For(less), m.ID) {
				t.Errorf("%s matches %s without %s", m.ID, example, s)
			}
		}
	}
}

func matched(a Advice, id string) bool {
	return slices.ContainsFunc(a.Reasons, func(r Reason) bool { return r.Mixture == id })
}

func TestInnocent(t *testing.T) {
	for _, text := range innocent {
		if a := For(read(t, text)); a.Reasons != nil || a.PaperOnly {
			t.Errorf("For(%s): %+v", text, a.Reasons)
		}
	}
}

// TestClasses holds how classes are found in formulas that the table of
// species need not know.
func TestClasses(t *testing.T) {
	tests := []struct {
		species, class string
		want           bool
	}{
		{"RbClO3", "chlorate", true},
		{"Ba(ClO3)2", "chlorate", true},
		{"KClO4", "chlorate", false},
		{"KClO", "hypochlorite", true},
		{"RbN3", "azide", true},
		{"Pb(N3)2", "azide", true},
		{"NH3", "azide", false},
		{"Ca3N2", "azide", false},
		{"RbCN", "cyanide", true},
		{"RbSCN", "cyanide", false},
		{"K4Fe(CN)6", "cyanide", false},
		{"As2S3", "sulfide", true},
		{"CS2", "sulfide", false},
		{"Na2SO4", "sulfide", false},
		{"(NH4)2S", "sulfide", true},
		{"C2H5OH", "organic liquid", true},
		{"C12H22O11", "organic", true},
		{"H2C2O4", "organic", false},
		{"NH4SCN", "organic", false},
		{"CO2", "organic", false},
		{"Fe", "metal", true},
		{"Si", "metal", false},
		{"Pb(NO3)2", "heavy metal", true},
		{"H2S", "acid", false},
		{"HNO3", "acid", true},
	}
	c := classes()
	for _, tt := range tests {
		r, err := chem.ReadSpecies(tt.species, reference.Species())
		if err != nil {
			t.Fatal(err)
		}
		if got := kindOf(r[0].Species).classes.has(c.byName[tt.class]); got != tt.want {
			t.Errorf("%s in class %q = %v, want %v", tt.species, tt.class, got, tt.want)
		}
	}
}

func TestLoadClassesRefuses(t *testing.T) {
	for _, text := range []string{
		"class\tmembers\n", classHeader + "\nacid\tan acid\n", classHeader + "\nacid\tan acid\tclass:base\n",
		classHeader + "\nacid\tan acid\tspecies:Xx\n", classHeader + "\nacid\tan acid\tbuilt-in:acid\n",
		classHeader + "\nacid\tan acid\tion:HCl\n", classHeader + "\nacid\tan acid\tspecies:HCl\nacid\tan acid\tspecies:HBr\n",
	} {
		if _, err := loadClasses(text); err == nil {
			t.Errorf("loadClasses(%q): no error", text)
		}
	}
}
