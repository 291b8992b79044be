package diagram_test

import (
	"fmt"

	"halves/chem"
	"halves/diagram"
	"halves/energetics"
)

func ExampleLatimerRow() {
	l := energetics.Latimer{Medium: "acidic"}
	l.Element, _ = chem.ElementBySymbol("Fe")
	for i, text := range []string{"Fe^3+", "Fe^2+", "Fe"} {
		r, err := chem.ReadSpecies(text, nil)
		if err != nil {
			fmt.Println(err)
			return
		}
		l.Stations = append(l.Stations, energetics.Station{Species: r[0].Species, State: chem.Whole([]int64{3, 2, 0}[i])})
	}
	l.Links = []energetics.Link{{From: 0, To: 1, Volts: 0.771}, {From: 1, To: 2, Volts: -0.44}} // from memory
	d := diagram.LatimerRow(l, diagram.Style{})
	fmt.Println(d.Title)
	fmt.Println(d.Description)
	fmt.Println(d.Picture.Width, "by", d.Picture.Height)
	// Output:
	// Latimer row of iron in acid, pH 0
	// 3 species of iron in acid, pH 0, from the highest oxidation state to the lowest: iron three ion (plus three), iron two ion (plus two) and iron (zero). Standard potentials: from iron three ion to iron two ion 0.771 volts; from iron two ion to iron minus 0.44 volts.
	// 331 by 134
}
