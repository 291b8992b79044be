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
