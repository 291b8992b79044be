package chem_test

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"halves/checks"
	"halves/chem"
	"halves/reference"
)

// iupacSymbols are the symbols by atomic number: IUPAC periodic table of the
// elements, release of 4 May 2022, from memory.
const iupacSymbols = `
H He
Li Be B C N O F Ne
Na Mg Al Si P S Cl Ar
K Ca Sc Ti V Cr Mn Fe Co Ni Cu Zn Ga Ge As Se Br Kr
Rb Sr Y Zr Nb Mo Tc Ru Rh Pd Ag Cd In Sn Sb Te I Xe
Cs Ba La Ce Pr Nd Pm Sm Eu Gd Tb Dy Ho Er Tm Yb Lu Hf Ta W Re Os Ir Pt Au Hg Tl Pb Bi Po At Rn
Fr Ra Ac Th Pa U Np Pu Am Cm Bk Cf Es Fm Md No Lr Rf Db Sg Bh Hs Mt Ds Rg Cn Nh Fl Mc Lv Ts Og`

func TestSymbols(t *testing.T) {
	want := strings.Fields(iupacSymbols)
	if len(want) != 118 || chem.MaxElement != 118 {
		t.Fatalf("%d symbols and MaxElement %d, want 118", len(want), chem.MaxElement)
	}
	for i, symbol := range want {
		z := chem.Element(i + 1)
		if z.Symbol() != symbol || z.String() != symbol {
			t.Errorf("Element(%d).Symbol() = %s, want %s", z, z.Symbol(), symbol)
		}
		if e, ok := chem.ElementBySymbol(symbol); !ok || e != z {
			t.Errorf("ElementBySymbol(%s) = %d, %v, want %d", symbol, e, ok, z)
		}
		if entry := reference.ElementOf(z); entry.Symbol != symbol { // the CIAAW table
			t.Errorf("element %d is %s in the table of atomic weights, want %s", z, entry.Symbol, symbol)
		}
		readings, err := chem.ReadSpecies(symbol, nil)
		if err != nil || len(readings) != 1 {
			t.Errorf("ReadSpecies(%s): %d readings, %v", symbol, len(readings), err)
		} else if s := readings[0].Species; !s.IsElement() || s.Atoms(z) != 1 || s.String() != symbol {
			t.Errorf("ReadSpecies(%s) = %s with %d atoms", symbol, s, s.Atoms(z))
		}
	}
	for _, no := range []string{"", "h", "HE", "he", "Xx", "D", "T", "Uue", "J", "Q", "H2", "é", "A", "Hé"} {
		if e, ok := chem.ElementBySymbol(no); ok {
			t.Errorf("ElementBySymbol(%q) = %s, want none", no, e)
		}
	}
	if chem.Element(0).Symbol() != "" || chem.Element(119).Symbol() != "" || chem.Element(255).Symbol() != "" {
		t.Errorf("an invalid element has a symbol")
	}
	// The elements that have a name of their own in the package.
	for symbol, e := range map[string]chem.Element{
		"H": chem.H, "B": chem.B, "C": chem.C, "N": chem.N, "O": chem.O, "F": chem.F, "Na": chem.Na, "Al": chem.Al, "Si": chem.Si, "P": chem.P,
		"S": chem.S, "Cl": chem.Cl, "K": chem.K, "V": chem.V, "As": chem.As, "Se": chem.Se, "Br": chem.Br, "Sb": chem.Sb, "Te": chem.Te, "I": chem.I,
	} {
		if e.Symbol() != symbol {
			t.Errorf("chem.%s is %s", symbol, e)
		}
	}
}

func one(t *testing.T, text string) *chem.Species {
	t.Helper()
	readings, err := chem.ReadSpecies(text, nil)
	if err != nil {
		t.Fatalf("ReadSpecies(%s): %v", text, err)
	}
	return readings[0].Species
}

