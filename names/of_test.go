package names

import (
	"strings"
	"testing"

	"halves/chem"
	"halves/reference"

	"pgregory.net/rapid"
)

// Each row: a formula with its names in the four styles. Sources: common and
// traditional names, OpenStax, Chemistry 2e, section 2.7; Stock names by the
// state of the central atom; systematic names, IUPAC Red Book 2005, IR-5.4,
// IR-7.1 and tables IX and X; all from memory.
func TestOf(t *testing.T) {
	for _, c := range []struct{ formula, common, traditional, stock, systematic string }{
		{"e^-", "electron", "electron", "electron", "electron"},
		{"H^+", "hydrogen ion", "hydrogen ion", "hydrogen ion", "hydrogen(1+) ion"},
		{"H3O^+", "hydronium ion", "hydronium ion", "hydronium ion", "hydronium ion"},
		{"OH^-", "hydroxide ion", "hydroxide ion", "hydroxide ion", "hydroxide ion"},
		{"H2O", "water", "water", "water", "water"},
		{"NH3", "ammonia", "ammonia", "ammonia", "ammonia"},
		{"Na^+", "sodium ion", "sodium ion", "sodium ion", "sodium(1+) ion"},
		{"Al^3+", "aluminium ion", "aluminium ion", "aluminium ion", "aluminium(3+) ion"},
		{"Fe^2+", "iron(II) ion", "ferrous ion", "iron(II) ion", "iron(2+) ion"},
		{"Fe^3+", "iron(III) ion", "ferric ion", "iron(III) ion", "iron(3+) ion"},
		{"Hg2^2+", "mercury(I) ion", "mercurous ion", "mercury(I) ion", "dimercury(2+) ion"},
		{"Ag^+", "silver ion", "silver ion", "silver ion", "silver(1+) ion"},
		{"Ni^3+", "nickel(III) ion", "nickelic ion", "nickel(III) ion", "nickel(3+) ion"}, // no row of the table
		{"V^4+", "vanadium(IV) ion", "vanadium(IV) ion", "vanadium(IV) ion", "vanadium(4+) ion"},
		{"Cl^-", "chloride ion", "chloride ion", "chloride ion", "chloride ion"},
		{"MnO4^-", "permanganate ion", "permanganate ion", "manganate(VII) ion", "tetraoxidomanganate(1-) ion"},
		{"MnO4^2-", "manganate ion", "manganate ion", "manganate(VI) ion", "tetraoxidomanganate(2-) ion"},
		{"ClO3^-", "chlorate ion", "chlorate ion", "chlorate(V) ion", "trioxidochlorate(1-) ion"},
		{"ClO^-", "hypochlorite ion", "hypochlorite ion", "chlorate(I) ion", "oxidochlorate(1-) ion"},
		{"SO3^2-", "sulfite ion", "sulfite ion", "sulfate(IV) ion", "trioxidosulfate(2-) ion"},
		{"SO4^2-", "sulfate ion", "sulfate ion", "sulfate(VI) ion", "tetraoxidosulfate(2-) ion"},
		{"NO3^-", "nitrate ion", "nitrate ion", "nitrate(V) ion", "trioxidonitrate(1-) ion"},
		{"NO2^-", "nitrite ion", "nitrite ion", "nitrate(III) ion", "dioxidonitrate(1-) ion"},
		{"CrO4^2-", "chromate ion", "chromate ion", "chromate(VI) ion", "tetraoxidochromate(2-) ion"},
		{"Cr2O7^2-", "dichromate ion", "dichromate ion", "dichromate(VI) ion", "heptaoxidodichromate(2-) ion"},
		{"CO3^2-", "carbonate ion", "carbonate ion", "carbonate ion", "trioxidocarbonate(2-) ion"},
		{"HCO3^-", "hydrogencarbonate ion", "bicarbonate ion", "hydrogencarbonate ion", "hydrogencarbonate ion"},
		{"HSO4^-", "hydrogensulfate ion", "bisulfate ion", "hydrogensulfate(VI) ion", "hydrogensulfate ion"},
		{"S2O3^2-", "thiosulfate ion", "thiosulfate ion", "thiosulfate ion", "trioxidosulfidosulfate(2-) ion"},
		{"IO4^-", "periodate ion", "periodate ion", "iodate(VII) ion", "tetraoxidoiodate(1-) ion"},
		{"Cr(OH)4^-", "tetrahydroxidochromate(III) ion", "tetrahydroxidochromate(III) ion", "chromate(III) ion", "tetrahydroxidochromate(1-) ion"},
		{"Zn(OH)4^2-", "tetrahydroxidozincate ion", "tetrahydroxidozincate ion", "tetrahydroxidozincate ion", "tetrahydroxidozincate(2-) ion"},
		{"Fe(CN)6^3-", "hexacyanidoferrate(III) ion", "ferricyanide ion", "hexacyanidoferrate(III) ion", "hexacyanidoferrate(3-) ion"},
		{"[Fe(CN)6]^4-", "hexacyanidoferrate(II) ion", "ferrocyanide ion", "hexacyanidoferrate(II) ion", "hexacyanidoferrate(4-) ion"},
		{"Cu(NH3)4^2+", "tetraamminecopper(II) ion", "tetraamminecopper(II) ion", "tetraamminecopper(II) ion", "tetraamminecopper(2+) ion"},
		{"Ag(NH3)2^+", "diamminesilver(I) ion", "diamminesilver(I) ion", "diamminesilver(I) ion", "diamminesilver(1+) ion"},
		{"O2", "oxygen", "oxygen", "oxygen", "dioxygen"},
		{"S8", "octasulfur", "octasulfur", "octasulfur", "cyclo-octasulfur"},
		{"S", "sulfur", "sulfur", "sulfur", "sulfur"},
		{"Cu", "copper", "copper", "copper", "copper"},
		{"H2O2", "hydrogen peroxide", "hydrogen peroxide", "hydrogen peroxide", "dihydrogen dioxide"},
		{"NO", "nitrogen monoxide", "nitric oxide", "nitrogen monoxide", "nitrogen oxide"},
		{"N2O", "dinitrogen monoxide", "nitrous oxide", "dinitrogen monoxide", "dinitrogen oxide"},
		{"N2O4", "dinitrogen tetroxide", "dinitrogen tetroxide", "dinitrogen tetroxide", "dinitrogen tetraoxide"},
		{"MnO2", "manganese(IV) oxide", "manganese(IV) oxide", "manganese(IV) oxide", "manganese dioxide"},
		{"Cu2O", "copper(I) oxide", "cuprous oxide", "copper(I) oxide", "copper(I) oxide"},
		{"HNO3", "nitric acid", "nitric acid", "nitric(V) acid", "nitric acid"},
		{"H2SO3", "sulfurous acid", "sulfurous acid", "sulfuric(IV) acid", "sulfurous acid"},
		{"H2SO4", "sulfuric acid", "sulfuric acid", "sulfuric(VI) acid", "sulfuric acid"},
		{"HClO", "hypochlorous acid", "hypochlorous acid", "chloric(I) acid", "hydrogen hypochlorite"},
		{"H2C2O4", "oxalic acid", "oxalic acid", "oxalic acid", "ethanedioic acid"},
		{"HCl", "hydrogen chloride", "hydrogen chloride", "hydrogen chloride", "hydrogen chloride"},
		{"HCl(aq)", "hydrochloric acid", "hydrochloric acid", "hydrochloric acid", "hydrogen chloride"},
		{"KMnO4", "potassium permanganate", "potassium permanganate", "potassium manganate(VII)", "potassium tetraoxidomanganate(1-)"},
		{"Na2SO3", "sodium sulfite", "sodium sulfite", "sodium sulfate(IV)", "sodium trioxidosulfate(2-)"},
		{"CuSO4.5H2O", "copper(II) sulfate pentahydrate", "cupric sulfate pentahydrate", "copper(II) sulfate(VI) pentahydrate", "copper(2+) tetraoxidosulfate(2-) pentahydrate"},
		{"FeCl3", "iron(III) chloride", "ferric chloride", "iron(III) chloride", "iron(3+) chloride"},
		{"C2H5OH", "ethanol", "ethanol", "ethanol", "ethanol"},
		// Not in the table: made by rule.
		{"Sr(MnO4)2", "strontium permanganate", "strontium permanganate", "strontium manganate(VII)", "strontium(2+) tetraoxidomanganate(1-)"},
		{"Ni(IO3)2", "nickel(II) iodate", "nickelous iodate", "nickel(II) iodate(V)", "nickel(2+) trioxidoiodate(1-)"},
		{"AgRuO4", "silver perruthenate", "silver perruthenate", "silver ruthenate(VII)", "silver(1+) tetraoxidoruthenate(1-)"},
		{"CaCl2.4H2O", "calcium chloride tetrahydrate", "calcium chloride tetrahydrate", "calcium chloride tetrahydrate", "calcium chloride tetrahydrate"},
		{"[Cr(NH3)5Cl]^2+", "pentaamminechloridochromium(III) ion", "pentaamminechloridochromium(III) ion", "pentaamminechloridochromium(III) ion", "pentaamminechloridochromium(2+) ion"},
		{"Se3Br8", "triselenium octabromide", "triselenium octabromide", "triselenium octabromide", "triselenium octabromide"},
	} {
		s := mustRead(t, c.formula)
		for style, want := range []string{c.common, c.traditional, c.stock, c.systematic} {
			if got, ok := Of(s, Choice{Style: Style(style)}); got != want || !ok {
				t.Errorf("Of(%s, %s) = %q, %v, want %q", c.formula, Style(style), got, ok, want)
			}
		}
	}
}

