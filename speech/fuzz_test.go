package speech

import (
	"strings"
	"testing"
	"unicode"

	"halves/chem"
	"halves/names"
)

// leftover returns a sign that is not to be said, 0 for none.
func leftover(s string) rune {
	for _, r := range s {
		if !unicode.IsLetter(r) && !strings.ContainsRune(" ,-.?!", r) {
			return r
		}
	}
	return 0
}

// FuzzProse: no sign is left that is no word, whatever is said.
func FuzzProse(f *testing.F) {
	for _, s := range []string{
		"the left has the charge +7, the right −2: add 5 e^- on the left", "Mn goes from VII to II; As 2 (not zero, but equal)",
		"from O and C together: 4b + 4 = 2f + g", "Na2S2O3 + 4 Cl2 -> x, 1.51 V, 5/2 O2, ×5, 10^15, \"Fe2⁺\" I", "99999999999999999999 H 1/0 −/2 ))((", "SO₄²⁻(aq).", "3+ -- +-5 1,2,3 ^ é",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if said := Prose(text, names.Choice{}); leftover(said) != 0 {
			t.Errorf("Prose(%q) = %q, with %q left", text, said, leftover(said))
		}
	})
}

// FuzzRuns: the same of runs at every level.
func FuzzRuns(f *testing.F) {
	f.Add("4", "a", " + 4", "b = 2/3, (x) · MnO4^2- -> 7")
	f.Add("MnO", "4", "-", " = ")
	f.Fuzz(func(t *testing.T, a, b, c, d string) {
		runs := []chem.Run{{Text: a}, {Text: b, Level: chem.Variable}, {Text: c, Level: chem.Subscript}, {Text: d, Level: chem.Superscript}, {Text: d}, {Text: a, Level: chem.Subscript}}
		if said := Runs(runs); leftover(said) != 0 {
			t.Errorf("Runs(%q, %q, %q, %q) = %q, with %q left", a, b, c, d, said, leftover(said))
		}
	})
}