// TestCompositions: counted by hand.
func TestCompositions(t *testing.T) {
	for _, c := range []struct{ formula, want string }{
		{"H2O", "H2 O1"},
		{"Fe4[Fe(CN)6]3", "C18 N18 Fe7"},                    // 4 + 3 iron, 3 times 6 cyanide
		{"CuSO4.5H2O", "H10 O9 S1 Cu1"},                     // 4 + 5 oxygen
		{"K2SO4.Al2(SO4)3.24H2O", "H48 O40 Al2 S4 K2"},      // 4 + 12 + 24 oxygen
		{"[Cr(N2H4CO)6]4[Cr(CN)6]3", "H96 C42 N66 O24 Cr7"}, // 24 urea; C 24 + 18, N 48 + 18
		{"((((H2)3)4)5)6", "H720"},
		{"CH3CH2OH", "H6 C2 O1"},
		{"e^-", ""},
	} {
		var got []string
		for _, n := range one(t, c.formula).Composition() {
			got = append(got, n.Element.Symbol()+chem.Whole(n.Atoms).String())
		}
		if g := strings.Join(got, " "); g != c.want {
			t.Errorf("composition of %s = %s, want %s", c.formula, g, c.want)
		}
	}
}

func TestSpeciesIdentity(t *testing.T) {
	for _, c := range []struct {
		a, b string
		same bool
	}{
		{"[Fe(CN)6]^3-", "Fe(CN)6^3-", true},   // brackets around the whole say nothing
		{"{[Fe(CN)6]}^3-", "Fe(CN)6^3-", true}, // nor do two
		{"Cl^-(aq)", "Cl^-", true},             // phases may differ
		{"Fe^2+", "Fe^3+", false},
		{"CH3CH2OH", "CH3OCH3", false}, // isomers
		{"NH4CNO", "CO(NH2)2", false},
		{"(OH)2", "OH2", false},
		{"MnO4^-", "MnO₄⁻", true},
	} {
		a, b := one(t, c.a), one(t, c.b)
		if a.Same(b) != c.same || b.Same(a) != c.same || (a.Key() == b.Key()) != c.same {
			t.Errorf("Same(%s, %s) = %v, want %v", c.a, c.b, a.Same(b), c.same)
		}
	}
	iron := one(t, "Fe^2+")
	solid := iron.WithPhase(chem.Solid)
	if iron.Phase() != chem.NoPhase || solid.Phase() != chem.Solid || !solid.Same(iron) || solid.WithPhase(chem.Solid) != solid {
		t.Errorf("WithPhase(%s): phases %s and %s", iron, iron.Phase(), solid.Phase())
	}
	for _, c := range []struct {
		s                 *chem.Species
		text              string
		charge            int64
		electron, element bool
	}{
		{chem.Electron, "e^-", -1, true, false},
		{chem.Water, "H2O", 0, false, false},
		{chem.Hydron, "H^+", 1, false, false},
		{chem.Hydronium, "H3O^+", 1, false, false},
		{chem.Hydroxide, "OH^-", -1, false, false},
		{one(t, "S8"), "S8", 0, false, true},
	} {
		if c.s.String() != c.text || c.s.Charge() != c.charge || c.s.IsElectron() != c.electron || c.s.IsElement() != c.element {
			t.Errorf("%s: charge %d, electron %v, element %v; want %+v", c.s, c.s.Charge(), c.s.IsElectron(), c.s.IsElement(), c)
		}
	}
	water := chem.Water.Composition()
	if !water.Only(chem.H, chem.O) || water.Only(chem.O) || water.Atoms(chem.Cl) != 0 || water.Equal(chem.Hydronium.Composition()) {
		t.Errorf("Only, Atoms or Equal of %v are wrong", water)
	}
	if _, ok := chem.CompositionOf([]chem.Unit{{Element: chem.H, Count: 1e9 + 1}}); ok {
		t.Errorf("CompositionOf counts more than a thousand million atoms")
	}
	if _, ok := chem.NewSpecies(chem.Formula{Parts: []chem.Part{{Count: 1e6, Units: []chem.Unit{{Element: chem.H, Count: 1001}}}}}, 0, chem.NoPhase); ok {
		t.Errorf("NewSpecies counts more than a thousand million atoms")
	}
}

