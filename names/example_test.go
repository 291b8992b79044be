package names_test

import (
	"fmt"

	"halves/chem"
	"halves/names"
)

func ExampleOf() {
	r, _ := chem.ReadSpecies("SO3^2-", nil)
	for style, word := range names.Styles {
		name, _ := names.Of(r[0].Species, names.Choice{Style: names.Style(style)})
		fmt.Printf("%s: %s\n", word, name)
	}
	name, _ := names.Of(r[0].Species, names.Choice{Sulph: true})
	fmt.Println(name)
	// Output:
	// common: sulfite ion
	// traditional: sulfite ion
	// stock: sulfate(IV) ion
	// systematic: trioxidosulfate(2-) ion
	// sulphite ion
}

func ExampleFind() {
	for _, name := range []string{"manganate(VII) ion", "ferric sulphate", "hydrogen", "Dinitrogen Tetroxide", "hexacyanoferrate(III)", "iron sulfate", "permangante"} {
		s, err := names.Find(name)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(name, "is", s)
	}
	// Output:
	// manganate(VII) ion is MnO4^-
	// ferric sulphate is Fe2(SO4)3
	// hydrogen is H2
	// Dinitrogen Tetroxide is N2O4
	// hexacyanoferrate(III) is Fe(CN)6^3-
	// "iron sulfate" does not say which ion of the metal is meant; write iron(II) or iron(III)
	// no species is called "permangante"; did you mean permanganate ion?
}

func ExampleTranslate() {
	for _, text := range []string{
		"permanganate ion + oxalic acid -> manganese(II) ion + carbon dioxide",
		"permanganate becomes manganese(II) while oxalic acid becomes carbon dioxide",
		"iron(II) is oxidized to iron(III) by Cr2O7^2-, which is reduced to Cr^3+",
	} {
		t, err := names.Translate(text)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(t.Text)
	}
	// Output:
	// MnO4^- + H2C2O4 -> Mn^2+ + CO2
	// MnO4^- -> Mn^2+ ; H2C2O4 -> CO2
	// Fe^2+ -> Fe^3+ ; Cr2O7^2- -> Cr^3+
}

func ExampleTranslation_Back() {
	t, _ := names.Translate("dichromate ion + Fe^2+ -> chromium(III) ion + Fe^3+")
	offset, width := t.Back(0, len("Cr2O7^2-"))
	fmt.Println(t.Typed[offset : offset+width])
	// Output: dichromate ion
}
