package reference

import (
	"strings"
	"sync"
	"testing"

	"halves/chem"
)

func read(t *testing.T, text string) *chem.Species {
	t.Helper()
	r, err := chem.ReadSpecies(text, nil)
	if err != nil {
		t.Fatalf("ReadSpecies(%s): %v", text, err)
	}
	return r[0].Species
}

// Every row is read on its own, so that all mistakes are told at once. Reading
// checks formulas, other spellings, phase, ions and the form of the states.
func TestSpeciesRows(t *testing.T) {
	table, err := loadSpecies(speciesTSV)
	if err != nil {
		t.Fatal(err)
	}
	for i := range table.rows {
		e, err := table.readRow(i)
		if err != nil {
			t.Error(err)
			continue
		}
		row := i + 2
		if e.Row != i {
			t.Errorf("row %d: Row = %d, want %d", row, e.Row, i)
		}
		if len(e.Names) == 0 || e.Names[0] == "" {
			t.Errorf("row %d, %s: no name", row, e.Species)
		}
		if !strings.Contains("yes no slight", e.Soluble) || e.Soluble == "" {
			t.Errorf("row %d, %s: soluble_in_water = %q", row, e.Species, e.Soluble)
		}
		if _, ok := SourceOf(e.Source); !ok {
			t.Errorf("row %d, %s: no source %q", row, e.Species, e.Source)
		}
		if e.Confidence != "memory" && e.Confidence != "source-read" {
			t.Errorf("row %d, %s: confidence = %q", row, e.Species, e.Confidence)
		}
		if e.Phase != chem.Aqueous && strings.HasSuffix(e.Species.String(), "+") {
			t.Errorf("row %d, %s: a cation in phase %s", row, e.Species, e.Phase)
		}
		checkStates(t, row, e)
		checkIons(t, row, e)
	}
}

// States name each element once and add up to the charge: IUPAC, Karen,
// McArdle, Takats, Pure Appl. Chem. 88, 831 (2016).
func checkStates(t *testing.T, row int, e *Entry) {
	t.Helper()
	sum := chem.Whole(0)
	seen := map[chem.Element]bool{}
	for _, s := range e.States {
		atoms := e.Species.Atoms(s.Element)
		if seen[s.Element] || atoms == 0 {
			t.Errorf("row %d, %s: %s stands twice among the states or is not in the formula", row, e.Species, s.Element)
		}
		seen[s.Element] = true
		if len(s.Sites) == 1 && s.Sites[0].Atoms == 0 {
			sum = sum.Add(s.Sites[0].State.Mul(chem.Whole(atoms)))
			continue
		}
		for i, site := range s.Sites {
			atoms -= site.Atoms
			sum = sum.Add(site.State.Mul(chem.Whole(site.Atoms)))
			for _, other := range s.Sites[:i] {
				if other.State.Equal(site.State) {
					t.Errorf("row %d, %s: two sites of %s have the state %s", row, e.Species, s.Element, site.State)
				}
			}
		}
		if atoms != 0 || len(s.Sites) < 2 {
			t.Errorf("row %d, %s: the sites of %s are not two or more that add up to all atoms", row, e.Species, s.Element)
		}
	}
	if len(seen) != len(e.Species.Composition()) {
		t.Errorf("row %d, %s: states of %d elements, want %d", row, e.Species, len(seen), len(e.Species.Composition()))
	}
	if want := chem.Whole(e.Species.Charge()); !sum.Equal(want) {
		t.Errorf("row %d, %s: states add up to %s, want %s", row, e.Species, sum, want)
	}
}