// TestRuns: the levels of every run, for all that is made from them.
func TestRuns(t *testing.T) {
	for _, c := range []struct {
		text  string
		style chem.Style
		want  string // _ and ^ before sub- and superscripts, | between runs
	}{
		{"MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O", chem.Style{}, "MnO|_4|^-| + |8 H|^+| + |5 e|^-| -> |Mn|^2+| + |4 H|_2|O"},
		{"H2 = 1/2 N2", chem.Style{Equals: true}, "H|_2| = |1/2 N|_2"},
		{"Zn(s) -> Zn^2+(aq)", chem.Style{Ones: true, Phases: true}, "1 Zn|(s)| -> |1 Zn|^2+|(aq)"},
		{"H2O(l) -> H2O(g)", chem.Style{}, "H|_2|O|(l)| -> |H|_2|O|(g)"},
		{"H2O(l) + NaCl(s) -> H2O(g)", chem.Style{}, "H|_2|O|(l)| + |NaCl| -> |H|_2|O|(g)"},
		{"2CuSO4.5H2O -> H", chem.Style{}, "2 CuSO|_4|.5H|_2|O| -> |H"},
		{"Al2(SO4)3 -> [Fe(CN)6]^4-", chem.Style{}, "Al|_2|(SO|_4|)|_3| -> |[Fe(CN)|_6|]|^4-"},
	} {
		readings, err := chem.ReadEquation(c.text, nil)
		if err != nil {
			t.Errorf("ReadEquation(%s): %v", c.text, err)
			continue
		}
		var got []string
		for _, r := range readings.All[0].Equation.Runs(c.style) {
			got = append(got, [...]string{"", "_", "^"}[r.Level]+r.Text)
		}
		// A coefficient may stand in a run with the symbol or alone.
		g := strings.Join(got, "|")
		for _, n := range []string{"1", "2", "4", "5", "8", "1/2"} {
			g = strings.ReplaceAll(g, "|"+n+" |", "|"+n+" ")
			if strings.HasPrefix(g, n+" |") {
				g = n + " " + g[len(n)+2:]
			}
		}
		if g != c.want {
			t.Errorf("Runs(%s)\n got %s\nwant %s", c.text, g, c.want)
		}
	}
	for _, c := range []struct{ text, want string }{
		{"Cr2O7^2- + 14 H^+ + 6 e^- -> 2 Cr^3+ + 7 H2O", "Cr₂O₇²⁻ + 14 H⁺ + 6 e⁻ ⟶ 2 Cr³⁺ + 7 H₂O"},
		{"CuSO4.5H2O -> C60^+ + P9^10-", "CuSO₄·5H₂O ⟶ C₆₀⁺ + P₉¹⁰⁻"},
	} {
		readings, err := chem.ReadEquation(c.text, nil)
		if err != nil {
			t.Errorf("ReadEquation(%s): %v", c.text, err)
		} else if got := chem.UnicodeText(readings.All[0].Equation.Runs(chem.Style{})); got != c.want {
			t.Errorf("UnicodeText(%s) = %s, want %s", c.text, got, c.want)
		}
	}
	term := chem.Term{Coefficient: chem.NewRatio(5, 2), Species: one(t, "O2(g)")}
	if got := chem.PlainText(term.Runs()); got != "5/2 O2" {
		t.Errorf("Runs of a term = %s, want 5/2 O2", got)
	}
}

// Random formulas: nested groups, hydrates, charges, phases. What is drawn is
// a tree that a reader can give back: a group in brackets that holds only I and
// V would be a Roman numeral.
var anyUnits func(depth int) *rapid.Generator[[]chem.Unit]

func init() {
	anyUnits = func(depth int) *rapid.Generator[[]chem.Unit] {
		return rapid.Custom(func(t *rapid.T) []chem.Unit {
			n := rapid.IntRange(1, 4).Draw(t, "units")
			units := make([]chem.Unit, n)
			for i := range units {
				count := rapid.OneOf(rapid.Int64Range(1, 12), rapid.Just[int64](1), rapid.Int64Range(1, 1000)).Draw(t, "count")
				if depth < 4 && rapid.IntRange(0, 3).Draw(t, "group") == 0 {
					group := anyUnits(depth+1).Draw(t, "inside")
					if !numeral(group) {
						units[i] = chem.Unit{Group: group, Bracket: rapid.SampledFrom([]byte("([{")).Draw(t, "bracket"), Count: min(count, 20)}
						continue
					}
				}
				units[i] = chem.Unit{Element: chem.Element(rapid.Uint8Range(1, 118).Draw(t, "element")), Count: count}
			}
			return units
		})
	}
}

func numeral(units []chem.Unit) bool {
	for _, u := range units {
		if u.Element.Symbol() != "I" && u.Element.Symbol() != "V" || u.Count != 1 {
			return false
		}
	}
	return true
}

