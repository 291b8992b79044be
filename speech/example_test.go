package speech_test

import (
	"fmt"

	"halves/chem"
	"halves/names"
	"halves/speech"
)

func ExampleEquation() {
	r, err := chem.ReadEquation("2 MnO4^- + 5 H2C2O4 + 6 H^+ -> 2 Mn^2+ + 10 CO2 + 8 H2O", nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(speech.Equation(r.All[0].Equation, names.Choice{}))
	// Output:
	// two permanganate ions plus five oxalic acid plus six hydrogen ions give two manganese two ions plus ten carbon dioxide plus eight water
}

func ExampleSpell() {
	r, err := chem.ReadSpecies("Fe(CN)6^3-", nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	words := speech.Words(speech.Spell(r[0].Species))
	fmt.Println(words)
	tokens, err := speech.ParseTokens(words)
	if err != nil {
		fmt.Println(err)
		return
	}
	heard, err := speech.Unspell(tokens)
	fmt.Println(heard, err)
	// Output:
	// F-e open bracket C N close bracket times six, charge three minus
	// Fe(CN)6^3- <nil>
}

func ExampleProse() {
	fmt.Println(speech.Prose("the left has the charge +7, the right +2: add 5 e^- on the left", names.Choice{}))
	// Output:
	// the left has the charge plus seven, the right plus two, add five electrons on the left
}

func ExampleRuns() {
	fmt.Println(speech.Runs([]chem.Run{
		{Text: "4"}, {Text: "a", Level: chem.Variable}, {Text: " + 4"}, {Text: "b", Level: chem.Variable},
		{Text: " = 2"}, {Text: "e", Level: chem.Variable}, {Text: " + "}, {Text: "f", Level: chem.Variable},
	}))
	// Output:
	// four a plus four b equals two e plus f
}
