package speech

import (
	"regexp"
	"strings"
	"testing"

	"halves/chem"
	"halves/names"
	"halves/reference"
)

// species reads a formula in canonical text, a phase behind it allowed.
func species(t testing.TB, text string) *chem.Species {
	t.Helper()
	all, err := chem.ReadSpecies(text, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range all {
		if r.Species.String()+r.Species.Phase().String() == text {
			return r.Species
		}
	}
	t.Fatalf("%s is not canonical", text)
	return nil
}

// equation reads an equation.
func equation(t testing.TB, text string) chem.Equation {
	t.Helper()
	r, err := chem.ReadEquation(text, reference.Species())
	if err != nil {
		t.Fatal(err)
	}
	return r.All[0].Equation
}

// plainText is what every spoken form but a sentence is made of.
var plainText = regexp.MustCompile(`^[A-Za-z]+([ -]|, |[A-Za-z])*[A-Za-z]$|^[A-Z]$`)

// The names are those of package names; what is checked is how they are said.
// Common practice, no source.
func TestSpecies(t *testing.T) {
	for _, tt := range []struct{ formula, want string }{
		{"MnO4^-", "permanganate ion"},
		{"Fe^3+", "iron three ion"},
		{"CuSO4.5H2O", "copper two sulfate pentahydrate"},
		{"H2O", "water"},
		{"e^-", "electron"},
		{"COS2", "C O S two"}, // no name
		{"MnO9^3-", "M-n O nine, charge three minus"},
	} {
		if got := Species(species(t, tt.formula), names.Choice{}); got != tt.want {
			t.Errorf("Species(%s) = %q, want %q", tt.formula, got, tt.want)
		}
	}
	if got, want := Species(species(t, "MnO4^-"), names.Choice{Style: names.Systematic}), "tetraoxidomanganate one minus"; !strings.HasPrefix(got, want) {
		t.Errorf("Species(MnO4^-) by its systematic name = %q, want %q", got, want)
	}
}

// TestSpeciesPlain says every species of the table in every style, and each
// name of it.
func TestSpeciesPlain(t *testing.T) {
	for _, e := range reference.Species().All() {
		for style := range names.Styles {
			for _, sulph := range []bool{false, true} {
				if got := Species(e.Species, names.Choice{Style: names.Style(style), Sulph: sulph}); !plainText.MatchString(got) {
					t.Errorf("Species(%s) = %q: not plain words", e.Species, got)
				}
			}
		}
		for _, n := range e.Names {
			if got := speakable(n); !plainText.MatchString(got) {
				t.Errorf("speakable(%s) = %q: not plain words", n, got)
			}
		}
	}
}

func TestSpeakable(t *testing.T) {
	for _, tt := range []struct{ name, want string }{
		{"iron(III) ion", "iron three ion"},
		{"tetraoxidomanganate(1-) ion", "tetraoxidomanganate one minus ion"},
		{"copper(II) sulfate pentahydrate", "copper two sulfate pentahydrate"},
		{"iron(II,III) oxide", "iron two three oxide"},
		{"manganese(IV) oxide", "manganese four oxide"},
		{"osmium(VIII) oxide", "osmium eight oxide"},
		{"iridium(IX) ion", "iridium nine ion"},
		{"sodium manganate(VII)", "sodium manganate seven"},
		{"carbide(4−)", "carbide four minus"},
		{"1,10-phenanthroline", "one, ten-phenanthroline"},
		{"Glauber's salt (decahydrate)", "Glaubers salt"},
		{"iridium(-I)", "iridium minus one"},
		{"nickel(0)", "nickel zero"},
	} {
		if got := speakable(tt.name); got != tt.want {
			t.Errorf("speakable(%s) = %q, want %q", tt.name, got, tt.want)
		}
	}
}

func TestTerm(t *testing.T) {
	for _, tt := range []struct {
		n       int64
		formula string
		want    string
	}{
		{2, "MnO4^-", "two permanganate ions"},
		{1, "MnO4^-", "one permanganate ion"},
		{5, "H2C2O4", "five oxalic acid"},
		{8, "H2O", "eight water"},
		{1, "H2O", "water"},
		{5, "e^-", "five electrons"},
		{1, "e^-", "one electron"},
		{3, "Cl2", "three chlorine molecules"}, // three chlorine could be atoms
		{1, "Cl2", "chlorine"},
		{3, "Cu", "three copper"},
		{2, "COS2", "two C O S two"},
	} {
		if got := Term(chem.Term{Coefficient: chem.Whole(tt.n), Species: species(t, tt.formula)}, names.Choice{}); got != tt.want {
			t.Errorf("Term(%d %s) = %q, want %q", tt.n, tt.formula, got, tt.want)
		}
	}
	if got, want := Term(chem.Term{Coefficient: chem.NewRatio(1, 2), Species: species(t, "O2")}, names.Choice{}), "one half oxygen molecule"; got != want {
		t.Errorf("Term(1/2 O2) = %q, want %q", got, want)
	}
}

func TestEquation(t *testing.T) {
	for _, tt := range []struct{ line, want string }{
		{"2 MnO4^- + 5 H2C2O4 + 6 H^+ -> 2 Mn^2+ + 10 CO2 + 8 H2O",
			"two permanganate ions plus five oxalic acid plus six hydrogen ions give two manganese two ions plus ten carbon dioxide plus eight water"},
		{"MnO4^- -> Mn^2+", "permanganate ion gives manganese two ion"},
		{"Fe^2+ -> Fe^3+ + e^-", "one iron two ion gives one iron three ion plus one electron"},
		{"H2C2O4 -> 2 CO2 + 2 H^+ + 2 e^-", "oxalic acid gives two carbon dioxide plus two hydrogen ions plus two electrons"},
		{"2 COS2 -> MnO9^3- + Cu", "two C O S two give M-n O nine, charge three minus, plus copper"},
		{"I2(s) -> I2(aq)", "iodine, solid, gives iodine, aqueous"},
	} {
		if got := Equation(equation(t, tt.line), names.Choice{}); got != tt.want {
			t.Errorf("Equation(%s)\n got %q\nwant %q", tt.line, got, tt.want)
		}
	}
}

func TestRuns(t *testing.T) {
	v := func(s string) chem.Run { return chem.Run{Text: s, Level: chem.Variable} }
	n := func(s string) chem.Run { return chem.Run{Text: s} }
	sub := func(s string) chem.Run { return chem.Run{Text: s, Level: chem.Subscript} }
	sup := func(s string) chem.Run { return chem.Run{Text: s, Level: chem.Superscript} }
	for _, tt := range []struct {
		runs []chem.Run
		want string
	}{
		{[]chem.Run{n("4"), v("a"), n(" + 4"), v("b"), n(" = 2"), v("e"), n(" + "), v("f")}, "four a plus four b equals two e plus f"},
		{[]chem.Run{n("-"), v("a"), n(" + "), v("c"), n(" = 2"), v("d")}, "minus a plus c equals two d"},
		{[]chem.Run{v("a"), n(" = 5/2")}, "a equals five halves"},
		{[]chem.Run{v("a"), n(" = 2, "), v("b"), n(" = 5")}, "a equals two, b equals five"},
		{[]chem.Run{v("x"), sub("12"), n(" = 7/12")}, "x twelve equals seven over twelve"},
		{[]chem.Run{v("a"), n(" "), n("MnO"), sub("4"), sup("-"), n(" + "), v("b"), n(" "), n("CO"), n(" -> "), v("c"), n(" Co")},
			"a M-n O four, charge minus, plus b C O gives c cobalt"},
		{species(t, "Fe(CN)6^3-").Runs(), "F-e open bracket C N close bracket times six, charge three minus"},
		{species(t, "CuSO4.5H2O").Runs(), "copper S O four dot five H two O"},
		{nil, ""},
	} {
		if got := Runs(tt.runs); got != tt.want {
			t.Errorf("Runs(%s) = %q, want %q", chem.PlainText(tt.runs), got, tt.want)
		}
	}
}

func TestProse(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{"left +7 becomes +2", "left plus seven becomes plus two"},
		{"the left has the charge +7, the right −2: add 5 e^- on the left", "the left has the charge plus seven, the right minus two, add five electrons on the left"},
		{"10 e^- and 10 H^+ from each side", "ten electrons and ten hydrogen ions from each side"},
		{"Mn 1 = 1, O 28 = 28, charge +4 = +4 (not zero, but equal)", "Manganese one equals one, oxygen twenty-eight equals twenty-eight, charge plus four equals plus four, not zero, but equal"},
		{"nothing to do: I 1 on each side", "nothing to do, iodine one on each side"},
		{"Mn goes from VII to II", "Manganese goes from seven to two"},
		{"I goes from −I to V, a loss of 6 electrons for each atom", "Iodine goes from minus one to five, a loss of six electrons for each atom"},
		{"from I: 3 = f", "from iodine, three equals f"},
		{"from charge: −a + 2b = 5/2", "from charge, minus a plus two b equals five halves"},
		{"As 2 on each side", "Arsenic two on each side"},
		{"In acid, HCl is ions.", "In acid, " + Species(species(t, "HCl"), names.Choice{}) + " is ions."},
		{"No half-reactions with water and its ions were found.", "No half-reactions with water and its ions were found."},
		{"NaCl(aq) dissolves. CO2 leaves.", "Sodium chloride, aqueous, dissolves. Carbon dioxide leaves."},
		{"Zn is marked (aq), so it dissolves", "Zinc is marked aqueous, so it dissolves"},
		{"Cu + 4 HNO3 -> Cu(NO3)2", "Copper plus four nitric acid gives copper two nitrate"},
		{"the iron(III) ion, 1.51 V and 1,5 g", "the iron three ion, one point five one volts and one comma five g"},
		{"its pH rises", "its pH rises"},
		{": add", ", add"}, // a piece of a sentence
		{"on the right: ", "on the right,"},
		{"2 ≠ 3", "two is not equal to three"},
		{"", ""},
	} {
		if got := Prose(tt.text, names.Choice{}); got != tt.want {
			t.Errorf("Prose(%s)\n got %q\nwant %q", tt.text, got, tt.want)
		}
	}
	if got, want := Prose("S goes from −2 to +6", names.Choice{Sulph: true}), "Sulphur goes from minus two to plus six"; got != want {
		t.Errorf("Prose with sulph = %q, want %q", got, want)
	}
}

func BenchmarkEquation(b *testing.B) {
	e := equation(b, "2 MnO4^- + 5 H2C2O4 + 6 H^+ -> 2 Mn^2+ + 10 CO2 + 8 H2O")
	b.ReportAllocs()
	for b.Loop() {
		Equation(e, names.Choice{})
	}
}
