package reference_test

import (
	"fmt"

	"halves/chem"
	"halves/reference"
)

func ExampleSpeciesTable_Find() {
	r, _ := chem.ReadSpecies("Na2S2O3", nil)
	e := reference.Species().Find(r[0].Species)
	fmt.Println(e.Species, e.Phase)
	for _, ion := range e.Ions {
		fmt.Println(ion.Coefficient, ion.Species)
	}
	for _, s := range e.States {
		fmt.Println(s.Element, s.Sites[0].State.Signed())
	}
	// Output:
	// Na2S2O3 (s)
	// 2 Na^+
	// 1 S2O3^2-
	// Na +1
	// S +2
	// O -2
}

func ExampleSpecies() {
	// The table as a lexicon: of the readings of SO42- it knows one.
	r, err := chem.ReadSpecies("SO42-", reference.Species())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r[0].Species, r[0].Known)
	// Output: SO4^2- true
}

func ExampleCoupleTable_Holding() {
	// The couples in which permanganate is reduced in acid.
	permanganate, _ := chem.ReadSpecies("MnO4^-", nil)
	for _, c := range reference.Couples().Holding(permanganate[0].Species) {
		if c.Medium == "acidic" && c.Source != "derived" {
			fmt.Println(c.Half, c.Text, "V", c.Source)
		}
	}
	// Output:
	// MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O 1.507 V openstax-l
	// MnO4^- + 4 H^+ + 3 e^- -> MnO2 + 2 H2O 1.695 V skoog-t
}

func ExampleReadCouples() {
	// A handout of Tarn Hollow College prints other figures than the table.
	own, err := reference.ReadCouples("handout.csv", `half_reaction,volts,source
Fe^3+ + e^- -> Fe^2+,0.77,handout 7
Cu2+ + 2e- -> Cu,0.34,handout 7
`)
	if err != nil {
		fmt.Println(err)
		return
	}
	table := reference.Couples().With(own)
	iron, _ := chem.ReadSpecies("Fe^3+", nil)
	first := table.Holding(iron[0].Species)[0]
	fmt.Println(first.Half, first.Text, "V", first.Source)

	_, err = reference.ReadCouples("handout.csv", "half_reaction,volts\nZn -> Zn^2+ + 2 e^-,0.76\n")
	fmt.Println(err)
	// Output:
	// Fe^3+ + e^- -> Fe^2+ 0.77 V handout 7
	// handout.csv, row 2, column "half_reaction": "Zn -> Zn^2+ + 2 e^-" is an oxidation; turn it round and change the sign of the potential
}

func ExampleCoupleTable_Suspect() {
	s, _ := reference.Couples().Suspect("nis-s.ni-s.basic.alt")
	fmt.Println(s.Kind, s.Suggested, "V")
	fmt.Println(s.Judgement)
	// Output:
	// sign -0.857 V
	// The sign is wrong: Ksp in the same book (4e-20) gives -0.83.
}

func ExampleFormationTable_Find() {
	water, _ := chem.ReadSpecies("H2O", nil)
	f := reference.Formations().Find(water[0].Species)
	fmt.Println(f.Species, f.Species.Phase(), f.Text, "kJ/mol")
	// Output: H2O (l) -237.129 kJ/mol
}

func ExampleMolarMass() {
	permanganate, _ := chem.ReadSpecies("KMnO4", nil)
	mass, decimals, err := reference.MolarMass(permanganate[0].Species.Composition())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(mass.FloatString(decimals), "g/mol")
	// Output: 158.032 g/mol
}
