package chem_test

import (
	"errors"
	"fmt"
	"strings"

	"halves/chem"
	"halves/reference"
)

// Without a lexicon the characters alone decide; with one, known species come
// first.
func ExampleReadSpecies() {
	readings, err := chem.ReadSpecies("I3-", reference.Species())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range readings {
		fmt.Println(r.Species, r.Known)
	}
	// Output:
	// I3^- true
	// I^3- false
}

func ExampleReadEquation() {
	readings, err := chem.ReadEquation("MnO4- + H2C2O4 -> Mn2+ + CO2", reference.Species())
	if err != nil {
		fmt.Println(err)
		return
	}
	best := readings.All[0]
	fmt.Println(best.Equation)
	for _, a := range best.Assumptions {
		fmt.Println(chem.ReadsAs(a.Typed, a.Read))
	}
	// Output:
	// MnO4^- + H2C2O4 -> Mn^2+ + CO2
	// read Mn2+ as Mn^2+
}

func ExampleSyntaxError() {
	_, err := chem.ReadEquation("MnO4^- + H2C2O4 -> Mn^2+ + co2", reference.Species())
	var e *chem.SyntaxError
	if errors.As(err, &e) {
		fmt.Println(e)
		fmt.Println(e.Text)
		fmt.Println(strings.Repeat(" ", e.Column()-1) + strings.Repeat("^", e.Width))
		fmt.Println(e.Hint)
	}
	// Output:
	// column 28: no element has the symbol "co"
	// MnO4^- + H2C2O4 -> Mn^2+ + co2
	//                            ^^^
	// symbols start with a capital letter; did you mean CO2?
}

func ExampleUnicodeText() {
	readings, err := chem.ReadEquation("Cr2O7^2- + 14 H^+ + 6 e^- -> 2 Cr^3+ + 7 H2O", nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(chem.UnicodeText(readings.All[0].Equation.Runs(chem.Style{})))
	// Output: Cr₂O₇²⁻ + 14 H⁺ + 6 e⁻ ⟶ 2 Cr³⁺ + 7 H₂O
}

func ExampleEquation_Runs() {
	readings, err := chem.ReadEquation("Zn(s) + Cu^2+(aq) -> Zn^2+(aq) + Cu(s)", nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	e := readings.All[0].Equation
	fmt.Println(e)
	fmt.Println(chem.PlainText(e.Runs(chem.Style{Phases: true, Ones: true, Equals: true})))
	// Output:
	// Zn + Cu^2+ -> Zn^2+ + Cu
	// 1 Zn(s) + 1 Cu^2+(aq) = 1 Zn^2+(aq) + 1 Cu(s)
}

func ExampleRatio() {
	half := chem.NewRatio(1, 2)
	fmt.Println(half.Add(chem.Whole(2)), half.Neg().Signed(), half.Mul(chem.Whole(4)).IsWhole())
	// Output: 5/2 -1/2 true
}
