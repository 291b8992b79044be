package reference_test

import (
	"math"
	"slices"
	"testing"

	"halves/chem"
	"halves/oxidation"
	"halves/reference"
)

func TestFormationRows(t *testing.T) {
	seen := map[string]bool{}
	table := reference.Formations()
	for i, f := range table.All() {
		name := f.Species.String() + f.Species.Phase().String()
		if f.Row != i || f.Own {
			t.Errorf("%s: row %d, want %d of the program", name, f.Row, i)
		}
		if seen[name] {
			t.Errorf("%s stands twice", name)
		}
		seen[name] = true
		checkSource(t, name, f.Source, f.Confidence)
		if f.Species.Charge() != 0 && f.Species.Phase() != chem.Aqueous {
			t.Errorf("%s: an ion out of solution", name)
		}
		if got := table.Find(f.Species); got != f {
			t.Errorf("Find(%s) = %v", name, got)
		}
		if len(table.Phases(f.Species)) == 0 || !slices.Contains(table.Phases(f.Species), f) {
			t.Errorf("Phases(%s) lacks it", name)
		}
		for _, c := range f.Species.Composition() {
			if !slices.Contains(table.Of(c.Element), f) {
				t.Errorf("Of(%s) lacks %s", c.Element, name)
			}
		}
	}
	if table.Of(0) != nil || table.Of(chem.MaxElement) != nil {
		t.Errorf("species that hold no element, or oganesson")
	}
}

// An element in its reference state has the free energy 0; that is how the
// scale is made (OpenStax, Chemistry 2e, section 16.4).
func TestElementsAreZero(t *testing.T) {
	zero := map[string]chem.Phase{"H2": chem.Gas, "O2": chem.Gas, "N2": chem.Gas, "F2": chem.Gas, "Cl2": chem.Gas, "Br2": chem.Liquid, "I2": chem.Solid, "S": chem.Solid, "S8": chem.Solid, "P4": chem.Solid, "C": chem.Solid, "Hg": chem.Liquid, "Na": chem.Solid, "Fe": chem.Solid, "Xe": chem.Gas, "H^+": chem.Aqueous}
	for text, phase := range zero {
		f := reference.Formations().Find(species(t, text).WithPhase(phase))
		if f == nil || f.G != 0 {
			t.Errorf("Find(%s%s) = %+v, want 0 kJ/mol", text, phase, f)
		}
	}
}

// The species that the couples name have oxidation states that add up to the
// charge: IUPAC, Karen, McArdle, Takats, Pure Appl. Chem. 88, 831 (2016).
func TestStatesOfCouples(t *testing.T) {
	check := func(s *chem.Species) {
		if s.IsElectron() {
			return
		}
		states, err := oxidation.States(s)
		if err != nil {
			t.Errorf("States(%s): %v", s, err)
			return
		}
		sum := chem.Whole(0)
		for _, st := range states {
			for _, site := range st.Sites {
				sum = sum.Add(site.State.Mul(chem.Whole(site.Atoms)))
			}
		}
		if !sum.Equal(chem.Whole(s.Charge())) {
			t.Errorf("states of %s add up to %s", s, sum)
		}
	}
	for _, c := range reference.Couples().All() {
		for _, s := range c.Half.Species() {
			check(s)
		}
	}
	for _, f := range reference.Formations().All() {
		check(f.Species)
	}
}

func TestFindFormation(t *testing.T) {
	for _, c := range []struct {
		text  string
		phase chem.Phase
		g     float64 // NBS tables, 1982; NaN for none
	}{
		{"H2O", chem.NoPhase, -237.129}, // liquid is usual
		{"H2O", chem.Gas, -228.572},
		{"CO2", chem.NoPhase, -394.359},
		{"CO2", chem.Aqueous, -385.98},
		{"Cl^-", chem.NoPhase, -131.228},
		{"HC2H3O2", chem.Aqueous, -396.46}, // CH3COOH
		{"[Fe(CN)6]^3-", chem.NoPhase, 729.4},
		{"HOCl", chem.NoPhase, -79.9},
		{"B(OH)3", chem.Aqueous, -968.75}, // H3BO3
		{"H3O^+", chem.NoPhase, -237.129}, // H^+ and water
		{"Fe^2+", chem.Solid, math.NaN()},
		{"XeBr9", chem.NoPhase, math.NaN()},
	} {
		f := reference.Formations().Find(species(t, c.text).WithPhase(c.phase))
		if (f == nil) != math.IsNaN(c.g) || f != nil && f.G != c.g {
			t.Errorf("Find(%s%s) = %+v, want %v kJ/mol", c.text, c.phase, f, c.g)
		}
	}
	if got := len(reference.Formations().Phases(species(t, "Br2"))); got != 3 {
		t.Errorf("Br2 has %d phases, want gas, liquid and solution", got)
	}
	for _, f := range reference.Formations().Of(chem.Element(54)) { // xenon
		if f.Species.Atoms(54) == 0 {
			t.Errorf("Of(Xe) has %s", f.Species)
		}
	}
}

// Elements are known to G = H - TS only with the entropies of the elements, so
// the check is of differences: from one phase to another, and for the ions by
// the reaction that the couples write. Vaporization and dissolution close
// within 1.5 kJ/mol.
func TestPhasesCloseInEnthalpyAndEntropy(t *testing.T) {
	n := 0
	for _, f := range reference.Formations().All() {
		for _, o := range reference.Formations().Phases(f.Species) {
			if o.Row <= f.Row || f.H == nil || f.S == nil || o.H == nil || o.S == nil {
				continue
			}
			n++
			if gap := (o.G - f.G) - (*o.H - *f.H) + kelvin*(*o.S-*f.S)/1000; math.Abs(gap) > 1.5 {
				t.Errorf("%s from %s to %s: G - H + TS = %.2f kJ/mol", f.Species, f.Species.Phase(), o.Species.Phase(), gap)
			}
		}
	}
	if n < 30 {
		t.Errorf("%d pairs, want 30 at least", n)
	}
}

func TestOwnFormationsWin(t *testing.T) {
	own, err := reference.ReadFormations("mine.csv", "species,G_kJ_mol,S_J_mol_K,source\nFe^2+,-90.5,,my notes\nFeO4^2-(aq),-320,40,\n")
	if err != nil {
		t.Fatal(err)
	}
	base := reference.Formations()
	table := base.With(own)
	f := table.Find(species(t, "Fe^2+"))
	if f == nil || !f.Own || f.G != -90.5 || f.Source != "my notes" || f.Confidence != "own" || f.S != nil {
		t.Errorf("Find(Fe^2+) = %+v, want the user's row", f)
	}
	if f := base.Find(species(t, "Fe^2+")); f.Own {
		t.Errorf("With changed the table of the program")
	}
	if f := table.Find(species(t, "FeO4^2-")); f == nil || *f.S != 40 {
		t.Errorf("Find(FeO4^2-) = %+v", f)
	}
	if got, want := len(table.All()), len(base.All())+1; got != want {
		t.Errorf("%d rows, want %d", got, want)
	}
	if len(table.Of(chem.Element(26))) != len(base.Of(chem.Element(26)))+1 {
		t.Errorf("Of(Fe) does not have one row more")
	}
}