// Names of acids: OpenStax, Chemistry 2e, section 2.7, from memory.
func TestOfDissolved(t *testing.T) {
	for _, c := range []struct {
		formula string
		style   Style
		want    string
	}{
		{"HCl", Common, "hydrochloric acid"},
		{"HCl(g)", Traditional, "hydrochloric acid"},
		{"HCl", Stock, "hydrochloric acid"},
		{"HCl", Systematic, "hydrogen chloride"},
		{"HBr", Common, "hydrobromic acid"},
		{"HI", Common, "hydroiodic acid"},
		{"HF", Common, "hydrofluoric acid"},
		{"HCN", Common, "hydrocyanic acid"},
		{"HN3", Common, "hydrazoic acid"},
		{"H2S", Common, "hydrogen sulfide"},
		{"HNO3", Common, "nitric acid"},
		{"HNO3", Stock, "nitric(V) acid"},
		{"HClO", Common, "hypochlorous acid"},
		{"Cl^-", Common, "chloride ion"},
		{"NaCl(s)", Common, "sodium chloride"},
		{"CO2", Common, "carbon dioxide"},
	} {
		s := mustRead(t, c.formula)
		got, ok := OfDissolved(s, Choice{Style: c.style})
		if got != c.want || !ok {
			t.Errorf("OfDissolved(%s, %s) = %q, %v, want %q", c.formula, c.style, got, ok, c.want)
		}
	}
	if got, ok := OfDissolved(mustRead(t, "S9"), Choice{}); ok {
		t.Errorf("OfDissolved(S9) = %q, want none", got)
	}
	for _, e := range reference.Species().All() {
		for style := Common; style <= Systematic; style++ {
			name, _ := OfDissolved(e.Species, Choice{Style: style})
			if s, err := Find(name); err != nil || s != e.Species {
				t.Errorf("Find(OfDissolved(%s, %s)) = Find(%s) = %v, %v", e.Species, style, name, s, err)
			}
		}
	}
}