var anySpecies = rapid.Custom(func(t *rapid.T) *chem.Species {
	if rapid.IntRange(0, 20).Draw(t, "electron") == 0 {
		return chem.Electron
	}
	var f chem.Formula
	for i := range rapid.SampledFrom([]int{1, 1, 1, 2, 3}).Draw(t, "parts") {
		p := chem.Part{Count: 1, Units: anyUnits(0).Draw(t, "formula")}
		if i > 0 {
			p.Count = rapid.Int64Range(1, 24).Draw(t, "waters")
		}
		if i > 0 && len(p.Units) == 1 && p.Units[0].Group == nil {
			p.Count = 1 // a counted bare atom after a subscript would read as a decimal
		}
		f.Parts = append(f.Parts, p)
	}
	charge := rapid.OneOf(rapid.Int64Range(-4, 4), rapid.Int64Range(-chem.MaxCharge, chem.MaxCharge)).Draw(t, "charge")
	phase := chem.Phase(rapid.Uint8Range(0, 4).Draw(t, "phase"))
	s, ok := chem.NewSpecies(f, charge, phase)
	if !ok {
		t.Skip("more than a thousand million atoms")
	}
	return s
})

var anyEquation = rapid.Custom(func(t *rapid.T) chem.Equation {
	side := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) chem.Term {
		c := rapid.OneOf(rapid.Just(chem.Whole(1)), rapid.Map(rapid.Int64Range(1, chem.MaxNumber), chem.Whole), rapid.Custom(func(t *rapid.T) chem.Ratio {
			return chem.NewRatio(rapid.Int64Range(1, 40).Draw(t, "num"), rapid.Int64Range(1, 40).Draw(t, "den"))
		})).Draw(t, "coefficient")
		return chem.Term{Coefficient: c, Species: anySpecies.Draw(t, "species")}
	}), 1, 6)
	return chem.Equation{Left: side.Draw(t, "left"), Right: side.Draw(t, "right")}
})

// TestSpeciesReadBack: reading what was printed gives the same thing, in plain
// text and in Unicode.
func TestSpeciesReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		if bad := readBack(anySpecies.Draw(t, "species")); bad != "" {
			t.Fatal(bad)
		}
	})
}

func TestEquationReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		if bad := equationReadsBack(anyEquation.Draw(t, "equation")); bad != "" {
			t.Fatal(bad)
		}
	})
}

// TestNoCharacterIsLost: each reading of bare typing (charges as digit and
// sign, no caret) holds every letter, digit and sign that was typed, and so
// does the reading that was meant, which is among them.
func TestNoCharacterIsLost(t *testing.T) {
	kept := func(s string) string { // letters, digits and signs, sorted
		r := []rune(strings.NewReplacer("^", "", " ", "", "(", "", ")", "", "[", "", "]", "", "{", "", "}", "", ".", "").Replace(s))
		slices.Sort(r)
		return string(r)
	}
	rapid.Check(t, func(t *rapid.T) {
		meant := anySpecies.Draw(t, "species").WithPhase(chem.NoPhase)
		typed := strings.ReplaceAll(meant.String(), "^", "")
		readings, err := chem.ReadSpecies(typed, nil)
		if err != nil {
			// Digits of subscript and charge can run into one too large.
			if strings.Contains(err.Error(), "too large") || strings.Contains(err.Error(), "second charge") {
				t.Skip(err)
			}
			t.Fatalf("ReadSpecies(%s): %v", typed, err)
		}
		found := false
		for _, r := range readings {
			if kept(r.Species.String()) != kept(typed) {
				t.Fatalf("ReadSpecies(%s) = %s: a character was lost or added", typed, r.Species)
			}
			found = found || r.Species.String() == meant.String()
		}
		// A charge of two digits is never taken out of a subscript.
		if c := meant.Charge(); !found && c > -10 && c < 10 {
			t.Fatalf("ReadSpecies(%s) gives %v, not %s", typed, readings, meant)
		}
	})
}

// TestStringIsASCII: canonical text has no character that a keyboard lacks.
func TestStringIsASCII(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, r := range anyEquation.Draw(t, "equation").String() {
			if r < ' ' || r > '~' {
				t.Fatalf("%q in canonical text", r)
			}
		}
	})
}

// The canonical text of an equation is that of its runs.
func TestStringIsTheTextOfRuns(t *testing.T) {
	for _, row := range checks.Equations() {
		for _, text := range []string{row.Skeleton, row.Answer, "I2(s) + H2O -> I2(aq) + 1/2 O2 + e^-"} {
			r, err := chem.ReadEquation(text, nil)
			if err != nil {
				t.Fatal(err)
			}
			e := r.All[0].Equation
			if got, want := e.String(), chem.PlainText(e.Runs(chem.Style{})); got != want {
				t.Errorf("String() = %q, the runs say %q", got, want)
			}
		}
	}
}
