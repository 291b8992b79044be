package reference

import (
	"errors"
	"strings"
	"testing"

	"halves/chem"
)

func TestElements(t *testing.T) {
	all, err := loadElements(elementsTSV)
	if err != nil {
		t.Fatal(err)
	}
	for i, e := range all {
		z := chem.Element(i + 1)
		if e.Symbol != z.Symbol() {
			t.Errorf("element %d has the symbol %s, package chem has %s", z, e.Symbol, z)
		}
		if ElementOf(z).Name != e.Name || e.Name == "" || e.Name != strings.ToLower(e.Name) {
			t.Errorf("element %d has the name %q", z, e.Name)
		}
		if (e.Weight == nil) != (e.MassNumber != "") {
			t.Errorf("%s needs either a standard weight or a mass number", e.Symbol)
		}
		if e.Weight != nil && (e.Uncertainty == nil || e.Uncertainty.Sign() <= 0) {
			t.Errorf("%s has a weight without uncertainty", e.Symbol)
		}
		if e.Period < 1 || e.Period > 7 || e.Group < 0 || e.Group > 18 {
			t.Errorf("%s: group %d, period %d", e.Symbol, e.Group, e.Period)
		}
		if _, ok := SourceOf(e.Source); !ok {
			t.Errorf("%s: no source %q", e.Symbol, e.Source)
		}
		// The range of what is taught: carbide to osmium tetraoxide. Common
		// practice, no source.
		for _, s := range e.CommonStates {
			if s < -4 || s > 8 {
				t.Errorf("%s: common state %d", e.Symbol, s)
			}
		}
	}
	if ElementOf(0) != nil || ElementOf(chem.MaxElement+1) != nil {
		t.Errorf("ElementOf finds elements that do not exist")
	}
}

// Abridged standard atomic weights: Prohaska et al., Standard atomic weights
// of the elements 2021, Pure Appl. Chem. 94, 573 (2022), Table 1, from memory.
func TestAtomicWeights(t *testing.T) {
	for _, c := range []struct{ symbol, weight string }{
		{"H", "1.0080"}, {"C", "12.011"}, {"N", "14.007"}, {"O", "15.999"}, {"Na", "22.990"}, {"S", "32.06"},
		{"Cl", "35.45"}, {"K", "39.098"}, {"Cr", "51.996"}, {"Mn", "54.938"}, {"Fe", "55.845"}, {"Cu", "63.546"},
		{"Ag", "107.87"}, {"I", "126.90"}, {"Pb", "207.2"}, {"Ar", "39.95"},
	} {
		z, _ := chem.ElementBySymbol(c.symbol)
		if got := ElementOf(z).WeightText; got != c.weight {
			t.Errorf("weight of %s = %s, want %s", c.symbol, got, c.weight)
		}
	}
	// Pauling electronegativities: CRC Handbook of Chemistry and Physics, from memory.
	for _, c := range []struct {
		symbol   string
		num, den int64
	}{{"F", 398, 100}, {"O", 344, 100}, {"H", 220, 100}, {"Na", 93, 100}, {"He", 0, 1}} {
		z, _ := chem.ElementBySymbol(c.symbol)
		if got := ElementOf(z).Electronegativity; !got.Equal(chem.NewRatio(c.num, c.den)) {
			t.Errorf("electronegativity of %s = %s, want %d/%d", c.symbol, got, c.num, c.den)
		}
	}
}

func TestMolarMass(t *testing.T) {
	for _, c := range []struct{ formula, mass string }{ // sums of the abridged weights, by hand
		{"H2O", "18.015"},          // 2(1.0080) + 15.999
		{"KMnO4", "158.032"},       // 39.098 + 54.938 + 4(15.999)
		{"NaCl", "58.44"},          // 22.990 + 35.45
		{"Na2S2O3.5H2O", "248.17"}, // 2(22.990) + 2(32.06) + 8(15.999) + 10(1.0080) = 248.172
		{"PbO", "223"},             // 207.2(1.1) + 15.999 = 223.199: the lead of the sample matters
		{"H2C2O4.2H2O", "126.06"},  // 6(1.0080) + 2(12.011) + 6(15.999) = 126.064, with 0.0112
		{"K2Cr2O7", "294.18"},      // 2(39.098) + 2(51.996) + 7(15.999) = 294.181, with 0.011
	} {
		mass, decimals, err := MolarMass(read(t, c.formula).Composition())
		if err != nil {
			t.Errorf("MolarMass(%s): %v", c.formula, err)
			continue
		}
		if got := mass.FloatString(decimals); got != c.mass {
			t.Errorf("MolarMass(%s) = %s, want %s", c.formula, got, c.mass)
		}
	}
	_, _, err := MolarMass(read(t, "TcO4^-").Composition())
	var none *NoWeightError
	if !errors.As(err, &none) || none.Element.Symbol() != "Tc" || !strings.Contains(err.Error(), "technetium") {
		t.Errorf("MolarMass(TcO4^-) gives %v, want an error naming technetium", err)
	}
	if mass, _, err := MolarMass(nil); err != nil || mass.Sign() != 0 {
		t.Errorf("MolarMass(nothing) = %s, %v, want 0", mass, err)
	}
}

func TestSources(t *testing.T) {
	all, err := loadSources(sourcesTSV)
	if err != nil {
		t.Fatal(err)
	}
	for key, s := range all {
		if key == "" || key != s.Key || s.Citation == "" || s.Licence == "" || s.Read == "" {
			t.Errorf("source %q lacks something: %+v", key, s)
		}
	}
	if _, ok := SourceOf("hearsay"); ok {
		t.Errorf("SourceOf(hearsay) is there")
	}
}