func TestOfSulph(t *testing.T) {
	for _, c := range []struct {
		formula string
		style   Style
		want    string
	}{ // spelling: common practice
		{"SO4^2-", Common, "sulphate ion"},
		{"S2O3^2-", Common, "thiosulphate ion"},
		{"SO3^2-", Stock, "sulphate(IV) ion"},
		{"H2SO4", Common, "sulphuric acid"},
		{"S", Common, "sulphur"},
		{"H2S", Common, "hydrogen sulphide"},
	} {
		if got, _ := Of(mustRead(t, c.formula), Choice{Style: c.style, Sulph: true}); got != c.want {
			t.Errorf("Of(%s, %s, sulph) = %q, want %q", c.formula, c.style, got, c.want)
		}
	}
}

// What no rule names for certain has no name.
func TestOfNothing(t *testing.T) {
	for _, formula := range []string{"S9", "SO4^3-", "C7H13NO2F", "Mn3O9", "FeMnO4", "Fe(MnO4)5", "Cl5^3-", "O2^3-", "Hg^+", "CuFe(CN)6", "TlMnO4", "Na^3+", "Au^4+", "Mn^7+"} {
		if got, ok := Of(mustRead(t, formula), Choice{}); ok {
			t.Errorf("Of(%s) = %q, want none", formula, got)
		}
	}
}

// Every name of a row, in each style and spelling, is read back as the row.
func TestOfReadsBack(t *testing.T) {
	named := 0
	for _, e := range reference.Species().All() {
		for style := Common; style <= Systematic; style++ {
			for _, sulph := range []bool{false, true} {
				name, ok := Of(e.Species, Choice{style, sulph})
				if !ok {
					continue
				}
				named++
				if (e.Species.Charge() != 0) != strings.HasSuffix(name, " ion") {
					t.Errorf("Of(%s, %s) = %q: the word ion", e.Species, style, name)
				}
				if s, err := Find(name); err != nil || s != e.Species {
					t.Errorf("Find(Of(%s, %s)) = Find(%s) = %v, %v", e.Species, style, name, s, err)
				}
			}
		}
	}
	if want := 8 * reference.Species().Len(); named != want {
		t.Errorf("%d names, want %d: every row has one in each style", named, want)
	}
}

