package balance_test

import (
	"fmt"

	"halves/balance"
	"halves/chem"
)

// OpenStax, Chemistry 2e, prints 2, 5, 6 -> 2, 10, 8 for this reaction.
func ExampleKernel() {
	// Columns: MnO4^-, H2C2O4, H^+, Mn^2+, CO2, H2O. Rows: Mn, O, C, H, charge.
	basis, err := balance.Kernel([][]int64{
		{1, 0, 0, 1, 0, 0},
		{4, 4, 0, 0, 2, 1},
		{0, 2, 0, 0, 1, 0},
		{0, 2, 1, 0, 0, 2},
		{-1, 0, 1, 2, 0, 0},
	}, 6)
	fmt.Println(basis, err)
	// Output: [[-2 -5 -6 2 10 8]] <nil>
}

func species(text string) *chem.Species {
	readings, err := chem.ReadSpecies(text, nil)
	if err != nil {
		panic(err)
	}
	return readings[0].Species
}

func ExampleSolve() {
	o, err := balance.Solve(balance.Problem{
		Left:  []*chem.Species{species("MnO4^-"), species("H2C2O4")},
		Right: []*chem.Species{species("Mn^2+"), species("CO2")},
		Free:  []*chem.Species{chem.Water, chem.Hydron},
	})
	fmt.Println(o.Answer, err)

	o, err = balance.Solve(balance.Problem{
		Left:  []*chem.Species{species("KClO3")},
		Right: []*chem.Species{species("KCl")},
	})
	fmt.Println(o.Answer, o.Cause.OneSided, err)
	// Output:
	// [-2 -5 2 10 8 -6] <nil>
	// [] [O] <nil>
}

func ExampleNewLedger() {
	readings, err := chem.ReadEquation("2 Fe^3+ + Sn^2+ -> 2 Fe^2+ + Sn^4+", nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	ledger, err := balance.NewLedger(readings.All[0].Equation)
	for _, e := range ledger {
		fmt.Println(e.Law, e.Left, e.Right)
	}
	fmt.Println(ledger.Closed(), err)
	// Output:
	// Fe 2 2
	// Sn 1 1
	// charge 8 8
	// true <nil>
}
