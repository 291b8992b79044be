package caution_test

import (
	"fmt"

	"halves/caution"
	"halves/chem"
	"halves/reference"
)

func ExampleFor() {
	r, err := chem.ReadEquation("Cu + 4 HNO3 -> Cu(NO3)2 + 2 NO2 + 2 H2O", reference.Species())
	if err != nil {
		fmt.Println(err)
		return
	}
	a := caution.For(r.All[0].Equation)
	fmt.Println("for paper only:", a.PaperOnly)
	for _, r := range a.Reasons {
		fmt.Println(r.How, r.What+":", r.Severity)
	}
	for _, g := range a.Gases {
		fmt.Println(g.Sentence, g.Advice)
	}
	fmt.Println(a.Deferral)
	// Output:
	// for paper only: false
	// HNO3 is nitric acid; Cu is a metal. brown nitrogen dioxide: toxic gas
	// NO2 (nitrogen dioxide) is a toxic gas and is a product. Only in a working fume cupboard and with a qualified person.
	// Local rules, the supplier's safety data sheet and a qualified person decide.
}