// A salt put together from any two ions of the table: if it has a name, the
// name is read back as the same atoms.
func TestOfMadeSalts(t *testing.T) {
	var cations, anions []*chem.Species
	for _, e := range reference.Species().All() {
		switch q := e.Species.Charge(); {
		case q > 0 && q < 5:
			cations = append(cations, e.Species)
		case q < 0 && q > -5:
			anions = append(anions, e.Species)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(cations).Draw(t, "cation")
		a := rapid.SampledFrom(anions).Draw(t, "anion")
		water := rapid.SampledFrom([]string{"", ".H2O", ".2H2O", ".12H2O"}).Draw(t, "water")
		s := salt(c, 0, a, 0)
		if s == nil {
			t.Skip("no formula")
		}
		r, err := chem.ReadSpecies(s.String()+water, nil)
		if err != nil {
			t.Skip("no formula with water")
		}
		checkReadBack(t, r[0].Species)
	})
}

// A complex of any metal with any ligands.
func TestOfMadeComplexes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		z := chem.Element(rapid.IntRange(1, int(chem.MaxElement)).Draw(t, "centre"))
		formula := z.Symbol()
		for _, l := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(ligands)-1), 1, 3, rapid.ID).Draw(t, "ligands") {
			formula += "(" + ligands[l].formula + ")" + digits(int64(rapid.IntRange(2, 8).Draw(t, "number")))
		}
		q := rapid.IntRange(-6, 6).Draw(t, "charge")
		r, err := chem.ReadSpecies(formula+chargeText(int64(q)), nil)
		if err != nil {
			t.Fatal(err)
		}
		checkReadBack(t, r[0].Species)
	})
}

// Any formula of two elements.
func TestOfMadeBinaries(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		formula := ""
		for range 2 {
			formula += chem.Element(rapid.IntRange(1, 92).Draw(t, "element")).Symbol()
			if n := rapid.IntRange(1, 12).Draw(t, "number"); n > 1 {
				formula += digits(int64(n))
			}
		}
		r, err := chem.ReadSpecies(formula, nil)
		if err != nil {
			t.Fatal(err)
		}
		checkReadBack(t, r[0].Species)
	})
}

func checkReadBack(t *rapid.T, s *chem.Species) {
	for style := Common; style <= Systematic; style++ {
		name, ok := Of(s, Choice{Style: style})
		if !ok {
			continue
		}
		got, err := Find(name)
		if err != nil || got.Charge() != s.Charge() || !got.Composition().Equal(s.Composition()) {
			t.Fatalf("Find(Of(%s, %s)) = Find(%s) = %v, %v", s, style, name, got, err)
		}
	}
}

// Each preferred name is a name of the table.
func TestPreferredNames(t *testing.T) {
	for name := range preferred() {
		if s, err := Find(name); err != nil {
			t.Errorf("%s: %v", name, err)
		} else if got, _ := Of(s, Choice{}); strings.TrimSuffix(got, " ion") != strings.TrimSuffix(name, " ion") {
			t.Errorf("Of(Find(%s)) = %q", name, got)
		}
	}
}

func TestStyles(t *testing.T) {
	for i, word := range Styles {
		s, err := ParseStyle(" " + strings.ToUpper(word))
		if err != nil || s != Style(i) || s.String() != word {
			t.Errorf("ParseStyle(%s) = %v, %v", word, s, err)
		}
	}
	if _, err := ParseStyle("curly"); err == nil {
		t.Error("ParseStyle(curly) gives no error")
	}
}

func TestRoman(t *testing.T) {
	for n, want := range map[int64]string{1: "I", 2: "II", 3: "III", 4: "IV", 5: "V", 6: "VI", 7: "VII", 8: "VIII", 9: "IX", 14: "XIV"} {
		if got := Roman(n); got != want {
			t.Errorf("Roman(%d) = %s, want %s", n, got, want)
		}
		if n < 10 && romanOf(strings.ToLower(want)) != n {
			t.Errorf("romanOf(%s) = %d, want %d", want, romanOf(strings.ToLower(want)), n)
		}
	}
}

func BenchmarkOf(b *testing.B) {
	for _, formula := range []string{"Fe^3+", "MnO4^-", "H2C2O4", "KMnO4", "Fe(CN)6^3-"} {
		s := mustRead(b, formula)
		for style := Common; style <= Systematic; style++ {
			b.Run(formula+"/"+style.String(), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					Of(s, Choice{Style: style})
				}
			})
		}
	}
}