// Ions add up to the formula but for the water of a hydrate, and to no charge.
func checkIons(t *testing.T, row int, e *Entry) {
	t.Helper()
	if e.Ions == nil {
		return
	}
	if e.Species.Charge() != 0 {
		t.Errorf("row %d, %s: an ion with ions", row, e.Species)
	}
	left := map[chem.Element]int64{}
	for _, n := range e.Species.Composition() {
		left[n.Element] = n.Atoms
	}
	charge := int64(0)
	for _, ion := range e.Ions {
		if !ion.Coefficient.IsWhole() || ion.Coefficient.Sign() <= 0 {
			t.Errorf("row %d, %s: coefficient %s", row, e.Species, ion.Coefficient)
		}
		n := ion.Coefficient.Num()
		charge += n * ion.Species.Charge()
		for _, c := range ion.Species.Composition() {
			left[c.Element] -= n * c.Atoms
		}
	}
	if charge != 0 {
		t.Errorf("row %d, %s: ions have the charge %d together", row, e.Species, charge)
	}
	water := left[chem.O]
	if water > 0 && !strings.Contains(e.Species.String(), ".") {
		t.Errorf("row %d, %s: ions leave water, but the formula is no hydrate", row, e.Species)
	}
	left[chem.O] -= water
	left[chem.H] -= 2 * water
	for el, n := range left {
		if n != 0 || water < 0 {
			t.Errorf("row %d, %s: ions and water leave %d %s", row, e.Species, n, el)
		}
	}
}

func TestSpeciesNamesAreUnique(t *testing.T) {
	rowOf := map[string]*Entry{}
	for _, e := range Species().All() {
		for _, name := range e.Names {
			plain := plainName(name)
			if other := rowOf[plain]; other != nil && other != e {
				t.Errorf("the name %q belongs to %s and to %s", name, other.Species, e.Species)
			}
			rowOf[plain] = e
		}
	}
}

// plainName leaves out what makes no difference to a reader.
func plainName(name string) string {
	return strings.NewReplacer(" ", "", "-", "", "sulph", "sulf", "aluminum", "aluminium", "cesium", "caesium").Replace(strings.ToLower(name))
}

func TestNames(t *testing.T) {
	i := 0
	for formula, names := range Species().Names {
		e := Species().At(i)
		if e.Row != i || formula != e.Species.String() || names != strings.Join(e.Names, "|") {
			t.Errorf("row %d of Names is %s, %s, want %s, %v", i, formula, names, e.Species, e.Names)
		}
		i++
	}
	if i != Species().Len() {
		t.Errorf("Names gives %d rows, want %d", i, Species().Len())
	}
	for range Species().Names {
		break // a loop may end early
	}
}

// Every spelling leads to its row, whatever the brackets.
func TestFind(t *testing.T) {
	table := Species()
	for _, e := range table.All() {
		for _, s := range append([]*chem.Species{e.Species}, e.Spellings...) {
			if got := table.Find(s); got != e {
				t.Errorf("Find(%s) does not find row %d", s, e.Row+2)
			}
			if n, ok := table.Rank(s); n != e.Row || !ok {
				t.Errorf("Rank(%s) = %d, %v, want %d", s, n, ok, e.Row)
			}
		}
		same := table.Isomers(e.Species.Composition(), e.Species.Charge())
		found := false
		for _, o := range same {
			found = found || o == e
		}
		if !found {
			t.Errorf("Isomers of %s lacks it", e.Species)
		}
	}
	for _, c := range []struct{ typed, row string }{ // by composition: no source needed
		{"[Fe(CN)6]^3-", "Fe(CN)6^3-"},
		{"K3[Fe(CN)6]", "K3Fe(CN)6"},
		{"Na[Al(OH)4]", "NaAl(OH)4"},
		{"[Cu(NH3)4]SO4", "Cu(NH3)4SO4"},
		{"HOCl", "HClO"},
		{"B(OH)3", "H3BO3"},
		{"MgAl2O4", "MgAl2O4"},
		{"Mg(AlO2)2", "MgAl2O4"},
		{"HC2H3O2", "CH3COOH"},
		{"Cu(SO4).5(H2O)", "CuSO4.5H2O"},
	} {
		e := table.Find(read(t, c.typed))
		if e == nil || e.Species.String() != c.row {
			t.Errorf("Find(%s) = %v, want %s", c.typed, e, c.row)
		}
	}
	if e := table.Find(read(t, "XeBr9")); e != nil {
		t.Errorf("Find(XeBr9) = %s, want nil", e.Species)
	}
}

func TestRank(t *testing.T) {
	table := Species()
	phenol := table.Find(read(t, "C6H5OH"))
	if n, ok := table.Rank(read(t, "HOC6H5")); n != rankOfIsomer+phenol.Row || !ok {
		t.Errorf("Rank(HOC6H5) = %d, %v, want %d", n, ok, rankOfIsomer+phenol.Row)
	}
	if len(table.All()) >= rankOfIsomer {
		t.Errorf("%d rows: ranks of isomers overlap", len(table.All()))
	}
	for _, text := range []string{"S9", "SO4^3-", "XeBr9", "e^-"} {
		if n, ok := table.Rank(read(t, text)); ok {
			t.Errorf("Rank(%s) = %d, want unknown", text, n)
		}
	}
	// Characters that two species share: the commoner one is read first.
	// Common practice, no source.
	for _, c := range []struct{ typed, want string }{
		{"O2-", "O^2-"}, {"N3-", "N^3-"}, {"VO2+", "VO2^+"}, {"SO42-", "SO4^2-"}, {"Cr2O72-", "Cr2O7^2-"},
		{"MnO4-", "MnO4^-"}, {"MnO42-", "MnO4^2-"}, {"Fe3+", "Fe^3+"}, {"Hg22+", "Hg2^2+"}, {"I3-", "I3^-"},
		{"S2-", "S^2-"}, {"Se2-", "Se^2-"}, {"Te2-", "Te^2-"}, {"S2O32-", "S2O3^2-"}, {"NO2-", "NO2^-"},
		{"HO2-", "HO2^-"}, {"CrO2-", "CrO2^-"}, {"FeCl2+", "FeCl^2+"}, {"UO2+", "UO2^+"}, {"UO22+", "UO2^2+"},
		{"C2O42-", "C2O4^2-"}, {"NO2+", "NO2^+"}, {"O22-", "O2^2-"}, {"PO43-", "PO4^3-"}, {"Sn4+", "Sn^4+"},
		{"Al3+", "Al^3+"}, {"BiO+", "BiO^+"}, {"AlO2-", "AlO2^-"}, {"ClO2-", "ClO2^-"}, {"ClO-", "ClO^-"},
		{"Ag+", "Ag^+"}, {"Cu2+", "Cu^2+"}, {"Pb2+", "Pb^2+"}, {"Mn2+", "Mn^2+"}, {"P3-", "P^3-"},
	} {
		r, err := chem.ReadSpecies(c.typed, table)
		if err != nil || r[0].Species.String() != c.want {
			t.Errorf("ReadSpecies(%s) = %v, %v, want %s first", c.typed, r[0].Species, err, c.want)
		}
	}
}

// A few states that a slip in the table would change, from outside it.
func TestStates(t *testing.T) {
	for _, c := range []struct{ formula, element, states string }{
		{"KO2", "O", "-1/2"},           // OpenStax, Chemistry 2e, section 18.9 (superoxides), from memory
		{"S4O6^2-", "S", "+5/2"},       // by charge: 4x + 6(-2) = -2
		{"NH4NO3", "N", "-3*1 +5*1"},   // by its ions
		{"CaOCl2", "Cl", "-1*1 +1*1"},  // by its ions: Cl^- and ClO^-
		{"TlI3", "I", "-1/3"},          // thallium(I) triiodide; by its ions
		{"Ag4O4", "Ag", "+1*2 +3*2"},   // silver(I,III) oxide; by charge with +1 for half
		{"Pb3O4", "Pb", "+2*2 +4*1"},   // by charge: 2 PbO.PbO2
		{"Fe3O4", "Fe", "+2*1 +3*2"},   // by charge: FeO.Fe2O3
		{"C7H5N3O6", "N", "+3"},        // nitro group, by charge: N + 2(-2) = -1
		{"C3H5N3O9", "N", "+5"},        // nitrate ester
		{"HSeO4^-", "Se", "+6"},        // by charge
		{"Fe2(CO)9", "Fe", "0"},        // by charge, CO neutral
		{"FeTiO3", "Ti", "+4"},         // by charge with Fe +2
		{"H2S2O8", "O", "-2*6 -1*2"},   // peroxide bridge
		{"K2Cr2O7", "Cr", "+6"},        // by charge
		{"C6H12N2O4S2", "S", "-1"},     // disulfide bridge
		{"Na2B4O7.10H2O", "B", "+3"},   // by charge
		{"(NH4)2Ce(NO3)6", "Ce", "+4"}, // by its ions
		{"C2H6O", "C", "-2"},           // by charge, the mean
		{"XePtF6", "Xe", "+1"},         // simple ionic picture
	} {
		e := Species().Find(read(t, c.formula))
		if e == nil {
			t.Errorf("Find(%s) = nil", c.formula)
			continue
		}
		var got []string
		for _, s := range e.States {
			if s.Element.Symbol() != c.element {
				continue
			}
			for _, site := range s.Sites {
				text := site.State.Signed()
				if site.Atoms > 0 {
					text += "*" + chem.Whole(site.Atoms).String()
				}
				got = append(got, text)
			}
		}
		if strings.Join(got, " ") != c.states {
			t.Errorf("states of %s in %s = %v, want %s", c.element, c.formula, got, c.states)
		}
	}
}

func TestSpeciesTogether(t *testing.T) {
	table, err := loadSpecies(speciesTSV)
	if err != nil {
		t.Fatal(err)
	}
	permanganate := read(t, "MnO4^-")
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			if e := table.Find(permanganate); e == nil || e != table.At(e.Row) {
				t.Errorf("Find(MnO4^-) and its row differ")
			}
			table.Isomers(permanganate.Composition(), -1)
		})
	}
	all.Wait()
}

// Mistakes that an editor of the table could make are told with their row.
func TestBrokenSpecies(t *testing.T) {
	header := strings.Join(speciesColumns, "\t") + "\n"
	good := "Na^+\t\tsodium ion\taq\tyes\tno\t\t\tNa:+1\t\tgeneral-inorganic\tmemory\n"
	for _, c := range []struct{ text, want string }{
		{"formula\n" + good, "row 1"},
		{header + good + good, "row 3"},
		{header + strings.Replace(good, "\tmemory", "", 1), "11 columns"},
		{header + strings.Replace(good, "\taq\t", "\tx\t", 1), `column "phase"`},
		{header + strings.Replace(good, "Na:+1", "Na:1", 1), `column "oxidation_states"`},
		{header + strings.Replace(good, "Na:+1", "Nx:+1", 1), `column "oxidation_states"`},
		{header + strings.Replace(good, "Na^+\t\t", "Na^+\tK^+\t", 1), `column "alt_formula"`},
		{header + strings.Replace(good, "Na^+", "Na+^", 1), `column "formula"`},
		{header + strings.Replace(good, "\tno\t\t", "\tyes\tK^+\t", 1), `column "ions"`},
	} {
		table, err := loadSpecies(c.text)
		if err == nil {
			_, err = table.readRow(0)
		}
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("a broken table gives %v, want an error with %s", err, c.want)
		}
	}
}

func BenchmarkLoadSpecies(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := loadSpecies(speciesTSV); err != nil {
			b.Fatal(err)
		}
	}
}

// The first question for an unknown species is the dearest one.
func BenchmarkFirstIsomers(b *testing.B) {
	s, err := chem.ReadSpecies("C6H5OH", nil)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		table, err := loadSpecies(speciesTSV)
		if err != nil {
			b.Fatal(err)
		}
		table.Isomers(s[0].Species.Composition(), 0)
	}
}
